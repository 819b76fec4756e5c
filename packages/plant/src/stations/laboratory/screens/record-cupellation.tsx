import {
  CheckField,
  ChoiceField,
  type CommandInHand,
  FieldGroup,
  FieldRow,
  MainAct,
  ReadingField,
  SheetKept,
  TextField,
  useCommand,
  useDraft,
  useKeptSheet,
} from '../../../workbench/index.ts';
import {
  type ControlsDraft,
  controlsInput,
  firstControls,
} from '../controls/screens/controls-draft.ts';
import { RunControls } from '../controls/screens/run-controls.tsx';
import {
  firstMuffle,
  type MuffleDraft,
  MufflePart,
  muffleOf,
} from '../muffle/screens/muffle-part.tsx';
import { Cautions } from './cautions.tsx';
import {
  blanksToAssay,
  type CupellationDraft,
  cupellationInput,
  firstCupellation,
  newProof,
  newSample,
} from './cupellation-draft.ts';
import { InstrumentChoice, instrumentAtHand } from './instrument-choice.tsx';
import { readingRefusal } from './measure-blanks.tsx';
import { MeltFrame, type MeltWork } from './melt-frame.tsx';
import { determinationsLeft } from './next-act.ts';

interface Form {
  readonly draft: CupellationDraft;
  readonly change: (part: Partial<CupellationDraft>) => void;
  readonly record: CommandInHand;
  readonly onBalance: (instrument: string) => void;
}

/** Replaces one item of a list. */
const replaced = <Item,>(items: readonly Item[], index: number, part: Partial<Item>): Item[] =>
  items.map((item, at) => (at === index ? { ...item, ...part } : item));

function notYet(draft: CupellationDraft): string | undefined {
  if (draft.assayRun === '') return 'Name the run.';
  if (!draft.extractionConfirmed) return 'Confirm that the extraction runs.';
  const readings = [
    ...draft.proofs.flatMap(({ goldTaken, cornet }) => [goldTaken, cornet]),
    ...draft.samples.flatMap(({ sample, cornet }) => [sample, cornet]),
  ];
  const missing = readings.filter(({ text }) => text === '').length;
  if (missing === 0) return undefined;
  return `${missing} ${missing === 1 ? 'weighing is' : 'weighings are'} missing. What is typed here is kept.`;
}

/** A run of the muffle: everything is weighed in, fired, parted, and weighed out. */
export function RecordCupellation(work: MeltWork) {
  const { answer, instruments } = work;
  const { melt } = answer;
  const [hand, keep] = useDraft('laboratory assay balance', { balance: '' });
  const balance = instrumentAtHand(instruments, ['balance'], hand.balance);
  const [draft, change, clear, sheet] = useKeptSheet<CupellationDraft>(
    { command: 'record-cupellation', thing: `${melt} ${answer.runs.length}` },
    firstCupellation(answer, determinationsLeft(answer)),
  );
  const [controls, changeControls, clearControls, controlsSheet] = useKeptSheet<ControlsDraft>(
    { command: 'record-cupellation', thing: `${melt} ${answer.runs.length} controls` },
    firstControls(answer.governedBy),
  );
  const [muffle, changeMuffle, clearMuffle] = useKeptSheet<MuffleDraft>(
    { command: 'record-cupellation', thing: `${melt} ${answer.runs.length} muffle` },
    firstMuffle,
  );
  const labels = {
    proofs: draft.proofs.map(({ label }) => label),
    others: draft.samples.map(({ label }) => label),
  };
  const record = useCommand('record-cupellation', {
    onRecorded: (recorded, entries) => {
      clear();
      clearControls();
      clearMuffle();
      work.onRecorded(entries, String(recorded['voidReason'] ?? recorded['words'] ?? ''));
    },
  });
  const onBalance = (chosen: string) => keep({ balance: chosen });
  const form = { draft, change, record, onBalance };
  return (
    <MeltFrame
      {...work}
      title="Record a cupellation run"
      mainAct={
        <MainAct
          label="Record run"
          command={record}
          notYet={notYet(draft)}
          input={() => ({
            ...cupellationInput(draft, { melt, instrument: balance }),
            ...controlsInput(controls, 'cupellation'),
            muffle: muffleOf(muffle, labels),
          })}
        />
      }
    >
      <SheetKept sheet={sheet} />
      <Cautions cautions={answer.cautions} />
      <CheckField
        label="The extraction over furnace and parting acid is on"
        checked={draft.extractionConfirmed}
        onChange={(extractionConfirmed) => change({ extractionConfirmed })}
        refusal={record.refusalAt('extractionConfirmed')}
      />
      <RunHead {...form} />
      <InstrumentChoice
        label="Balance"
        instruments={instruments}
        kinds={['balance']}
        value={balance}
        onChange={onBalance}
        refusal={record.refusalAt('instrument')}
      />
      <WeighedIn {...form} cut={blanksToAssay(answer).cut} left={determinationsLeft(answer)} />
      <MufflePart draft={muffle} change={changeMuffle} run={labels} record={record} />
      <WeighedOut {...form} />
      <SheetKept sheet={controlsSheet} />
      <RunControls
        method="cupellation"
        metal={answer.metal}
        edition={answer.governedBy}
        draft={controls}
        change={changeControls}
        record={record}
      />
    </MeltFrame>
  );
}

