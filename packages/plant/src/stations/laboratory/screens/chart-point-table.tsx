import {
  Part,
  PathLink,
  pathTo,
  printInstant,
  printNumber,
  State,
  Table,
  ThingLink,
} from '../../../workbench/index.ts';
import type { ChartPointRow } from '../chart-books.ts';
import type { ChartAnswer } from './chart-answer.ts';

function PointState({ point }: { readonly point: ChartPointRow }) {
  if (point.state === 'counts') return 'counts';
  return (
    <>
      <State word={point.state} tone={point.state === 'void' ? 'look' : 'plain'} />{' '}
      <span className="faint">{point.why}</span>
    </>
  );
}

/** The points of a chart, newest first, each with the run that gave it. */
export function ChartPointTable({ answer }: { readonly answer: ChartAnswer }) {
  const { shown, open, points } = answer;
  const named = new Set(open.flatMap((signal) => signal.points));
  const first = shown[0]?.number ?? 1;
  return (
    <Part title="Points and their runs">
      {first > 1 ? (
        <p className="faint">
          Points {printNumber(first)} to {printNumber(points)} of {printNumber(points)}.
        </p>
      ) : null}
      <Table
        caption="Points, newest first"
        rows={shown.toReversed()}
        keyOf={(row) => String(row.number)}
        isMarked={(row) => named.has(row.number)}
        columns={[
          { key: 'number', title: 'Point', value: (row) => row.number, decimals: 0 },
          {
            key: 'value',
            title: 'Value',
            unit: answer.unit,
            value: (row) => row.value,
            decimals: 4,
          },
          {
            key: 'run',
            title: 'Run',
            value: (row) => row.assayRun,
            cell: (row) => <ThingLink thing="assay-run" id={row.assayRun} />,
          },
          {
            key: 'melt',
            title: 'Melt',
            value: (row) => row.melt,
            cell: (row) =>
              row.melt === '' ? (
                ''
              ) : (
                <PathLink to={pathTo('/laboratory/melts/$melt', { melt: row.melt })}>
                  {row.melt}
                </PathLink>
              ),
          },
          { key: 'instrument', title: 'On', value: (row) => row.instrument },
          {
            key: 'when',
            title: 'Recorded',
            value: (row) => row.instant,
            cell: (row) => (
              <PathLink to={`/journal/${row.entry}`}>{printInstant(row.instant)}</PathLink>
            ),
          },
          {
            key: 'state',
            title: 'State',
            value: (row) => row.state,
            cell: (row) => <PointState point={row} />,
          },
        ]}
      />
    </Part>
  );
}
