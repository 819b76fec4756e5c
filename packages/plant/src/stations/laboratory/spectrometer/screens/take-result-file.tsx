import { useMemo } from 'react';
import {
  ChoiceField,
  FieldRow,
  LineageStrip,
  MainAct,
  Page,
  PathLink,
  Pending,
  pathTo,
  type ScreenProps,
  SheetKept,
  TextField,
  useCommand,
  useDraft,
  useGo,
  useKeptSheet,
  useQuestion,
} from '../../../../workbench/index.ts';
import { TableFileField } from '../../exchange/screens/table-file-field.tsx';
import {
  LinesAside,
  TableProblems,
  withAside,
  withoutReason,
} from '../../exchange/screens/table-problems.tsx';
import type { KeptTable } from '../../exchange/screens/use-kept-table.ts';
import { Cautions } from '../../screens/cautions.tsx';
import { blanksToAssay } from '../../screens/cupellation-draft.ts';
import { InstrumentChoice, instrumentAtHand } from '../../screens/instrument-choice.tsx';
import type { DeskAnswer, TrialAnswer } from '../../screens/trial-answer.ts';
import { evaluateResults, type ResultsEvaluated, sampleLabels } from '../contents.ts';
import { type ResultsRead, readResults } from '../read-results.ts';
import type { ReadTable, ResultMethod } from '../result-bodies.ts';
import { AskedShown } from './asked-shown.tsx';
import {
  type Confirmed,
  emptyFileSheet,
  type FileInHand,
  type FileSheet,
  useFileInHand,
} from './file-in-hand.ts';
import { ResultColumns } from './result-columns.tsx';
import { asId, controlsOf, emptyDraft, type FileDraft, ofMaterial } from './result-file-draft.ts';
import { Controls, Figures, type Form, Solutions } from './result-file-parts.tsx';

/** A difference run from the file of a spectrometer. */
export function TakeResultFile({ params }: ScreenProps) {
  const melt = params['melt'] ?? '';
  const trial = useQuestion<TrialAnswer | null>('melt-trial', { melt });
  const desk = useQuestion<DeskAnswer>('laboratory-desk');
  const mappings = useQuestion<readonly Confirmed[]>('result-mappings');
  if (!trial.answer || !desk.answer || !mappings.answer) {
    return (
      <Page title={`Melt ${melt}`}>
        <Pending problem={trial.problem ?? desk.problem ?? mappings.problem} />
      </Page>
    );
  }
  return <TakeFile answer={trial.answer} desk={desk.answer} confirmed={mappings.answer} />;
}

/** Samples that bear the id of a cut blank, or its end, are proposed for it. */
function proposedBlanks(
  table: ReadTable,
  cut: readonly string[],
): Readonly<Record<string, string>> {
  const pairs = sampleLabels(table).flatMap((label) => {
    const blank = cut.find((one) => one === label || one.endsWith(`/${label}`));
    return blank === undefined ? [] : [[label, blank] as const];
  });
  return Object.fromEntries(pairs);
}

/** Which reference material each of those samples is said to be of. */
const materialsNamed = (
  draft: FileDraft,
  labels: readonly string[],
): Readonly<Record<string, string>> =>
  Object.fromEntries(
    labels.map((label) => [label, draft.materials[label]?.referenceMaterial.trim() ?? '']),
  );

interface Work {
  readonly answer: TrialAnswer;
  readonly desk: DeskAnswer;
  readonly confirmed: readonly Confirmed[];
}

function TakeFile({ answer, desk, confirmed }: Work) {
  const { melt } = answer;
  const go = useGo();
  const [hand, keepHand] = useDraft('laboratory spectrometer', { spectrometer: '' });
  const instrument = instrumentAtHand(desk.instruments, ['spectrometer'], hand.spectrometer);
  const [draft, change, clear, sheet] = useKeptSheet<FileDraft & FileSheet>(
    { command: 'record-result-file', thing: `${melt} ${answer.runs.length}` },
    { ...emptyDraft, ...emptyFileSheet },
  );
  const file = useFileInHand(
    confirmed.find((one) => one.instrument === instrument),
    draft,
    change,
  );
  const { sheets, mapping } = file;
  const read = useMemo(
    () => (sheets && mapping ? readResults(sheets, mapping, draft.setAside) : undefined),
    [sheets, mapping, draft.setAside],
  );
  const table = read?.outcome === 'read' ? read.table : undefined;
  const { cut } = blanksToAssay(answer);
  const blanks = table ? { ...proposedBlanks(table, cut), ...draft.blanks } : {};
  const taken = table ? sampleLabels(table).filter((label) => blanks[label]) : [];
  const chosen = taken.filter((label) => blanks[label] !== ofMaterial);
  const materials = taken.filter((label) => blanks[label] === ofMaterial);
  const evaluated = useEvaluated({ table, method: file.typed, answer, draft, chosen, materials });
  const { kept, problem } = file;
  const record = useCommand('record-result-file', {
    onRecorded: () => {
      const { assayRun } = draft;
      clear();
      go(pathTo('/laboratory/result-files/$run', { run: assayRun }));
    },
  });
  return (
    <Page
      title={`Result file of melt ${melt}`}
      about="The file is taken as a whole, or not at all"
      known={
        <>
          <PathLink to={pathTo('/laboratory/melts/$melt', { melt })}>Melt {melt}</PathLink>
          <LineageStrip thing="melt" id={melt} />
        </>
      }
      act={
        <MainAct
          label="Record run"
          command={record}
          notYet={whyNotYet({ draft, file, read, chosen, evaluated, kept, problem })}
          input={() => ({
            assayRun: draft.assayRun,
            melt,
            policy: draft.policy,
            instrument,
            file: kept,
            mapping,
            method: file.typed,
            table,
            setAside: draft.setAside,
            solutions: chosen.map((solution) => ({
              label: asId(solution),
              solution,
              blank: blanks[solution],
            })),
            ...controlsOf(draft, materials),
            reason: draft.reason.trim() === '' ? null : draft.reason,
          })}
        />
      }
    >
      <SheetKept sheet={sheet} />
      <Cautions cautions={answer.cautions} />
      <Head {...{ draft, change, record }} />
      <InstrumentChoice
        label="Spectrometer"
        instruments={desk.instruments}
        kinds={['spectrometer']}
        value={instrument}
        onChange={(spectrometer) => keepHand({ spectrometer })}
        refusal={record.refusalAt('instrument')}
      />
      <TableFileField
        label="File of the spectrometer (CSV or XLSX)"
        hint="Choose it or drop it here, as the instrument wrote it."
        chosen={file.chosen}
        onFile={(one) => {
          file.choose(one);
          change({ setAside: [], blanks: {}, materials: {}, reason: '' });
        }}
      />
      <FileShown file={file} instrument={instrument} />
      <ReadShown read={read} draft={draft} change={change} />
      {table ? (
        <>
          <Solutions
            {...{ table, cut, blanks, record }}
            change={(one) => change({ blanks: one })}
          />
          <Controls {...{ draft, change, record, materials }} />
          <AskedShown
            asks={answer.governedBy}
            table={table}
            materials={materialsNamed(draft, materials)}
          />
        </>
      ) : null}
      <Figures evaluated={evaluated} draft={draft} change={change} record={record} />
    </Page>
  );
}

