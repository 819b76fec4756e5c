import {
  Empty,
  Figure,
  Metal,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printAge,
  printInstant,
  State,
  Table,
  ThingLink,
  useQuestion,
} from '../../../workbench/index.ts';
import type { Instrument } from '../../registers/index.ts';
import type { PressRoomAnswer, RunShown } from './answers.ts';
import { instrumentsOfKind } from './instrument-choice.tsx';
import { nextWordsOf } from './next-act.ts';
import { RunStateShown } from './run-state.tsx';

const runPath = (run: string): string => pathTo('/press-room/runs/$run', { run });
const holdPath = (hold: string): string => pathTo('/press-room/holds/$hold', { hold });
const withMelt = (path: string, melt: string): string => `${path}?melt=${encodeURIComponent(melt)}`;

/** The desk of the press room: what is held, what is in the presses, what waits to be struck. */
export function PressRoomDesk() {
  const { answer, problem } = useQuestion<PressRoomAnswer>('press-room-desk');
  if (!answer) {
    return (
      <Page title="Press room">
        <Pending problem={problem} />
      </Page>
    );
  }
  return (
    <Page
      title="Press room"
      about="Blanks become pieces: one die pair, one press, one melt"
      known={<Instruments answer={answer} />}
    >
      {answer.holds.length > 0 ? <Holds answer={answer} /> : null}
      <Presses answer={answer} />
      <Melts answer={answer} />
      <ClosedRuns answer={answer} />
    </Page>
  );
}

