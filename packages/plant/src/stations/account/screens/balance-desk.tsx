import { useState } from 'react';
import {
  Facts,
  Metal,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printInstant,
  printMicrograms,
  Table,
  useQuestion,
} from '../../../workbench/index.ts';
import type { Comparison } from '../comparison.ts';
import { CloseShift } from './close-shift.tsx';
import { type DeskAnswer, type DeskPlace, placeTitle } from './desk-answer.ts';
import { DifferencesPart } from './differences-part.tsx';
import { OpenSearches } from './open-searches.tsx';
import { PeriodsPart } from './periods-part.tsx';
import { PiecesDifference, PlaceState } from './place-state.tsx';
import { RacksCounted } from './rack-counts.tsx';

const placePath = (place: string): string => pathTo('/account/places/$place', { place });
const shiftPath = (shift: string): string => pathTo('/account/shifts/$shift', { shift });

/** The balance desk of the shift: every place, what was found there, and what holds the shift open. */
export function BalanceDesk() {
  const { answer, problem } = useQuestion<DeskAnswer>('balance-desk');
  if (!answer) {
    return (
      <Page title="Account">
        <Pending problem={problem} />
      </Page>
    );
  }
  return <Desk answer={answer} />;
}

function Desk({ answer }: { readonly answer: DeskAnswer }) {
  const [oldest] = answer.openShifts;
  const shift = oldest ?? answer.shift;
  // What was just closed stays in hand, so that the page can say so.
  const [inHand] = useState(shift);
  const shown = answer.lastClose?.shift === inHand ? inHand : shift;
  return (
    <Page
      title={answer.seesBook ? `Balance of shift ${shift}` : `Count for shift ${shift}`}
      about={
        answer.seesBook
          ? 'Book, tally and difference of each place; pieces and grams are two ledgers'
          : 'Count a place: the book is out of sight, so that what is found is found'
      }
      known={<Known answer={answer} />}
      act={<CloseShift answer={answer} shift={shown} />}
    >
      <Part title="Places">
        {answer.seesBook ? <Balances answer={answer} /> : <Counts answer={answer} />}
      </Part>
      <DifferencesPart />
      <PeriodsPart />
    </Page>
  );
}

function Known({ answer }: { readonly answer: DeskAnswer }) {
  const { lastClose } = answer;
  return (
    <>
      <Facts
        facts={[
          [
            'Present shift',
            <PathLink key="present" to={shiftPath(answer.shift)}>
              {answer.shift}
            </PathLink>,
          ],
          [
            'Closed last',
            lastClose ? (
              <PathLink key="last" to={shiftPath(lastClose.shift)}>
                {lastClose.shift}
              </PathLink>
            ) : (
              'none yet'
            ),
          ],
          ...(lastClose ? [['Closed at', printInstant(lastClose.instant)] as const] : []),
        ]}
      />
      <OpenSearches />
      <p>
        <PathLink to="/account/racks">Racks</PathLink>
      </p>
      <p>
        <PathLink to="/account/items">Seals and labels</PathLink>
      </p>
      {answer.openShifts.length > 0 ? (
        <div>
          <h3>Shifts left open</h3>
          <ul className="plain-list">
            {answer.openShifts.map((shift) => (
              <li key={shift}>
                <PathLink to={shiftPath(shift)}>{shift}</PathLink>
              </li>
            ))}
          </ul>
        </div>
      ) : null}
    </>
  );
}

const placeColumn = {
  key: 'place',
  title: 'Place',
  value: (row: { readonly place: DeskPlace }) => placeTitle(row.place.place),
  cell: ({ place }: { readonly place: DeskPlace }) => (
    <span className="nowrap">
      <PathLink to={placePath(place.place)}>{placeTitle(place.place)}</PathLink>
      <RacksCounted place={place} />
    </span>
  ),
};

