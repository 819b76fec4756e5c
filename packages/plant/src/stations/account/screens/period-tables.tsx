import { Metal, printMicrograms, Table } from '../../../workbench/index.ts';
import type { PeriodDifference, PeriodLine } from '../bodies-periods.ts';
import { placeTitle } from './desk-answer.ts';

const kilograms = (micrograms: number): string => printMicrograms(micrograms, 'kg', 3);

const placeColumn = {
  key: 'place',
  title: 'Place',
  value: (row: { readonly place: string }) => placeTitle(row.place),
};

const standardColumn = {
  key: 'standard',
  title: 'Pieces of',
  value: (row: { readonly pieceStandard: string }) => row.pieceStandard,
  cell: (row: { readonly pieceStandard: string; readonly metal: string }) => (
    <span className="nowrap">
      {row.pieceStandard} <Metal metal={row.metal} />
    </span>
  ),
};

/** What lay at each place when the period began and ended, and what came and went. */
export function PeriodBalances({ lines }: { readonly lines: readonly PeriodLine[] }) {
  const pieces = (key: string, title: string, value: (row: PeriodLine) => number) => ({
    key,
    title,
    value,
    decimals: 0,
  });
  return (
    <Table
      caption="Balances of the period by the postings"
      rows={lines}
      filter={false}
      keyOf={(row) => `${row.place} ${row.pieceStandard}`}
      columns={[
        placeColumn,
        standardColumn,
        pieces('opening', 'Opening', (row) => row.piecesOpening),
        pieces('received', 'In', (row) => row.piecesReceived),
        pieces('sent', 'Out', (row) => row.piecesSent),
        pieces('closing', 'Closing', (row) => row.piecesClosing),
        {
          key: 'gross',
          title: 'Gross at the end',
          unit: 'kg',
          value: (row) => row.grossMicrogramsClosing,
          cell: (row) => kilograms(row.grossMicrogramsClosing),
          isNumber: true,
        },
        {
          key: 'fine',
          title: 'Fine at the end',
          unit: 'kg',
          value: (row) => row.fineMicrogramsClosing,
          cell: (row) => kilograms(row.fineMicrogramsClosing),
          isNumber: true,
        },
      ]}
    />
  );
}

/** Grams that the balances leave unexplained; above 0 is missing. */
const missingMicrograms = (row: PeriodDifference): number =>
  0 - (row.grossMicrogramsUnexplained ?? 0);

/** What the closes of the period found beside the book. */
export function PeriodDifferences({ rows }: { readonly rows: readonly PeriodDifference[] }) {
  return (
    <Table
      caption="Differences of the period"
      rows={rows}
      filter={false}
      keyOf={(row) => `${row.place} ${row.pieceStandard}`}
      columns={[
        placeColumn,
        standardColumn,
        { key: 'closes', title: 'Closes', value: (row) => row.closes, decimals: 0 },
        { key: 'weighed', title: 'Weighed', value: (row) => row.weighedCloses, decimals: 0 },
        {
          key: 'pieces',
          title: 'Pieces signed for',
          value: (row) => row.piecesSigned,
          decimals: 0,
        },
        {
          key: 'signed',
          title: 'Signed for',
          unit: 'g',
          value: (row) => row.grossMicrogramsSigned,
          cell: (row) => printMicrograms(row.grossMicrogramsSigned, 'g', 3),
          isNumber: true,
        },
        {
          // As on the shift page and its sheet; the statement itself counts what is missing below 0.
          key: 'missing',
          title: 'Missing',
          unit: 'g',
          value: (row) => missingMicrograms(row),
          cell: (row) =>
            row.grossMicrogramsUnexplained === null ? (
              <span className="faint">not weighed</span>
            ) : (
              printMicrograms(missingMicrograms(row), 'g', 3)
            ),
          isNumber: true,
        },
      ]}
    />
  );
}