function Instruments({ answer }: { readonly answer: PressRoomAnswer }) {
  const measuring = answer.instruments.filter(({ kind }) => kind !== 'press');
  return (
    <div>
      <h3>Instruments here</h3>
      {measuring.length === 0 ? (
        <p className="faint">None is registered in the press room.</p>
      ) : (
        <ul className="plain-list">
          {measuring.map(({ instrument, title, calibrationDue }) => (
            <li key={instrument}>
              <ThingLink thing="instrument" id={instrument} /> {title}
              <p className="faint">calibration due {calibrationDue}</p>
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

function Holds({ answer }: { readonly answer: PressRoomAnswer }) {
  return (
    <Part title="Held">
      <Table
        caption="Holds without a ruling"
        rows={answer.holds}
        keyOf={(row) => row.hold}
        columns={[
          {
            key: 'hold',
            title: 'Hold',
            value: (row) => row.hold,
            cell: (row) => <PathLink to={holdPath(row.hold)}>{row.hold}</PathLink>,
          },
          { key: 'pieces', title: 'Pieces', value: (row) => row.pieces, decimals: 0 },
          { key: 'words', title: 'Defect', value: (row) => row.words },
          { key: 'family', title: 'Of', value: (row) => row.family },
          { key: 'melt', title: 'Melt', value: (row) => row.melt },
          {
            key: 'since',
            title: 'Since',
            value: (row) => row.openedInstant,
            cell: (row) => <State word={printAge(row.openedInstant)} tone="stopped" />,
          },
        ]}
      />
    </Part>
  );
}

interface PressRow {
  readonly press: Instrument;
  readonly run: RunShown | undefined;
}

function Presses({ answer }: { readonly answer: PressRoomAnswer }) {
  const rows = instrumentsOfKind(answer.instruments, ['press']).map((press) => ({
    press,
    run: answer.runsOpen.find((run) => run.press === press.instrument),
  }));
  return (
    <Part title="Presses" aside={<PathLink to="/press-room/open-run">Open a run</PathLink>}>
      {rows.length === 0 ? (
        <Empty
          what="No press is registered in the press room."
          how="The chief assayer registers it among the instruments."
        />
      ) : (
        <PressTable rows={rows} answer={answer} />
      )}
    </Part>
  );
}

function PressTable(props: {
  readonly rows: readonly PressRow[];
  readonly answer: PressRoomAnswer;
}) {
  const held = new Set(props.answer.holds.flatMap((hold) => hold.held.map(({ run }) => run)));
  return (
    <Table
      caption="Presses and their open runs"
      rows={props.rows}
      keyOf={(row) => row.press.instrument}
      columns={[
        { key: 'press', title: 'Press', value: ({ press }) => press.title },
        {
          key: 'run',
          title: 'Run',
          value: ({ run }) => run?.run,
          cell: ({ run }) => (run ? <PathLink to={runPath(run.run)}>{run.run}</PathLink> : '–'),
        },
        {
          key: 'melt',
          title: 'Melt',
          value: ({ run }) => run?.melt,
          cell: ({ run }) => (run ? <ThingLink thing="melt" id={run.melt} /> : '–'),
        },
        {
          key: 'state',
          title: 'State',
          value: ({ run }) => run?.state,
          cell: ({ run }) => (run ? <RunStateShown state={run.state} /> : <State word="free" />),
        },
        {
          key: 'strike',
          title: 'Last strike',
          value: ({ run }) => run?.lastStrike,
          decimals: 0,
        },
        {
          key: 'next',
          title: 'Next',
          value: ({ run }) => (run ? nextWordsOf(run, held.has(run.run)) : 'open a run'),
          cell: ({ press, run }) =>
            run ? (
              <PathLink to={runPath(run.run)}>{nextWordsOf(run, held.has(run.run))}</PathLink>
            ) : (
              <PathLink to={`/press-room/open-run?press=${encodeURIComponent(press.instrument)}`}>
                open a run
              </PathLink>
            ),
        },
      ]}
    />
  );
}

function Melts({ answer }: { readonly answer: PressRoomAnswer }) {
  const act = <PathLink to="/press-room/take-blanks">Take blanks</PathLink>;
  return (
    <Part title="Melts to strike" aside={act}>
      {answer.melts.length === 0 ? (
        <Empty
          what="No melt waits to be struck."
          how="A melt comes here once the chief assayer has ruled its release or a concession."
        />
      ) : (
        <Table
          caption="Melts that may be struck"
          rows={answer.melts}
          keyOf={(row) => row.melt}
          columns={[
            {
              key: 'melt',
              title: 'Melt',
              value: (row) => row.melt,
              cell: (row) => <ThingLink thing="melt" id={row.melt} />,
            },
            {
              key: 'title',
              title: 'For',
              value: (row) => row.title,
              cell: (row) => (
                <>
                  {row.metal ? <Metal metal={row.metal} /> : null} {row.title}
                </>
              ),
            },
            {
              key: 'receiving',
              title: 'At receiving',
              unit: 'pieces',
              value: (row) => row.piecesAtReceiving,
              cell: (row) => <PiecesThere pieces={row.piecesAtReceiving} are={row.isAtReceiving} />,
              isNumber: true,
            },
            {
              key: 'here',
              title: 'Here',
              unit: 'pieces',
              value: (row) => row.piecesInPressRoom,
              cell: (row) => <PiecesThere pieces={row.piecesInPressRoom} are={row.isInPressRoom} />,
              isNumber: true,
            },
            {
              key: 'next',
              title: 'Next',
              value: (row) => row.ruling,
              cell: (row) => <MeltNext row={row} answer={answer} />,
            },
          ]}
        />
      )}
    </Part>
  );
}

/** How many pieces lie there; for those who count only whether some do. */
function PiecesThere({ pieces, are }: { readonly pieces: number | null; readonly are: boolean }) {
  if (pieces !== null) return <Figure value={pieces} />;
  return <span className="faint">{are ? 'some' : 'none'}</span>;
}

function MeltNext(props: {
  readonly row: PressRoomAnswer['melts'][number];
  readonly answer: PressRoomAnswer;
}) {
  const { row, answer } = props;
  const hold = answer.holds.find((one) => one.melt === row.melt && one.family === 'metal');
  if (hold) return <PathLink to={holdPath(hold.hold)}>held: wants a ruling</PathLink>;
  const run = answer.runsOpen.find((one) => one.melt === row.melt);
  if (run) return <PathLink to={runPath(run.run)}>in run {run.run}</PathLink>;
  if (row.isInPressRoom) {
    return <PathLink to={withMelt('/press-room/open-run', row.melt)}>open a run</PathLink>;
  }
  return <PathLink to={withMelt('/press-room/take-blanks', row.melt)}>take blanks</PathLink>;
}

function ClosedRuns({ answer }: { readonly answer: PressRoomAnswer }) {
  if (answer.runsClosed.length === 0) return null;
  return (
    <Part title="Runs closed last">
      <Table
        caption="Runs closed last"
        rows={answer.runsClosed}
        filter={false}
        keyOf={(row) => row.run}
        columns={[
          {
            key: 'run',
            title: 'Run',
            value: (row) => row.run,
            cell: (row) => <PathLink to={runPath(row.run)}>{row.run}</PathLink>,
          },
          {
            key: 'melt',
            title: 'Melt',
            value: (row) => row.melt,
            cell: (row) => <ThingLink thing="melt" id={row.melt} />,
          },
          { key: 'press', title: 'Press', value: (row) => row.press },
          {
            key: 'strokes',
            title: 'Strokes',
            value: (row) => (row.counterAfter ?? row.counterBefore) - row.counterBefore,
            decimals: 0,
          },
          { key: 'sent', title: 'Sent', value: (row) => row.piecesDelivered, decimals: 0 },
          { key: 'rejects', title: 'Rejects', value: (row) => row.piecesRejected, decimals: 0 },
          {
            key: 'left',
            title: 'May be sent',
            value: (row) => row.piecesDeliverable,
            decimals: 0,
          },
          {
            key: 'closed',
            title: 'Closed',
            value: (row) => row.closedInstant,
            cell: (row) => (row.closedInstant ? printInstant(row.closedInstant) : '–'),
          },
        ]}
      />
    </Part>
  );
}
