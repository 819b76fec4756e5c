import {
  Empty,
  Part,
  PathLink,
  Pending,
  pathTo,
  printInstant,
  State,
  Table,
  useQuestion,
} from '../../../workbench/index.ts';
import type { ListedPeriod } from '../period-list.ts';
import { type PeriodsAnswer, stateTones } from './period-answer.ts';

const periodPath = (period: string): string => pathTo('/account/periods/$period', { period });

/** The days and months of the account, and what each of them waits for. */
export function PeriodsPart() {
  const { answer, problem } = useQuestion<PeriodsAnswer>('periods');
  return (
    <Part title="Days and months">
      {!answer ? (
        <Pending problem={problem} />
      ) : answer.periods.length === 0 ? (
        <Empty
          what="No day has a closed shift yet."
          how="A day appears here with the first shift that is closed in it."
        />
      ) : (
        <Periods rows={answer.periods} />
      )}
    </Part>
  );
}

function Periods({ rows }: { readonly rows: readonly ListedPeriod[] }) {
  return (
    <Table
      caption="Days and months, newest first"
      rows={rows}
      filter={rows.length > 12}
      keyOf={(row) => row.period}
      columns={[
        {
          key: 'period',
          title: 'Period',
          value: (row) => row.period,
          cell: (row) => (
            <span className="nowrap">
              <PathLink to={periodPath(row.period)}>{row.period}</PathLink>
            </span>
          ),
        },
        { key: 'length', title: 'Length', value: (row) => row.length },
        { key: 'shifts', title: 'Shifts', value: (row) => row.shifts.length, decimals: 0 },
        {
          key: 'last',
          title: 'Last close',
          value: (row) => row.lastClose,
          cell: (row) => printInstant(row.lastClose),
        },
        {
          key: 'state',
          title: 'State',
          value: (row) => row.state,
          cell: (row) => <State word={row.state} tone={stateTones[row.state]} />,
        },
      ]}
    />
  );
}
