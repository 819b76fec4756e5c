import {
  ChoiceField,
  type CommandInHand,
  FieldRow,
  MainAct,
  PathLink,
  pathTo,
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
import { Cautions } from './cautions.tsx';
import { blanksToAssay, freeLabel } from './cupellation-draft.ts';
import { emptyRow, type ImpurityRow, impurityOf, isBlankRow } from './impurity-rows.ts';
import { InstrumentChoice, instrumentAtHand } from './instrument-choice.tsx';
import { MeltFrame, type MeltWork } from './melt-frame.tsx';
import { determinationsLeft } from './next-act.ts';
import { SolutionTable } from './solution-table.tsx';

interface SolutionDraft {
  readonly label: string;
  readonly blank: string;
  readonly rows: readonly ImpurityRow[];
}

interface DifferenceDraft {
  readonly assayRun: string;
  readonly policy: 'zero' | 'half' | 'limit';
  readonly solutions: readonly SolutionDraft[];
}

interface Elements {
  /** Elements and detection limits of the run before: they are those of the method. */
  readonly elements: readonly Pick<ImpurityRow, 'element' | 'limit'>[];
}

const fewestRows = 4;

function startRows({ elements }: Elements): readonly ImpurityRow[] {
  if (elements.length > 0) return elements.map((one) => ({ ...emptyRow, ...one }));
  return Array.from({ length: fewestRows }, () => emptyRow);
}

function newSolution(
  solutions: readonly SolutionDraft[],
  blank: string,
  elements: Elements,
): SolutionDraft {
  return { label: freeLabel('B', solutions), blank, rows: startRows(elements) };
}

function firstDifference(work: MeltWork, elements: Elements): DifferenceDraft {
  const { suggested } = blanksToAssay(work.answer);
  const solutions: SolutionDraft[] = [];
  for (const blank of suggested.slice(0, determinationsLeft(work.answer))) {
    solutions.push(newSolution(solutions, blank, elements));
  }
  return { assayRun: '', policy: 'limit', solutions };
}

const rowsOf = ({ rows }: SolutionDraft): readonly ImpurityRow[] =>
  rows.filter((row) => !isBlankRow(row));

function notYet({ assayRun, solutions }: DifferenceDraft): string | undefined {
  if (assayRun === '') return 'Name the run.';
  const empty = solutions.filter((solution) =>
    rowsOf(solution).every(({ content }) => content.trim() === ''),
  );
  if (empty.length === 0) return undefined;
  return `Enter the contents of ${empty.map(({ label }) => label).join(', ')}.`;
}

/** A run of the spectrometer: the impurities of one solution of each blank. */
export function RecordDifference(work: MeltWork) {
  const { answer, instruments } = work;
  const { melt } = answer;
  const [elements, keepElements] = useDraft<Elements>('laboratory elements', { elements: [] });
  const [hand, keep] = useDraft('laboratory spectrometer', { spectrometer: '' });
  const spectrometer = instrumentAtHand(instruments, ['spectrometer'], hand.spectrometer);
  const [draft, change, clear, sheet] = useKeptSheet<DifferenceDraft>(
    { command: 'record-difference', thing: `${melt} ${answer.runs.length}` },
    firstDifference(work, elements),
  );
  const [controls, changeControls, clearControls, controlsSheet] = useKeptSheet<ControlsDraft>(
    { command: 'record-difference', thing: `${melt} ${answer.runs.length} controls` },
    firstControls(answer.governedBy, startRows(elements)),
  );
  const record = useCommand('record-difference', {
    onRecorded: (recorded, entries) => {
      const [first] = draft.solutions;
      if (first) {
        keepElements({ elements: rowsOf(first).map(({ element, limit }) => ({ element, limit })) });
      }
      clear();
      clearControls();
      const reason = recorded['voidReason'];
      work.onRecorded(entries, typeof reason === 'string' ? reason : undefined);
    },
  });
  const form = { draft, change, record };
  return (
    <MeltFrame
      {...work}
      title="Record a difference run"
      mainAct={
        <MainAct
          label="Record run"
          command={record}
          notYet={notYet(draft)}
          input={() => ({
            assayRun: draft.assayRun,
            melt,
            policy: draft.policy,
            solutions: draft.solutions.map((solution) => ({
              label: solution.label,
              blank: solution.blank,
              impurities: rowsOf(solution).map(impurityOf),
            })),
            instrument: spectrometer,
            ...controlsInput(controls, 'difference'),
          })}
        />
      }
    >
      <SheetKept sheet={sheet} />
      <Cautions cautions={answer.cautions} />
      <p>
        <PathLink to={pathTo('/laboratory/melts/$melt/result-file', { melt })}>
          Take the spectrometer’s file instead
        </PathLink>
      </p>
      <RunHead {...form} />
      <InstrumentChoice
        label="Spectrometer"
        instruments={instruments}
        kinds={['spectrometer']}
        value={spectrometer}
        onChange={(chosen) => keep({ spectrometer: chosen })}
        refusal={record.refusalAt('instrument')}
      />
      <Solutions {...form} work={work} elements={elements} />
      <SheetKept sheet={controlsSheet} />
      <RunControls
        method="difference"
        metal={answer.metal}
        edition={answer.governedBy}
        draft={controls}
        change={changeControls}
        record={record}
      />
    </MeltFrame>
  );
}

interface Form {
  readonly draft: DifferenceDraft;
  readonly change: (part: Partial<DifferenceDraft>) => void;
  readonly record: CommandInHand;
}

function RunHead({ draft, change, record }: Form) {
  return (
    <>
      <FieldRow>
        <TextField
          label="Run"
          kind="code"
          value={draft.assayRun}
          onChange={(assayRun) => change({ assayRun })}
          hint="A name that no run has had."
          refusal={record.refusalAt('assayRun')}
        />
      </FieldRow>
      <ChoiceField
        label="An element below its detection limit counts as"
        value={draft.policy}
        choices={[
          { value: 'zero', label: 'zero' },
          { value: 'half', label: 'half the limit' },
          { value: 'limit', label: 'the limit' },
        ]}
        onChange={(policy) => change({ policy })}
        refusal={record.refusalAt('policy')}
      />
    </>
  );
}

function Solutions(props: Form & { readonly work: MeltWork; readonly elements: Elements }) {
  const { draft, change, record, work, elements } = props;
  const { solutions } = draft;
  const { cut } = blanksToAssay(work.answer);
  const [firstCut] = cut;
  const set = (index: number, part: Partial<SolutionDraft>) =>
    change({ solutions: solutions.map((one, at) => (at === index ? { ...one, ...part } : one)) });
  const left = determinationsLeft(work.answer);
  return (
    <>
      {solutions.map((solution, index) => (
        <SolutionTable
          key={solution.label}
          solution={solution}
          cut={cut}
          onChange={(part) => set(index, part)}
          onRemove={
            solutions.length > 1
              ? () => change({ solutions: solutions.filter((_one, at) => at !== index) })
              : undefined
          }
          refusalAt={(field) => record.refusalAt(`solutions.${index}${field}`)}
        />
      ))}
      {solutions.length < left && firstCut !== undefined ? (
        <button
          type="button"
          className="quiet-button"
          onClick={() =>
            change({ solutions: [...solutions, newSolution(solutions, firstCut, elements)] })
          }
        >
          Add a solution
        </button>
      ) : null}
    </>
  );
}
