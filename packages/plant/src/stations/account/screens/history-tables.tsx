import type { BalanceSeriesOutput } from '@cupel/calculation';
import { type Drawing, PathLink, pathTo, printNumber, Table } from '../../../workbench/index.ts';
import type { DriftRow } from '../books-periods.ts';

/** The series as the question `difference-history` answers it. */
export interface ShownSeries
  extends Pick<
    BalanceSeriesOutput,
    | 'periods'
    | 'decisionInterval'
    | 'inControlRunLengthPeriods'
    | 'shiftedRunLengthPeriods'
    | 'quadraticProbability'
    | 'steadyLossGrams'
    | 'steadyLossStandardUncertaintyGrams'
    | 'newest'
    | 'history'
    | 'words'
  > {
  readonly entries: readonly number[];
  readonly referenceValue: number;
  readonly signal: BalanceSeriesOutput['signals'][number] | null;
  readonly resolved: DriftRow | null;
  readonly drawings: readonly Drawing[];
}

interface LimitLine {
  readonly from: string;
  readonly centre: number;
  readonly deviation: number;
  readonly lower: number;
  readonly upper: number;
}

function limitLines({ periods, history }: ShownSeries): readonly LimitLine[] {
  const scale = periods.at(-1)?.residualStandardUncertaintyGrams ?? 0;
  const measured = {
    from: 'Measurement',
    centre: 0,
    deviation: scale,
    lower: -3 * scale,
    upper: 3 * scale,
  };
  if (!history) return [measured];
  return [
    measured,
    {
      from: `History, ${history.residuals} closes before the newest`,
      centre: history.mean * scale,
      deviation: history.standardDeviation * scale,
      lower: history.lowerLimit * scale,
      upper: history.upperLimit * scale,
    },
  ];
}

/** Limits that the balances' own uncertainties give, beside those that the past gives. */
export function Limits({ series }: { readonly series: ShownSeries }) {
  const column = (key: keyof LimitLine, title: string) => ({
    key,
    title,
    unit: 'g',
    value: (row: LimitLine) => row[key],
    decimals: 3,
  });
  return (
    <>
      <Table
        caption="Limits of what the newest close adds to the ones before, by measurement and by history"
        rows={limitLines(series)}
        filter={false}
        keyOf={(row) => row.from}
        columns={[
          { key: 'from', title: 'From', value: (row) => row.from },
          column('centre', 'Centre'),
          column('deviation', 'Standard deviation'),
          column('lower', 'Lower, 3 deviations'),
          column('upper', 'Upper, 3 deviations'),
        ]}
      />
      {series.history ? (
        <p className="faint">{historyWords(series.history)}</p>
      ) : (
        <p className="faint">Limits from history need eight closes before the newest.</p>
      )}
    </>
  );
}

function historyWords({ standardDeviation }: NonNullable<ShownSeries['history']>): string {
  const ratio = printNumber(standardDeviation, 2);
  if (standardDeviation > 1.5) {
    return `The past spreads ${ratio} times as much as the stated uncertainties say: an error is missing in them, or metal was.`;
  }
  if (standardDeviation < 0.67) {
    return `The past spreads only ${ratio} times as much as the stated uncertainties say: they are too large.`;
  }
  return `The past spreads ${ratio} times as much as the stated uncertainties say.`;
}

/** The newest difference split over its sources. */
export function Blame({ rows }: { readonly rows: ShownSeries['newest'] }) {
  return (
    <Table
      caption="What each source of error explains of the newest difference, if nothing was lost"
      rows={rows}
      filter={false}
      keyOf={(row) => row.source}
      columns={[
        { key: 'source', title: 'Source', value: (row) => row.source },
        {
          key: 'uncertainty',
          title: 'Standard uncertainty',
          unit: 'g',
          value: (row) => row.standardUncertaintyGrams,
          decimals: 3,
        },
        {
          key: 'share',
          title: 'Share',
          unit: '%',
          value: (row) => row.sharePercent,
          decimals: 0,
        },
        {
          key: 'alone',
          title: 'Part by this close alone',
          unit: 'g',
          value: (row) => row.expectedPartGrams,
          decimals: 3,
        },
        {
          key: 'series',
          title: 'Part by the whole series',
          unit: 'g',
          value: (row) => row.expectedPartOfSeriesGrams,
          decimals: 3,
        },
      ]}
    />
  );
}

/** Every balance of the series. */
export function Closes({ series }: { readonly series: ShownSeries }) {
  const rows = series.periods.map((period, index) => ({ ...period, number: index + 1 }));
  return (
    <Table
      caption="The balances of the series, newest first; positive is missing"
      rows={rows.toReversed()}
      keyOf={(row) => row.label}
      columns={[
        { key: 'number', title: 'Period', value: (row) => row.number, decimals: 0 },
        {
          key: 'shift',
          title: 'Shift',
          value: (row) => row.label,
          cell: (row) => (
            <span className="nowrap">
              <PathLink to={pathTo('/account/shifts/$shift', { shift: row.label })}>
                {row.label}
              </PathLink>
            </span>
          ),
        },
        {
          key: 'difference',
          title: 'Missing',
          unit: 'g',
          value: (row) => row.differenceGrams,
          decimals: 3,
        },
        {
          key: 'uncertainty',
          title: '±',
          unit: 'g',
          value: (row) => row.standardUncertaintyGrams,
          decimals: 3,
        },
        { key: 'residual', title: 'Residual', value: (row) => row.residual, decimals: 2 },
        { key: 'upper', title: 'Sum missing', value: (row) => row.upperSum, decimals: 2 },
        { key: 'lower', title: 'Sum too much', value: (row) => row.lowerSum, decimals: 2 },
        {
          key: 'cumulative',
          title: 'All together',
          unit: 'g',
          value: (row) => row.cumulativeDifferenceGrams,
          decimals: 3,
        },
      ]}
    />
  );
}
