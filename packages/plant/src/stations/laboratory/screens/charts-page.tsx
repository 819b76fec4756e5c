import {
  Empty,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printAge,
  printNumber,
  State,
  Table,
  useQuestion,
} from '../../../workbench/index.ts';
import type { ChartLine } from './chart-answer.ts';

/** The control charts of the laboratory: what is watched, and which of them signals. */
export function ChartsPage() {
  const { answer, problem } = useQuestion<readonly ChartLine[]>('control-charts');
  return (
    <Page
      title="Control charts"
      about="What the runs themselves say of furnace, acid, proof gold and hands"
      known={<NotYetWatched />}
    >
      {answer ? <Charts lines={answer} /> : <Pending problem={problem} />}
    </Page>
  );
}

/** What a laboratory would watch beside these, and what is missing for it. */
function NotYetWatched() {
  return (
    <div>
      <h3>Not watched yet</h3>
      <p className="faint">
        Reference materials of the difference method, titrant and blank: no run records them, so
        that no chart of them can be drawn.
      </p>
    </div>
  );
}

function Charts({ lines }: { readonly lines: readonly ChartLine[] }) {
  if (lines.length === 0) {
    return (
      <Empty
        what="Here stand the charts of proof corrections, surcharges and duplicates."
        how={
          <>
            A chart begins with the first run of a{' '}
            <PathLink to="/laboratory">melt on trial</PathLink>.
          </>
        }
      />
    );
  }
  return (
    <Part title="Charts">
      <Table
        caption="Control charts"
        rows={lines}
        keyOf={(row) => row.chart}
        isMarked={(row) => row.openSignals.length > 0}
        columns={[
          {
            key: 'chart',
            title: 'Chart',
            value: (row) => row.title,
            cell: (row) => (
              <PathLink to={pathTo('/laboratory/charts/$chart', { chart: row.chart })}>
                {row.title}
              </PathLink>
            ),
          },
          { key: 'standard', title: 'Blanks for', value: (row) => row.pieceStandard },
          { key: 'points', title: 'Points', value: (row) => row.points, decimals: 0 },
          {
            key: 'newest',
            title: 'Newest',
            unit: '‰',
            value: (row) => row.newestValue ?? undefined,
            decimals: 3,
          },
          {
            key: 'centre',
            title: 'Centre line',
            unit: '‰',
            value: (row) => row.limits?.centreLine,
            decimals: 3,
          },
          {
            key: 'state',
            title: 'State',
            value: (row) => row.openSignals.length,
            cell: (row) => <ChartState line={row} />,
          },
          {
            key: 'since',
            title: 'Newest run',
            value: (row) => row.newestInstant,
            cell: (row) => <span className="nowrap">{printAge(row.newestInstant)}</span>,
          },
        ]}
      />
    </Part>
  );
}

function ChartState({ line }: { readonly line: ChartLine }) {
  const { limits, openSignals } = line;
  const rules = [...new Set(openSignals)];
  return (
    <>
      {rules.length > 0 ? <State word={rules.join(', ')} tone="look" /> : 'no signal'}
      {limits === null ? <p className="faint">no limits yet</p> : null}
      {limits?.isProvisional ? (
        <p className="faint">limits provisional, from {printNumber(limits.points)} points</p>
      ) : null}
    </>
  );
}
