import {
  CheckField,
  ChoiceField,
  emptyReading,
  FieldRow,
  MainAct,
  Part,
  type ReadingDraft,
  ReadingField,
  readingOf,
  SideAct,
  TextField,
  useCommand,
  useDraft,
} from '../../../workbench/index.ts';
import { Cautions } from './cautions.tsx';
import type { DeskInstrument, TrialAnswer } from './trial-answer.ts';

interface ProofDraft {
  readonly label: string;
  readonly goldTaken: ReadingDraft;
  readonly cornet: ReadingDraft;
}

interface SampleDraft {
  readonly label: string;
  readonly blank: string;
  readonly sample: ReadingDraft;
  readonly cornet: ReadingDraft;
}

interface RunDraft {
  readonly assayRun: string;
  readonly correction: 'absolute' | 'proportional';
  readonly instrument: string;
  readonly extractionConfirmed: boolean;
  readonly proofs: readonly ProofDraft[];
  readonly samples: readonly SampleDraft[];
}

const milligrams = emptyReading('mg');

function firstDraft(answer: TrialAnswer, instruments: readonly DeskInstrument[]): RunDraft {
  const cut = answer.blanks.filter((row) => row.cut).map(({ blank }) => blank);
  return {
    assayRun: '',
    correction: 'absolute',
    instrument: instruments.find(({ kind }) => kind === 'balance')?.instrument ?? '',
    extractionConfirmed: false,
    proofs: ['P1', 'P2'].map((label) => ({ label, goldTaken: milligrams, cornet: milligrams })),
    samples: cut.map((blank, index) => ({
      label: `A${index + 1}`,
      blank,
      sample: milligrams,
      cornet: milligrams,
    })),
  };
}

/** Replaces one item of a list. */
const replaced = <Item,>(items: readonly Item[], index: number, part: Partial<Item>): Item[] =>
  items.map((item, at) => (at === index ? { ...item, ...part } : item));

/** A run of the muffle: proofs and portions, weighed in and weighed out. */
export function CupellationForm(props: {
  readonly answer: TrialAnswer;
  readonly instruments: readonly DeskInstrument[];
  readonly isMain?: boolean;
}) {
  const { answer, instruments } = props;
  const [draft, change, clear] = useDraft<RunDraft>(
    `cupellation ${answer.melt} ${answer.runs.length}`,
    firstDraft(answer, instruments),
  );
  const record = useCommand('record-cupellation', { onRecorded: clear });
  const Act = props.isMain ? MainAct : SideAct;
  return (
    <Part title="Cupellation run">
      <Cautions cautions={answer.cautions} />
      <RunHead
        draft={draft}
        change={change}
        instruments={instruments}
        refusalAt={record.refusalAt}
      />
      <Proofs draft={draft} change={change} refusalAt={record.refusalAt} />
      <Samples draft={draft} change={change} refusalAt={record.refusalAt} />
      <CheckField
        label="The extraction of muffle and parting bench is running"
        checked={draft.extractionConfirmed}
        onChange={(extractionConfirmed) => change({ extractionConfirmed })}
        refusal={record.refusalAt('extractionConfirmed')}
      />
      <Act
        label="Record run"
        command={record}
        notYet={
          draft.assayRun === ''
            ? 'Name the run.'
            : draft.extractionConfirmed
              ? undefined
              : 'Confirm that the extraction runs.'
        }
        input={() => ({
          assayRun: draft.assayRun,
          melt: answer.melt,
          correction: draft.correction,
          instrument: draft.instrument,
          extractionConfirmed: draft.extractionConfirmed,
          proofs: draft.proofs.map(({ label, goldTaken, cornet }) => ({
            label,
            goldTaken: readingOf(goldTaken),
            cornet: readingOf(cornet),
          })),
          samples: draft.samples.map(({ label, blank, sample, cornet }) => ({
            label,
            blank,
            sample: readingOf(sample),
            cornet: readingOf(cornet),
          })),
        })}
      />
    </Part>
  );
}

interface PartProps {
  readonly draft: RunDraft;
  readonly change: (part: Partial<RunDraft>) => void;
  readonly refusalAt: (field: string) => string | undefined;
}

function RunHead(props: PartProps & { readonly instruments: readonly DeskInstrument[] }) {
  const { draft, change, refusalAt, instruments } = props;
  return (
    <>
      <FieldRow>
        <TextField
          label="Run"
          value={draft.assayRun}
          onChange={(assayRun) => change({ assayRun })}
          hint="A new name."
          refusal={refusalAt('assayRun')}
        />
        <ChoiceField
          label="Proof correction"
          value={draft.correction}
          choices={[
            { value: 'absolute', label: 'absolute' },
            { value: 'proportional', label: 'proportional' },
          ]}
          onChange={(correction) => change({ correction })}
        />
      </FieldRow>
      <ChoiceField
        label="Balance"
        value={draft.instrument}
        choices={instruments
          .filter(({ kind }) => kind === 'balance')
          .map(({ instrument, title }) => ({
            value: instrument,
            label: `${title} (${instrument})`,
          }))}
        onChange={(instrument) => change({ instrument })}
        refusal={refusalAt('instrument')}
      />
    </>
  );
}

function Proofs({ draft, change, refusalAt }: PartProps) {
  return (
    <>
      <h3>Proofs</h3>
      {draft.proofs.map((proof, index) => (
        <div className="part-row" key={proof.label}>
          <p>Proof {proof.label}</p>
          <FieldRow>
            <ReadingField
              label={`Gold taken, ${proof.label}`}
              value={proof.goldTaken}
              onChange={(goldTaken) =>
                change({ proofs: replaced(draft.proofs, index, { goldTaken }) })
              }
              refusal={
                refusalAt(`proofs.${index}.goldTaken`) ??
                refusalAt(`proofs.${index}.goldTaken.text`)
              }
            />
            <ReadingField
              label={`Cornet, ${proof.label}`}
              value={proof.cornet}
              onChange={(cornet) => change({ proofs: replaced(draft.proofs, index, { cornet }) })}
              refusal={
                refusalAt(`proofs.${index}.cornet`) ?? refusalAt(`proofs.${index}.cornet.text`)
              }
            />
          </FieldRow>
        </div>
      ))}
    </>
  );
}

function Samples({ draft, change, refusalAt }: PartProps) {
  return (
    <>
      <h3>Portions</h3>
      {draft.samples.map((sample, index) => (
        <div className="part-row" key={sample.label}>
          <p>
            Portion {sample.label} <span className="faint">of blank {sample.blank}</span>
          </p>
          <FieldRow>
            <ReadingField
              label={`Portion, ${sample.label}`}
              value={sample.sample}
              onChange={(one) =>
                change({ samples: replaced(draft.samples, index, { sample: one }) })
              }
              refusal={
                refusalAt(`samples.${index}.sample`) ?? refusalAt(`samples.${index}.sample.text`)
              }
            />
            <ReadingField
              label={`Cornet, ${sample.label}`}
              value={sample.cornet}
              onChange={(cornet) => change({ samples: replaced(draft.samples, index, { cornet }) })}
              refusal={
                refusalAt(`samples.${index}.cornet`) ?? refusalAt(`samples.${index}.cornet.text`)
              }
            />
          </FieldRow>
        </div>
      ))}
    </>
  );
}
