import { useMemo, useState } from 'react';
import {
  CheckField,
  ChoiceField,
  type CommandInHand,
  decimalOf,
  Empty,
  FieldRow,
  LineageStrip,
  MainAct,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  ReadingFigure,
  type ScreenProps,
  Table,
  TextField,
  useCommand,
  useDraft,
  useGo,
  useQuestion,
} from '../../../../workbench/index.ts';
import {
  type ControlsDraft,
  controlsInput,
  firstControls,
} from '../../controls/screens/controls-draft.ts';
import { RunControls } from '../../controls/screens/run-controls.tsx';
import { Cautions } from '../../screens/cautions.tsx';
import { InstrumentChoice, instrumentAtHand } from '../../screens/instrument-choice.tsx';
import type { DeskAnswer, TrialAnswer } from '../../screens/trial-answer.ts';
import { readWorksheet, type WorksheetRead } from '../worksheet-readers.ts';
import { type ChosenTable, TableFileField } from './table-file-field.tsx';
import {
  type LineAside,
  LinesAside,
  TableProblems,
  withAside,
  withoutReason,
} from './table-problems.tsx';
import { TablesOf } from './tables-of.tsx';
import { useKeptTable } from './use-kept-table.ts';

/** Worksheets of a melt: handed out to be filled elsewhere, and taken back. */
export function WorksheetPage({ params }: ScreenProps) {
  const melt = params['melt'] ?? '';
  const trial = useQuestion<TrialAnswer | null>('melt-trial', { melt });
  const desk = useQuestion<DeskAnswer>('laboratory-desk');
  const title = `Worksheets of melt ${melt}`;
  if (trial.answer === null) {
    return (
      <Page title={title}>
        <Empty
          what="No sample of this melt has come to the laboratory."
          how={<PathLink to="/receiving">It is ordered and drawn at receiving.</PathLink>}
        />
      </Page>
    );
  }
  if (!trial.answer || !desk.answer) {
    return (
      <Page title={title}>
        <Pending problem={trial.problem ?? desk.problem} />
      </Page>
    );
  }
  return <Worksheets answer={trial.answer} desk={desk.answer} />;
}

interface RunDraft {
  readonly assayRun: string;
  readonly correction: 'absolute' | 'proportional';
  readonly proofGoldUncertainty: string;
  readonly extractionConfirmed: boolean;
}

const emptyRun: RunDraft = {
  assayRun: '',
  correction: 'absolute',
  proofGoldUncertainty: '',
  extractionConfirmed: false,
};

function useWorksheetInHand(melt: string) {
  const [chosen, choose] = useState<ChosenTable | undefined>(undefined);
  const [setAside, change] = useState<readonly LineAside[]>([]);
  const read = useMemo((): WorksheetRead | undefined => {
    if (!chosen) return undefined;
    if (chosen.read.outcome === 'problem') {
      return { worksheet: 'none', problems: [chosen.read.problem] };
    }
    return readWorksheet(chosen.read.sheets, melt, setAside);
  }, [chosen, melt, setAside]);
  return {
    chosen,
    choose: (file: ChosenTable) => {
      choose(file);
      change([]);
    },
    setAside,
    change,
    read,
  };
}