function RunHead({ draft, change, record }: Form) {
  return (
    <FieldRow>
      <TextField
        label="Run"
        kind="code"
        value={draft.assayRun}
        onChange={(assayRun) => change({ assayRun })}
        hint="A name that no run has had."
        refusal={record.refusalAt('assayRun')}
      />
      <ChoiceField
        label="Proof correction"
        value={draft.correction}
        choices={[
          { value: 'absolute', label: 'absolute' },
          { value: 'proportional', label: 'proportional' },
        ]}
        onChange={(correction) => change({ correction })}
        refusal={record.refusalAt('correction')}
      />
      <TextField
        label="Standard uncertainty of the proof gold"
        kind="decimal"
        unit="‰"
        optional
        value={draft.proofGoldUncertainty}
        onChange={(proofGoldUncertainty) => change({ proofGoldUncertainty })}
        hint="From its certificate."
        refusal={record.refusalAt('proofGoldStandardUncertaintyPerMille')}
      />
    </FieldRow>
  );
}

const fewestProofs = 2;

function WeighedIn(props: Form & { readonly cut: readonly string[]; readonly left: number }) {
  const { draft, change, record, cut, left } = props;
  const { proofs, samples } = draft;
  const [firstCut] = cut;
  return (
    <FieldGroup title="Weighed in">
      <FieldRow>
        {proofs.map((proof, index) => (
          <ReadingField
            key={proof.label}
            label={`Gold taken, ${proof.label}`}
            value={proof.goldTaken}
            onChange={(goldTaken) => change({ proofs: replaced(proofs, index, { goldTaken }) })}
            onInstrument={props.onBalance}
            refusal={readingRefusal(record, `proofs.${index}.goldTaken`)}
          />
        ))}
      </FieldRow>
      <FieldRow>
        {samples.map((sample, index) => (
          <div key={sample.label} className="portion">
            <ReadingField
              label={`Portion, ${sample.label}`}
              value={sample.sample}
              onChange={(reading) =>
                change({ samples: replaced(samples, index, { sample: reading }) })
              }
              onInstrument={props.onBalance}
              refusal={readingRefusal(record, `samples.${index}.sample`)}
            />
            <ChoiceField
              label={`Blank of ${sample.label}`}
              value={sample.blank}
              choices={cut.map((blank) => ({ value: blank, label: blank }))}
              onChange={(blank) => change({ samples: replaced(samples, index, { blank }) })}
              refusal={record.refusalAt(`samples.${index}.blank`)}
            />
          </div>
        ))}
      </FieldRow>
      <RowCounts
        rows={[
          {
            name: 'proof',
            add: () => change({ proofs: [...proofs, newProof(proofs)] }),
            remove:
              proofs.length > fewestProofs
                ? () => change({ proofs: proofs.slice(0, -1) })
                : undefined,
          },
          {
            name: 'portion',
            add:
              samples.length < left && firstCut !== undefined
                ? () => change({ samples: [...samples, newSample(samples, firstCut)] })
                : undefined,
            remove:
              samples.length > 1 ? () => change({ samples: samples.slice(0, -1) }) : undefined,
          },
        ]}
      />
      {record.refusalAt('samples') ? (
        <p className="field-refusal">{record.refusalAt('samples')}</p>
      ) : null}
    </FieldGroup>
  );
}

function RowCounts(props: {
  readonly rows: readonly {
    readonly name: string;
    readonly add: (() => void) | undefined;
    readonly remove: (() => void) | undefined;
  }[];
}) {
  return (
    <p className="row-counts">
      {props.rows.map(({ name, add, remove }) => (
        <span key={name}>
          {add ? (
            <button type="button" className="link-button" onClick={add}>
              Add a {name}
            </button>
          ) : null}
          {remove ? (
            <button type="button" className="link-button" onClick={remove}>
              Take the last {name} away
            </button>
          ) : null}
        </span>
      ))}
    </p>
  );
}

/** The cornets come hours later, so that they stand together behind everything weighed in. */
function WeighedOut({ draft, change, record, onBalance }: Form) {
  const { proofs, samples } = draft;
  return (
    <FieldGroup title="Weighed out: the cornets">
      <FieldRow>
        {proofs.map((proof, index) => (
          <ReadingField
            key={proof.label}
            label={`Cornet, ${proof.label}`}
            value={proof.cornet}
            onChange={(cornet) => change({ proofs: replaced(proofs, index, { cornet }) })}
            onInstrument={onBalance}
            refusal={readingRefusal(record, `proofs.${index}.cornet`)}
          />
        ))}
      </FieldRow>
      <FieldRow>
        {samples.map((sample, index) => (
          <ReadingField
            key={sample.label}
            label={`Cornet, ${sample.label}`}
            value={sample.cornet}
            onChange={(cornet) => change({ samples: replaced(samples, index, { cornet }) })}
            onInstrument={onBalance}
            refusal={readingRefusal(record, `samples.${index}.cornet`)}
          />
        ))}
      </FieldRow>
    </FieldGroup>
  );
}
