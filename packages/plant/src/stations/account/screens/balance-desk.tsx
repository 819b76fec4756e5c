import {
  Empty,
  Facts,
  MainAct,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printInstant,
  State,
  Table,
  useCommand,
  useQuestion,
} from '../../../workbench/index.ts';
import { type DeskAnswer, type DeskPlace, placeInWords } from './desk-answer.ts';

const placePath = (place: string): string => pathTo('/account/places/$place', { place });

/** The balance desk of the shift: every place, what was found there, and what holds the shift open. */
export function BalanceDesk() {
  const { answer, problem } = useQuestion<DeskAnswer>('balance-desk');
  const [oldest] = answer?.openShifts ?? [];
  const shift = oldest ?? answer?.shift ?? '';
  const close = useCommand('close-shift');
  if (!answer) {
    return (
      <Page title="Account">
        <Pending problem={problem} />
      </Page>
    );
  }
  return (
    <Page
      title={`Balance of shift ${shift}`}
      about={
        answer.seesBook
          ? 'Book, tally and difference of each place; pieces and grams are two ledgers'
          : 'Those who count do not see the book, so that they count'
      }
      known={<Known answer={answer} />}
      act={<MainAct label="Close shift" command={close} input={() => ({ shift })} />}
    >
      <Places answer={answer} />
      <OpenDifferences answer={answer} />
    </Page>
  );
}

function Known({ answer }: { readonly answer: DeskAnswer }) {
  const { lastClose } = answer;
  return (
    <>
      <Facts
        facts={[
          ['Present shift', answer.shift],
          ['Last closed', lastClose ? lastClose.shift : 'none yet'],
        ]}
      />
      {lastClose ? (
        <p>
          <PathLink to={pathTo('/account/shifts/$shift', { shift: lastClose.shift })}>
            Sheet of shift {lastClose.shift}
          </PathLink>
        </p>
      ) : null}
      {answer.openShifts.length > 0 ? (
        <>
          <h3>Open shifts</h3>
          <ul className="plain-list">
            {answer.openShifts.map((shift) => (
              <li key={shift}>
                <PathLink to={pathTo('/account/shifts/$shift', { shift })}>{shift}</PathLink>
              </li>
            ))}
          </ul>
        </>
      ) : null}
    </>
  );
}

/** Pieces that differ at a place, as the tally and the book say. */
function differenceOf(place: DeskPlace): number {
  return (place.comparison ?? []).reduce((sum, line) => sum + Math.abs(line.piecesDifference), 0);
}

function stateOf(place: DeskPlace) {
  const differing = differenceOf(place);
  if (differing > 0) {
    return (
      <State
        word={`${differing} ${differing === 1 ? 'piece differs' : 'pieces differ'}`}
        tone="stopped"
      />
    );
  }
  if (place.tally?.movedSince) return <State word="metal moved since the tally" tone="look" />;
  if (place.needsTally && !place.tally) return <State word="to be counted" tone="waits" />;
  return place.tally ? 'counted' : 'nothing to count';
}

function Places({ answer }: { readonly answer: DeskAnswer }) {
  const book = (place: DeskPlace) => place.standing?.reduce((sum, row) => sum + row.pieces, 0) ?? 0;
  const tally = (place: DeskPlace) =>
    place.comparison?.reduce((sum, line) => sum + line.piecesTally, 0) ?? 0;
  const figures = [
    { key: 'book', title: 'Book', unit: 'pieces', value: book, decimals: 0 },
    { key: 'tally', title: 'Tally', unit: 'pieces', value: tally, decimals: 0 },
  ];
  return (
    <Part title="Places">
      <Table
        caption="Places of the plant in this shift"
        rows={answer.places}
        keyOf={(row) => row.place}
        columns={[
          {
            key: 'place',
            title: 'Place',
            value: (row) => placeInWords(row.place),
            cell: (row) => <PathLink to={placePath(row.place)}>{placeInWords(row.place)}</PathLink>,
          },
          ...(answer.seesBook ? figures : []),
          { key: 'state', title: 'State', value: (row) => differenceOf(row), cell: stateOf },
          {
            key: 'by',
            title: 'Counted',
            value: (row) => row.tally?.instant ?? '',
            cell: (row) =>
              row.tally ? `${row.tally.name}, ${printInstant(row.tally.instant)}` : 'not yet',
          },
        ]}
      />
    </Part>
  );
}

function OpenDifferences({ answer }: { readonly answer: DeskAnswer }) {
  if (!answer.openDifferences) return null;
  return (
    <Part title="Differences without an explanation">
      {answer.openDifferences.length === 0 ? (
        <Empty
          what="Every signed difference is explained."
          how="A difference comes here when two people sign it."
        />
      ) : (
        <ul className="plain-list">
          {answer.openDifferences.map((row) => (
            <li key={row.difference}>
              <PathLink
                to={pathTo('/account/differences/$difference', { difference: row.difference })}
              >
                {row.difference}
              </PathLink>{' '}
              {Math.abs(row.pieces)} pieces of {row.pieceStandard}, {placeInWords(row.place)}
              <p className="faint">{row.explanation}</p>
            </li>
          ))}
        </ul>
      )}
    </Part>
  );
}