/** Places for those who count: no figure of the book. */
function Counts({ answer }: { readonly answer: DeskAnswer }) {
  return (
    <Table
      caption="Places to count in this shift"
      rows={answer.places.map((place) => ({ place }))}
      keyOf={({ place }) => place.place}
      columns={[
        placeColumn,
        {
          key: 'standards',
          title: 'Look for',
          value: ({ place }) => place.standards.map(({ title }) => title).join('; '),
        },
        {
          key: 'state',
          title: 'State',
          value: ({ place }) => place.tally?.entry,
          cell: ({ place }) => <PlaceState place={place} />,
        },
        {
          key: 'by',
          title: 'Counted by',
          value: ({ place }) => place.tally?.instant,
          cell: ({ place }) =>
            place.tally ? `${place.tally.name}, ${printInstant(place.tally.instant)}` : '–',
        },
      ]}
    />
  );
}

/** One piece standard at one place. */
interface BalanceLine {
  readonly place: DeskPlace;
  readonly pieceStandard: string | null;
  readonly metal: string;
  readonly piecesBook: number;
  readonly grossMicrogramsBook: number;
  /** Nothing before the place is counted. */
  readonly found: Comparison | null;
}

function linesOf(place: DeskPlace): readonly BalanceLine[] {
  const compared = (place.comparison ?? []).map((line) => ({ ...line, place, found: line }));
  const names = new Set(compared.map(({ pieceStandard }) => pieceStandard));
  const booked = (place.standing ?? [])
    .filter(({ pieceStandard }) => !names.has(pieceStandard))
    .map((row) => ({
      place,
      pieceStandard: row.pieceStandard,
      metal: row.metal,
      piecesBook: row.pieces,
      grossMicrogramsBook: row.grossMicrograms,
      found: null,
    }));
  const lines = [...compared, ...booked].filter(
    ({ piecesBook, grossMicrogramsBook, found }) =>
      piecesBook !== 0 || grossMicrogramsBook !== 0 || (found?.piecesTally ?? 0) !== 0,
  );
  if (lines.length > 0) return lines;
  const nothing = { piecesBook: 0, grossMicrogramsBook: 0, found: null };
  return [{ place, pieceStandard: null, metal: '', ...nothing }];
}

function Balances({ answer }: { readonly answer: DeskAnswer }) {
  return (
    <Table
      caption="Book, tally and difference of each place in this shift"
      rows={answer.places.flatMap(linesOf)}
      filter={false}
      keyOf={({ place, pieceStandard }) => `${place.place} ${pieceStandard}`}
      columns={[
        placeColumn,
        {
          key: 'standard',
          title: 'Pieces of',
          value: (row) => row.pieceStandard,
          cell: (row) =>
            row.pieceStandard ? (
              <span className="nowrap">
                {row.pieceStandard} <Metal metal={row.metal} />
              </span>
            ) : (
              '–'
            ),
        },
        { key: 'book', title: 'Book', value: (row) => row.piecesBook, decimals: 0 },
        { key: 'tally', title: 'Tally', value: (row) => row.found?.piecesTally, decimals: 0 },
        {
          key: 'gross',
          title: 'Book',
          unit: 'g',
          value: (row) => row.grossMicrogramsBook,
          cell: (row) => printMicrograms(row.grossMicrogramsBook, 'g', 2),
          isNumber: true,
        },
        {
          key: 'gross difference',
          title: 'Tally less book',
          unit: 'g',
          value: (row) => row.found?.grossMicrogramsDifference,
          cell: (row) => <GramsDifference line={row} />,
          isNumber: true,
        },
        {
          key: 'state',
          title: 'State',
          value: (row) => row.found?.piecesDifference,
          cell: (row) =>
            row.found && row.found.piecesDifference !== 0 ? (
              <PiecesDifference pieces={row.found.piecesDifference} />
            ) : (
              <PlaceState place={row.place} />
            ),
        },
      ]}
    />
  );
}

function GramsDifference({ line }: { readonly line: BalanceLine }) {
  if (!line.found) return '–';
  const difference = line.found.grossMicrogramsDifference;
  if (difference === null) return <span className="faint">not weighed</span>;
  return printMicrograms(difference, 'g', 3);
}
