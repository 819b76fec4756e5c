import type { MetalBalanceInput, MetalBalanceOutput } from '@cupel/calculation';
import {
  LimitRule,
  Metal,
  Part,
  PathLink,
  pathTo,
  printMicrograms,
  printNumber,
  State,
  Table,
} from '../../../workbench/index.ts';
import type { ClosingLine, ClosingPlace } from '../bodies.ts';
import { gramSuspects, suspectWords } from '../suspects/gram-suspects.ts';
import { placeTitle } from './desk-answer.ts';
import { PiecesDifference } from './place-state.tsx';

/** The close of a shift as the question `shift` answers it. */
export interface ShownClosing {
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
  readonly witness: string;
  readonly firstEntry: number;
  readonly lastEntry: number;
  /** Nothing for those who count. */
  readonly places: readonly ClosingPlace[] | null;
}

interface SheetLine extends ClosingLine {
  readonly place: string;
}

const balanceOf = (line: ClosingLine): MetalBalanceOutput | undefined =>
  line.balance?.output as MetalBalanceOutput | undefined;

/** A line with nothing in book or tally says nothing. */
const isEmpty = (line: ClosingLine): boolean =>
  line.piecesBook === 0 && line.piecesTally === 0 && line.grossMicrogramsBook === 0;

/** What moved by estimate: told apart from what was weighed, and no part of it. */
const estimatedColumn = {
  key: 'estimated',
  title: 'Estimated',
  unit: 'g',
  isNumber: true,
  value: (row: SheetLine) => row.grossMicrogramsEstimated,
  cell: (row: SheetLine) =>
    row.grossMicrogramsEstimated === 0
      ? '–'
      : printMicrograms(row.grossMicrogramsEstimated, 'g', 3),
};

/** Book, tally and difference of every place at the close. */
export function ClosingBalance({ places }: { readonly places: readonly ClosingPlace[] }) {
  const lines: SheetLine[] = places
    .flatMap(({ place, lines: own }) => own.map((line) => ({ ...line, place })))
    .filter((line) => !isEmpty(line));
  const look = lines.filter((line) => (balanceOf(line)?.state ?? 'inside') !== 'inside');
  return (
    <Part title="Book, tally and difference">
      <Table
        caption="Balance of the shift"
        rows={lines}
        filter={false}
        keyOf={(row) => `${row.place} ${row.pieceStandard}`}
        columns={[
          {
            key: 'place',
            title: 'Place',
            value: (row) => placeTitle(row.place),
            cell: (row) => <span className="nowrap">{placeTitle(row.place)}</span>,
          },
          {
            key: 'standard',
            title: 'Pieces of',
            value: (row) => row.pieceStandard,
            cell: (row) => (
              <span className="nowrap">
                {row.pieceStandard} <Metal metal={row.metal} />
              </span>
            ),
          },
          { key: 'book', title: 'Book', value: (row) => row.piecesBook, decimals: 0 },
          { key: 'tally', title: 'Tally', value: (row) => row.piecesTally, decimals: 0 },
          {
            key: 'difference',
            title: 'Difference',
            value: (row) => row.piecesDifference,
            cell: (row) => <LineDifference line={row} />,
            isNumber: true,
          },
          {
            key: 'gross',
            title: 'Book',
            unit: 'g',
            value: (row) => row.grossMicrogramsBook,
            cell: (row) => printMicrograms(row.grossMicrogramsBook, 'g', 2),
            isNumber: true,
          },
          {
            key: 'grams',
            title: 'Missing',
            unit: 'g',
            isNumber: true,
            value: (row) => balanceOf(row)?.unexplainedGrossGrams,
            cell: (row) => <Grams line={row} />,
          },
          ...(lines.some((line) => line.grossMicrogramsEstimated > 0) ? [estimatedColumn] : []),
        ]}
      />
      {look.map((line) => (
        <p key={`${line.place} ${line.pieceStandard}`}>
          <State
            word={`${placeTitle(line.place)}, ${line.pieceStandard}`}
            tone={line.gramDifference ? 'stopped' : 'look'}
          />{' '}
          {lookWords(line)}{' '}
          {line.grossMicrogramsEstimated > 0
            ? `${printMicrograms(line.grossMicrogramsEstimated, 'g', 3)} g moved by estimate. `
            : null}
          {line.gramDifference ? <DifferenceLink difference={line.gramDifference} /> : null}
        </p>
      ))}
    </Part>
  );
}

/** How far the balances explain the grams of a line, and which of them to blame. */
function lookWords(line: ClosingLine): string {
  const output = balanceOf(line);
  if (!output) return '';
  const grams = output.unexplainedGrossGrams;
  const suspects = gramSuspects(line.balance?.input as unknown as MetalBalanceInput, output);
  return `${printNumber(Math.abs(grams), 3)} g ${grams < 0 ? 'too much' : 'missing'}. ${suspectWords(output, suspects)}`;
}

function DifferenceLink({ difference }: { readonly difference: string }) {
  return (
    <PathLink to={pathTo('/account/differences/$difference', { difference })}>
      Difference {difference}
    </PathLink>
  );
}

/** The missing grams; following them opens how they went close after close. */
function HistoryLink({ line, grams }: { readonly line: SheetLine; readonly grams: number }) {
  const { place, pieceStandard } = line;
  const to = pathTo('/account/history/$place/$standard', { place, standard: pieceStandard });
  return (
    <PathLink to={to}>
      {printNumber(grams, 3)}
      <span className="unseen"> g, history of {`${pieceStandard} in ${placeTitle(place)}`}</span>
    </PathLink>
  );
}

function LineDifference({ line }: { readonly line: ClosingLine }) {
  if (line.piecesSigned === 0) return <PiecesDifference pieces={line.piecesDifference} />;
  return (
    <>
      <PiecesDifference pieces={line.piecesDifference} />{' '}
      <span className="faint">{Math.abs(line.piecesSigned)} signed for</span>
    </>
  );
}

/** The unexplained grams against the limits at which they are looked at; positive is missing. */
function Grams({ line }: { readonly line: SheetLine }) {
  const balance = balanceOf(line);
  if (!balance) {
    const isWeighed = line.grossMicrogramsTally !== null;
    return <span className="faint">{isWeighed ? line.balanceMissing : 'not weighed'}</span>;
  }
  return (
    <span className="grams-on-rule">
      <LimitRule
        value={balance.unexplainedGrossGrams}
        lowerLimit={-balance.actLimitGrams}
        upperLimit={balance.actLimitGrams}
        guardBand={Math.max(0, balance.actLimitGrams - balance.warnLimitGrams)}
        unit="g"
        decimals={3}
        words=""
        size="row"
      />
      <HistoryLink line={line} grams={balance.unexplainedGrossGrams} />
    </span>
  );
}
