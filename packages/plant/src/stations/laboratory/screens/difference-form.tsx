import {
  ChoiceField,
  decimalOf,
  FieldRow,
  MainAct,
  Part,
  SideAct,
  TextField,
  useCommand,
  useDraft,
} from '../../../workbench/index.ts';
import { Cautions } from './cautions.tsx';
import type { DeskInstrument, TrialAnswer } from './trial-answer.ts';

interface SolutionDraft {
  readonly label: string;
  readonly blank: string;
  /** One element in a line: element, content or <, standard uncertainty, detection limit. */
  readonly table: string;
}

interface RunDraft {
  readonly assayRun: string;
  readonly policy: 'zero' | 'half' | 'limit';
  readonly instrument: string;
  readonly solutions: readonly SolutionDraft[];
}

function firstDraft(answer: TrialAnswer, instruments: readonly DeskInstrument[]): RunDraft {
  const cut = answer.blanks.filter((row) => row.cut).map(({ blank }) => blank);
  return {
    assayRun: '',
    policy: 'limit',
    instrument: instruments.find(({ kind }) => kind === 'spectrometer')?.instrument ?? '',
    solutions: cut.map((blank, index) => ({ label: `B${index + 1}`, blank, table: '' })),
  };
}

/** The elements of a solution as pasted from the spectrometer's list. */
export function impuritiesIn(table: string) {
  return table
    .split('\n')
    .map((line) => line.trim().split(/[\s;]+/))
    .filter(([element]) => element !== undefined && element !== '')
    .map(([element = '', content = '', uncertainty = '', limit = '']) => ({
      element,
      contentMilligramsPerKilogram: content.startsWith('<') ? null : decimalOf(content),
      standardUncertaintyMilligramsPerKilogram: decimalOf(uncertainty),
      detectionLimitMilligramsPerKilogram: decimalOf(limit),
    }));
}

/** A run of the spectrometer: impurities of one solution of each blank. */
export function DifferenceForm(props: {
  readonly answer: TrialAnswer;
  readonly instruments: readonly DeskInstrument[];
  readonly isMain?: boolean;
}) {
  const { answer, instruments } = props;
  const [draft, change, clear] = useDraft<RunDraft>(
    `difference ${answer.melt} ${answer.runs.length}`,
    firstDraft(answer, instruments),
  );
  const record = useCommand('record-difference', { onRecorded: clear });
  const Act = props.isMain ? MainAct : SideAct;
  const isFilled =
    draft.assayRun !== '' && draft.solutions.some(({ table }) => table.trim() !== '');
  return (
    <Part title="Difference run">
      <Cautions cautions={answer.cautions} />
      <FieldRow>
        <TextField
          label="Run"
          value={draft.assayRun}
          onChange={(assayRun) => change({ assayRun })}
          hint="A new name."
          refusal={record.refusalAt('assayRun')}
        />
        <ChoiceField
          label="Elements below their detection limit count as"
          value={draft.policy}
          choices={[
            { value: 'zero', label: 'zero' },
            { value: 'half', label: 'half the limit' },
            { value: 'limit', label: 'the limit' },
          ]}
          onChange={(policy) => change({ policy })}
        />
        <ChoiceField
          label="Spectrometer"
          value={draft.instrument}
          choices={instruments
            .filter(({ kind }) => kind === 'spectrometer')
            .map(({ instrument, title }) => ({
              value: instrument,
              label: `${title} (${instrument})`,
            }))}
          onChange={(instrument) => change({ instrument })}
          refusal={record.refusalAt('instrument')}
        />
      </FieldRow>
      {draft.solutions.map((solution, index) => (
        <TextField
          key={solution.label}
          label={`Solution ${solution.label} of blank ${solution.blank}`}
          kind="long"
          value={solution.table}
          onChange={(table) =>
            change({
              solutions: draft.solutions.map((one, at) => (at === index ? { ...one, table } : one)),
            })
          }
          hint="One element in a line: element, content, standard uncertainty, detection limit, all in mg/kg. Write < for an element that was not found."
          refusal={refusalOf(record.refusals, index)}
        />
      ))}
      <Act
        label="Record run"
        command={record}
        notYet={isFilled ? undefined : 'Name the run and paste the contents.'}
        input={() => ({
          assayRun: draft.assayRun,
          melt: answer.melt,
          policy: draft.policy,
          instrument: draft.instrument,
          solutions: draft.solutions
            .filter(({ table }) => table.trim() !== '')
            .map(({ label, blank, table }) => ({ label, blank, impurities: impuritiesIn(table) })),
        })}
      />
    </Part>
  );
}

/** The first refusal that blames a part of that solution. */
function refusalOf(
  refusals: readonly { readonly field?: string; readonly message: string }[],
  index: number,
): string | undefined {
  return refusals.find(({ field }) => field?.startsWith(`solutions.${index}`))?.message;
}