function Worksheets(props: { readonly answer: TrialAnswer; readonly desk: DeskAnswer }) {
  const { answer, desk } = props;
  const { melt } = answer;
  const go = useGo();
  const hand = useWorksheetInHand(melt);
  const { read, setAside } = hand;
  const [run, changeRun, clearRun] = useDraft<RunDraft>(`worksheet run ${melt}`, emptyRun);
  const [chosen, choose] = useDraft('worksheet instruments', { balance: '', micrometer: '' });
  const balance = instrumentAtHand(desk.instruments, ['balance'], chosen.balance);
  const gauges = ['micrometer', 'gauge'];
  const micrometer = instrumentAtHand(desk.instruments, gauges, chosen.micrometer);
  const isRead = read !== undefined && read.worksheet !== 'none';
  const { kept, problem } = useKeptTable(
    hand.chosen,
    isRead && withoutReason(setAside).length === 0,
  );
  const [controls, changeControls, clearControls] = useDraft<ControlsDraft>(
    `worksheet controls ${melt} ${answer.runs.length}`,
    firstControls(answer.governedBy),
  );
  const onRecorded = () => {
    clearRun();
    clearControls();
    go(pathTo('/laboratory/melts/$melt', { melt }));
  };
  const blanks = useCommand('take-blank-sheet', { onRecorded });
  const cupellation = useCommand('take-cupellation-sheet', { onRecorded });
  const isRun = read?.worksheet === 'cupellation';
  const command = isRun ? cupellation : blanks;
  const work = () => {
    if (read?.worksheet === 'blanks') {
      return { melt, balance, micrometer, measurements: read.measurements };
    }
    if (read?.worksheet !== 'cupellation') return null;
    const uncertainty = decimalOf(run.proofGoldUncertainty);
    return {
      assayRun: run.assayRun,
      melt,
      correction: run.correction,
      proofs: read.proofs,
      samples: read.samples,
      ...(uncertainty === null ? {} : { proofGoldStandardUncertaintyPerMille: uncertainty }),
      instrument: balance,
      extractionConfirmed: run.extractionConfirmed,
      ...controlsInput(controls, 'cupellation'),
    };
  };
  const notYet = whyNotYet({ read, setAside, run, isKept: kept !== undefined, problem });
  return (
    <Page
      title={`Worksheets of melt ${melt}`}
      about="Handed out to be filled elsewhere, and taken back as a whole or not at all"
      known={
        <>
          <PathLink to={pathTo('/laboratory/melts/$melt', { melt })}>Melt {melt}</PathLink>
          <LineageStrip thing="melt" id={melt} />
        </>
      }
      act={
        <MainAct
          label={isRun ? 'Record run' : 'Record measurements'}
          command={command}
          notYet={notYet}
          input={() => ({
            file: kept,
            rows: isRead ? read.rows : [],
            setAside,
            work: work(),
          })}
        />
      }
    >
      <HandedOut answer={answer} />
      <Part title="Taken back">
        <TableFileField
          label="Filled worksheet (CSV or XLSX)"
          hint="Choose it or drop it here; headings and rows may stand in any order."
          chosen={hand.chosen}
          onFile={hand.choose}
        />
        <ReadBack hand={hand} />
      </Part>
      {isRead ? (
        <FieldRow>
          <InstrumentChoice
            label="Balance"
            instruments={desk.instruments}
            kinds={['balance']}
            value={balance}
            onChange={(one) => choose({ balance: one })}
            refusal={command.refusalAt(isRun ? 'work.instrument' : 'work.balance')}
          />
          {isRun ? null : (
            <InstrumentChoice
              label="Micrometer or gauge"
              instruments={desk.instruments}
              kinds={gauges}
              value={micrometer}
              onChange={(one) => choose({ micrometer: one })}
              refusal={command.refusalAt('work.micrometer')}
            />
          )}
        </FieldRow>
      ) : null}
      {isRun ? (
        <>
          <RunFields answer={answer} run={run} change={changeRun} command={cupellation} />
          <RunControls
            method="cupellation"
            metal={answer.metal}
            edition={answer.governedBy}
            draft={controls}
            change={changeControls}
            record={{ ...cupellation, refusalAt: (at) => cupellation.refusalAt(`work.${at}`) }}
          />
        </>
      ) : null}
    </Page>
  );
}

function whyNotYet(of: {
  readonly read: WorksheetRead | undefined;
  readonly setAside: readonly LineAside[];
  readonly run: RunDraft;
  readonly isKept: boolean;
  readonly problem: string;
}): string | undefined {
  const { read, setAside, run } = of;
  if (!read) return 'Choose the worksheet that was filled.';
  const lines = withoutReason(setAside);
  if (lines.length > 0) return `Say why line ${lines.join(', ')} is set aside.`;
  if (read.worksheet === 'none') return 'Every row must be right or set aside.';
  if (read.worksheet === 'cupellation' && run.assayRun === '') return 'Name the run.';
  if (of.isKept) return undefined;
  return of.problem === '' ? 'The file is being kept …' : `The file is not kept: ${of.problem}`;
}

function HandedOut({ answer }: { readonly answer: TrialAnswer }) {
  const { melt } = answer;
  return (
    <Part title="Handed out">
      <TablesOf paper="blank-sheet" id={melt} title="Blanks still to be measured" />
      {answer.method === 'cupellation' ? (
        <TablesOf paper="cupellation-sheet" id={melt} title="Weighings of a cupellation run" />
      ) : null}
      {answer.determinations.length > 0 ? (
        <TablesOf paper="melt-determinations" id={melt} title="Determinations and verdict" />
      ) : null}
    </Part>
  );
}

