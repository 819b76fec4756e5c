import {
  Empty,
  Figure,
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
      about="What the runs themselves say of furnace, acid, standards and hands"
    >
      {answer ? <Charts lines={answer} /> : <Pending problem={problem} />}
    </Page>
  );
}

function Charts({ lines }: { readonly lines: readonly ChartLine[] }) {
  if (lines.length === 0) {
    return (
      <Empty
        what="Here stand the charts of proofs, duplicates, reference materials, blanks and titrants."
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
            value: (row) => row.newestValue ?? undefined,
            cell: (row) => <Figure value={row.newestValue} decimals={3} unit={row.unit} />,
            isNumber: true,
          },
          {
            key: 'centre',
            title: 'Centre line',
            value: (row) => row.limits?.centreLine,
            cell: (row) => (
              <Figure value={row.limits?.centreLine ?? null} decimals={3} unit={row.unit} />
            ),
            isNumber: true,
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
