import { useRef } from 'react';
import {
  ChoiceField,
  type CommandInHand,
  FieldGroup,
  FieldRow,
  MainAct,
  PhotographField,
  printNumber,
  TextField,
  useCommand,
  useDraft,
} from '../../../workbench/index.ts';
import type { Face, Occasion } from '../bodies.ts';
import type { RunShown } from './answers.ts';
import { familyChoices, heldWords } from './defect-words.ts';
import { InstrumentChoice, instrumentAtHand } from './instrument-choice.tsx';
import { JudgedReading, limitsOfReading, type Measured } from './judged-reading.tsx';
import { RunFrame, type RunWork } from './run-frame.tsx';
import {
  emptyStrike,
  faces,
  type StrikeDraft,
  strikeInput,
  strikeNumberOf,
} from './strike-draft.ts';

const measures = ['mass', 'diameter', 'thickness'] as const satisfies readonly Measured[];
const labels = { mass: 'Mass', diameter: 'Diameter', thickness: 'Thickness' } as const;
const kindsOf = {
  mass: ['balance'],
  diameter: ['micrometer', 'gauge'],
  thickness: ['micrometer', 'gauge'],
} as const;

/** A struck piece is examined: counter, readings, photographs, verdict. */
export function RecordStrike(work: RunWork) {
  const { run } = work.answer;
  const [draft, change, clear] = useDraft(`record-strike ${run.run}`, emptyStrike);
  const [hand, keep] = useDraft('press-room strike instruments', {
    mass: '',
    diameter: '',
    thickness: '',
  });
  const record = useCommand('record-strike', {
    onRecorded: (_answer, entries) => {
      clear();
      work.onRecorded(entries);
    },
  });
  const occasions = occasionsOf(run);
  const occasion = occasions.find((one) => one === draft.occasion) ?? occasions[0];
  const at = (measured: Measured) =>
    instrumentAtHand(work.instruments, kindsOf[measured], hand[measured]);
  const instruments = { mass: at('mass'), diameter: at('diameter'), thickness: at('thickness') };
  const { counterBefore } = run;
  const form = { draft, change, record };
  return (
    <RunFrame
      {...work}
      title={occasion === 'first' ? 'Examine the first strike' : 'Examine a strike'}
      mainAct={
        <MainAct
          label="Record strike"
          command={record}
          input={() => strikeInput(draft, { run: run.run, counterBefore, occasion, instruments })}
          notYet={
            draft.verdict === '' ? 'Measure the piece, photograph it, and judge it.' : undefined
          }
        />
      }
    >
      <Which {...form} run={run} occasion={occasion} />
      <Readings
        {...form}
        limits={work.answer.limits}
        onInstrument={(measured, instrument) => keep({ [measured]: instrument })}
      />
      <Photographs {...form} lastStrike={run.lastStrike} />
      <Verdict {...form} run={run} />
      <FieldGroup title="Measured with">
        <FieldRow>
          {measures.map((measured) => (
            <InstrumentChoice
              key={measured}
              label={labels[measured]}
              instruments={work.instruments}
              kinds={kindsOf[measured]}
              value={instruments[measured]}
              onChange={(instrument) => keep({ [measured]: instrument })}
              refusal={record.refusalAt(`instruments.${measured}`)}
            />
          ))}
        </FieldRow>
      </FieldGroup>
    </RunFrame>
  );
}

/** The first strike stands alone: a roving or last one is approved only behind it. */
function occasionsOf(run: RunShown): readonly [Occasion, ...Occasion[]] {
  return run.firstApproved ? ['roving', 'last'] : ['first'];
}

const occasionLabels = { first: 'First', roving: 'Roving', last: 'Last' } as const;

interface Form {
  readonly draft: StrikeDraft;
  readonly change: (part: Partial<StrikeDraft>) => void;
  readonly record: CommandInHand;
}

function Which(props: Form & { readonly run: RunShown; readonly occasion: Occasion }) {
  const { draft, change, record, run } = props;
  const strike = strikeNumberOf(draft.counter, run.counterBefore);
  const before = `It showed ${printNumber(run.counterBefore)} when the run was opened`;
  return (
    <FieldRow>
      <TextField
        label="Counter of the press now"
        kind="whole number"
        unit="strokes"
        scans={false}
        value={draft.counter}
        onChange={(counter) => change({ counter })}
        hint={
          typeof strike === 'number'
            ? `${before}: strike ${printNumber(strike)} of the run.`
            : `${before}.`
        }
        refusal={record.refusalAt('strikeNumber') ?? record.refusalAt('run')}
      />
      <ChoiceField
        label="Occasion"
        value={props.occasion}
        choices={occasionsOf(run).map((one) => ({ value: one, label: occasionLabels[one] }))}
        onChange={(occasion) => change({ occasion })}
        refusal={record.refusalAt('occasion')}
      />
    </FieldRow>
  );
}

function Readings(
  props: Form & {
    readonly limits: RunWork['answer']['limits'];
    readonly onInstrument: (measured: Measured, instrument: string) => void;
  },
) {
  const { draft, change, record, limits } = props;
  if (!limits) return null;
  return measures.map((measured) => (
    <JudgedReading
      key={measured}
      label={labels[measured]}
      value={draft[measured]}
      onChange={(reading) => change({ [measured]: reading })}
      onInstrument={(instrument) => props.onInstrument(measured, instrument)}
      limits={limitsOfReading(limits, measured)}
      refusal={
        record.refusalAt(measured) ??
        record.refusalAt(`${measured}.text`) ??
        record.refusalAt(`${measured}.unit`)
      }
    />
  ));
}

const faceLabels = { obverse: 'Obverse', reverse: 'Reverse', edge: 'Edge' } as const;

function Photographs(props: Form & { readonly lastStrike: number }) {
  const { draft, change, record } = props;
  const refusal = record.refusalAt('photographs');
  // Several photographs may be on their way at once; each must build on those that came before it.
  const kept = useRef(draft.photographs);
  kept.current = draft.photographs;
  const keep = (face: Face, sha256: string) => {
    kept.current = { ...kept.current, [face]: sha256 };
    change({ photographs: kept.current });
  };
  return (
    <FieldGroup title="Photographs">
      <FieldRow>
        {faces.map((face) => (
          <PhotographField
            // A new strike starts with fields that name no file of the one before.
            key={`${face} ${props.lastStrike}`}
            label={faceLabels[face]}
            sha256={draft.photographs[face]}
            onChange={(sha256) => keep(face, sha256)}
          />
        ))}
      </FieldRow>
      {refusal ? <p className="field-refusal">{refusal}</p> : null}
    </FieldGroup>
  );
}

function Verdict(props: Form & { readonly run: RunShown }) {
  const { draft, change, record } = props;
  return (
    <>
      <ChoiceField
        label="Verdict"
        value={draft.verdict}
        choices={[
          { value: 'approved', label: 'Approved' },
          { value: 'fault', label: 'Fault' },
        ]}
        onChange={(verdict) => change({ verdict })}
        refusal={record.refusalAt('verdict') ?? record.refusalAt('defect')}
      />
      {draft.verdict === 'fault' ? (
        <>
          <ChoiceField
            label="Defect of"
            value={draft.family}
            choices={familyChoices}
            onChange={(family) => change({ family })}
            hint={draft.family === '' ? undefined : heldWords(draft.family, props.run)}
            refusal={record.refusalAt('defect.family')}
          />
          <TextField
            label="What you see"
            kind="long"
            value={draft.words}
            onChange={(words) => change({ words })}
            refusal={record.refusalAt('defect.words')}
          />
        </>
      ) : null}
    </>
  );
}
