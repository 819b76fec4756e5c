import {
  Empty,
  Mass,
  Part,
  PathLink,
  Pending,
  pathTo,
  printAge,
  State,
  Table,
  useQuestion,
} from '../../../workbench/index.ts';
import type { DifferenceRow } from '../books.ts';
import { type DifferencesAnswer, differenceWords, placeTitle } from './desk-answer.ts';

/** A difference in words: pieces where there are some, else grams. */
export function DifferenceFigure({ row }: { readonly row: DifferenceRow }) {
  if (row.pieces !== 0) return <span className="nowrap">{differenceWords(row.pieces)}</span>;
  const size = Math.abs(row.grossMicrograms);
  return (
    <span className="nowrap">
      <Mass micrograms={size} decimals={3} /> {row.grossMicrograms < 0 ? 'missing' : 'too much'}
    </span>
  );
}

/** The state of a difference. */
export function DifferenceState({ row }: { readonly row: DifferenceRow }) {
  return row.state === 'open' ? (
    <State word="to be explained" tone="look" />
  ) : (
    <State word={row.state} tone="done" />
  );
}

/** Every difference that was signed or stood out, what waits for its explanation first. */
export function DifferencesPart() {
  const { answer, problem } = useQuestion<DifferencesAnswer>('differences');
  if (answer && !answer.seesBook) return null;
  return (
    <Part title="Differences">
      {!answer ? (
        <Pending problem={problem} />
      ) : answer.differences.length === 0 ? (
        <Empty
          what="No difference has been signed."
          how="Where a tally differs from the book, the page of the place offers to sign for it."
        />
      ) : (
        <Differences rows={answer.differences} />
      )}
    </Part>
  );
}

const openFirst = (rows: readonly DifferenceRow[]): readonly DifferenceRow[] =>
  rows.toSorted((left, right) => Number(right.state === 'open') - Number(left.state === 'open'));

function Differences({ rows }: { readonly rows: readonly DifferenceRow[] }) {
  return (
    <Table
      caption="Differences, what waits for its explanation first"
      rows={openFirst(rows)}
      keyOf={(row) => row.difference}
      columns={[
        {
          key: 'difference',
          title: 'Difference',
          value: (row) => row.difference,
          cell: (row) => (
            <span className="nowrap">
              {' '}
              <PathLink
                to={pathTo('/account/differences/$difference', { difference: row.difference })}
              >
                {row.difference}
              </PathLink>
            </span>
          ),
        },
        { key: 'place', title: 'Place', value: (row) => placeTitle(row.place) },
        {
          key: 'standard',
          title: 'Pieces of',
          value: (row) => row.pieceStandard,
          cell: (row) => <span className="nowrap">{row.pieceStandard}</span>,
        },
        {
          key: 'what',
          title: 'What',
          value: (row) => row.pieces,
          cell: (row) => <DifferenceFigure row={row} />,
        },
        {
          key: 'since',
          title: 'Since',
          value: (row) => row.instant,
          cell: (row) => <span className="nowrap">{printAge(row.instant)}</span>,
        },
        {
          key: 'state',
          title: 'State',
          value: (row) => row.state,
          cell: (row) => <DifferenceState row={row} />,
        },
      ]}
    />
  );
}