function useEvaluated(of: {
  readonly table: ReadTable | undefined;
  readonly method: ResultMethod | undefined;
  readonly answer: TrialAnswer;
  readonly draft: FileDraft;
  readonly chosen: readonly string[];
  readonly materials: readonly string[];
}): ResultsEvaluated | undefined {
  const { table, answer, draft } = of;
  const { method: known, chosen, materials } = of;
  const asked = JSON.stringify({ method: known, solutions: chosen, references: materials });
  const { policy } = draft;
  const { metal } = answer;
  return useMemo(() => {
    const { method, solutions, references } = JSON.parse(asked) as {
      method?: ResultMethod;
      solutions: string[];
      references: string[];
    };
    if (!table || !method || solutions.length === 0) return undefined;
    return evaluateResults({ table, method, solutions, references, policy, metal });
  }, [table, asked, policy, metal]);
}

const unreadWords = (first: { readonly element: string; readonly accepted: string } | undefined) =>
  `The signals of ${first?.element} give no content; needed is ${first?.accepted}.`;

/** Why the run cannot be recorded yet. */
function whyNotYet(of: {
  readonly draft: FileDraft;
  readonly file: FileInHand;
  readonly read: ResultsRead | undefined;
  readonly chosen: readonly string[];
  readonly evaluated: ResultsEvaluated | undefined;
  readonly kept: KeptTable | undefined;
  readonly problem: string;
}): string | undefined {
  const { draft, file, read, chosen, evaluated } = of;
  if (!file.chosen) return 'Choose the file of the spectrometer.';
  if (!file.mapping) return 'Choose a file that holds a table of contents.';
  if (!file.isConfirmed) return 'Confirm what the file means.';
  const lines = withoutReason(draft.setAside);
  if (lines.length > 0) return `Say why line ${lines.join(', ')} is set aside.`;
  if (read?.outcome !== 'read') return 'Every row must be right or set aside.';
  if (draft.assayRun === '') return 'Name the run.';
  if (chosen.length === 0) return 'Choose the blanks of the solutions.';
  if (evaluated && 'missing' in evaluated) return `Needed is ${evaluated.missing[0]?.accepted}.`;
  if (evaluated && 'unread' in evaluated) return unreadWords(evaluated.unread[0]);
  if (of.kept) return undefined;
  return of.problem === '' ? 'The file is being kept …' : `The file is not kept: ${of.problem}`;
}

function Head({ draft, change, record }: Form) {
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

function FileShown(props: { readonly file: FileInHand; readonly instrument: string }) {
  const { file, instrument } = props;
  const { chosen, proposal, mapping } = file;
  if (!chosen) return null;
  if (chosen.read.outcome === 'problem') {
    const { value, accepted } = chosen.read.problem;
    return (
      <p role="alert">
        The file cannot be read: it has {value}; accepted is {accepted}.
      </p>
    );
  }
  if (!proposal || !mapping) {
    return (
      <p role="alert">
        No table of contents was found in it: elements as the names of columns, or one under the
        other. Choose another file, or enter the run by hand on the page of the melt.
      </p>
    );
  }
  return (
    <ResultColumns
      instrument={instrument}
      proposal={proposal}
      mapping={mapping}
      change={file.change}
      method={file.method}
      changeMethod={file.changeMethod}
      isConfirmed={file.isConfirmed}
    />
  );
}

function ReadShown(props: Omit<Form, 'record'> & { readonly read: ResultsRead | undefined }) {
  const { read, draft, change } = props;
  return (
    <>
      {read?.outcome === 'problems' ? (
        <TableProblems
          problems={read.problems}
          onSetAside={(line) => change({ setAside: withAside(draft.setAside, line) })}
        />
      ) : null}
      <LinesAside setAside={draft.setAside} change={(setAside) => change({ setAside })} />
      {read?.outcome === 'read' && read.leftOut.length > 0 ? (
        <p className="faint">
          Lines that are no measurement:{' '}
          {read.leftOut.map(({ line, words }) => `${line} (${words})`).join(', ')}.
        </p>
      ) : null}
    </>
  );
}