function ReadBack({ hand }: { readonly hand: ReturnType<typeof useWorksheetInHand> }) {
  const { read, setAside, change } = hand;
  return (
    <>
      {read?.worksheet === 'none' ? (
        <TableProblems
          problems={read.problems}
          onSetAside={(line) => change(withAside(setAside, line))}
        />
      ) : null}
      <LinesAside setAside={setAside} change={change} />
      {read?.worksheet === 'blanks' ? <Measurements rows={read.measurements} /> : null}
      {read?.worksheet === 'cupellation' ? <Weighings read={read} /> : null}
      {read && read.worksheet !== 'none' && read.leftOut.length > 0 ? (
        <p className="faint">
          Lines that are not taken:{' '}
          {read.leftOut.map(({ line, words }) => `${line} (${words})`).join(', ')}.
        </p>
      ) : null}
    </>
  );
}

type Blanks = Extract<WorksheetRead, { worksheet: 'blanks' }>['measurements'];

function Measurements({ rows }: { readonly rows: Blanks }) {
  return (
    <Table
      caption="The measurements as they will be recorded"
      rows={rows}
      keyOf={(row) => row.blank}
      columns={[
        { key: 'blank', title: 'Blank', value: (row) => row.blank },
        ...(['mass', 'diameter', 'thickness'] as const).map((measure) => ({
          key: measure,
          title: measure,
          value: (row: Blanks[number]) => Number(row[measure].text),
          cell: (row: Blanks[number]) => <ReadingFigure reading={row[measure]} />,
          isNumber: true,
        })),
      ]}
    />
  );
}

function Weighings({ read }: { readonly read: Extract<WorksheetRead, { proofs: unknown }> }) {
  const rows = [
    ...read.proofs.map(({ label, goldTaken, cornet }) => ({
      label: `proof ${label}`,
      blank: '',
      taken: goldTaken,
      cornet,
    })),
    ...read.samples.map(({ label, blank, sample, cornet }) => ({
      label: `portion ${label}`,
      blank,
      taken: sample,
      cornet,
    })),
  ];
  type Row = (typeof rows)[number];
  return (
    <Table
      caption="The weighings as they will be recorded"
      rows={rows}
      keyOf={(row) => row.label}
      columns={[
        { key: 'label', title: 'What', value: (row) => row.label },
        { key: 'blank', title: 'Blank', value: (row) => row.blank },
        ...(['taken', 'cornet'] as const).map((measure) => ({
          key: measure,
          title: measure,
          value: (row: Row) => Number(row[measure].text),
          cell: (row: Row) => <ReadingFigure reading={row[measure]} />,
          isNumber: true,
        })),
      ]}
    />
  );
}

function RunFields(props: {
  readonly answer: TrialAnswer;
  readonly run: RunDraft;
  readonly change: (part: Partial<RunDraft>) => void;
  readonly command: CommandInHand;
}) {
  const { answer, run, change, command } = props;
  return (
    <Part title="The run">
      <Cautions cautions={answer.cautions} />
      <FieldRow>
        <TextField
          label="Run"
          kind="code"
          value={run.assayRun}
          onChange={(assayRun) => change({ assayRun })}
          hint="A name that no run has had."
          refusal={command.refusalAt('work.assayRun')}
        />
        <TextField
          label="Standard uncertainty of the proof gold"
          kind="decimal"
          unit="‰"
          optional
          value={run.proofGoldUncertainty}
          onChange={(proofGoldUncertainty) => change({ proofGoldUncertainty })}
          refusal={command.refusalAt('work.proofGoldStandardUncertaintyPerMille')}
        />
      </FieldRow>
      <ChoiceField
        label="Proof correction"
        value={run.correction}
        choices={[
          { value: 'absolute', label: 'absolute' },
          { value: 'proportional', label: 'proportional' },
        ]}
        onChange={(correction) => change({ correction })}
      />
      <CheckField
        label="The extraction over furnace and parting acid ran"
        checked={run.extractionConfirmed}
        onChange={(extractionConfirmed) => change({ extractionConfirmed })}
      />
    </Part>
  );
}
