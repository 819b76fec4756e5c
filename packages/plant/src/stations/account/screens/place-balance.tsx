import {
  Empty,
  MainAct,
  Metal,
  Page,
  Part,
  printMicrograms,
  Table,
  useCommand,
  useMay,
} from '../../../workbench/index.ts';
import type { Comparison } from '../comparison.ts';
import { type DeskPlace, differingLines, placeTitle } from './desk-answer.ts';
import { GramSuspects } from './gram-suspects.tsx';
import { SearchForThem } from './open-searches.tsx';
import { PiecesDifference, PlaceState } from './place-state.tsx';
import { RacksOfPlace } from './rack-counts.tsx';
import { SignDifferenceFields, signInput, useSignDraft } from './sign-difference.tsx';
import { LastTally } from './tally-place.tsx';

/** Book and tally of one place, and the difference to sign where one is left. */
export function PlaceBalance(props: {
  readonly place: DeskPlace;
  readonly onCount: (() => void) | undefined;
}) {
  const { place, onCount } = props;
  const maySign = useMay('sign-difference');
  const differing = differingLines(place);
  const [draft, change, clear] = useSignDraft(place);
  const sign = useCommand('sign-difference', { onRecorded: clear });
  const line = differing.find((one) => one.pieceStandard === draft.pieceStandard) ?? differing[0];
  const isSigning = line !== undefined || sign.stage === 'recorded';
  return (
    <Page
      title={placeTitle(place.place)}
      about={<PlaceState place={place} />}
      known={<LastTally place={place} />}
      act={
        maySign && isSigning ? (
          <MainAct
            label="Sign difference"
            command={sign}
            notYet={
              !line
                ? 'No difference is left.'
                : draft.explanation.trim() === ''
                  ? 'Write the explanation.'
                  : undefined
            }
            input={() => (line ? signInput(place, line, draft) : {})}
          />
        ) : undefined
      }
    >
      <Part title="Book and tally" aside={<CountAgain place={place} onCount={onCount} />}>
        <BookAndTally place={place} />
      </Part>
      <RacksOfPlace racks={place.racks} />
      {line ? (
        <Part title="A difference is left">
          <p>
            Look first: weigh stopped tubes again, look under the bench, ask for moves that nobody
            booked, and count again. What is signed for stays on the docket until it is explained.
          </p>
          <SearchForThem pieceStandard={line.pieceStandard} />
          {maySign ? (
            <SignDifferenceFields
              differing={differing}
              line={line}
              draft={draft}
              change={change}
              sign={sign}
            />
          ) : (
            <p className="faint">
              The chief assayer signs for it, with a second person. The shift stays open until then.
            </p>
          )}
        </Part>
      ) : null}
      <GramSuspects place={place.place} shift={null} />
    </Page>
  );
}

function CountAgain(props: {
  readonly place: DeskPlace;
  readonly onCount: (() => void) | undefined;
}) {
  if (!props.onCount) return null;
  return (
    <button type="button" className="link-button" onClick={props.onCount}>
      {props.place.tally ? 'Count again' : 'Count this place'}
    </button>
  );
}

function BookAndTally({ place }: { readonly place: DeskPlace }) {
  if (!place.comparison) return <Standing place={place} />;
  const isSigned = place.comparison.some(({ piecesSigned }) => piecesSigned !== 0);
  const signed = {
    key: 'signed',
    title: 'Signed for',
    value: (row: Comparison) => row.piecesSigned,
    decimals: 0,
  };
  return (
    <Table
      caption="Book, tally and difference of this place"
      rows={place.comparison}
      keyOf={(row) => row.pieceStandard}
      columns={[
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
        ...(isSigned ? [signed] : []),
        {
          key: 'gross book',
          title: 'Book',
          unit: 'g',
          value: (row) => row.grossMicrogramsBook,
          cell: (row) => printMicrograms(row.grossMicrogramsBook, 'g', 3),
          isNumber: true,
        },
        {
          key: 'gross tally',
          title: 'Tally',
          unit: 'g',
          value: (row) => row.grossMicrogramsTally,
          cell: (row) =>
            row.grossMicrogramsTally === null ? (
              <span className="faint">not weighed</span>
            ) : (
              printMicrograms(row.grossMicrogramsTally, 'g', 3)
            ),
          isNumber: true,
        },
        {
          key: 'difference',
          title: 'Difference',
          value: (row) => row.piecesDifference,
          cell: (row) => <PiecesDifference pieces={row.piecesDifference} />,
        },
      ]}
    />
  );
}

/** The book of a place that nobody has counted yet. */
function Standing({ place }: { readonly place: DeskPlace }) {
  const standing = place.standing ?? [];
  if (standing.length === 0) {
    return (
      <Empty what="By the book nothing lies here." how="Metal comes by an entry of a station." />
    );
  }
  return (
    <Table
      caption="The book of this place"
      rows={standing}
      keyOf={(row) => row.pieceStandard}
      columns={[
        {
          key: 'standard',
          title: 'Pieces of',
          value: (row) => row.pieceStandard,
          cell: (row) => (
            <>
              {row.pieceStandard} <Metal metal={row.metal} />
            </>
          ),
        },
        { key: 'book', title: 'Book', value: (row) => row.pieces, decimals: 0 },
        {
          key: 'gross',
          title: 'Gross',
          unit: 'g',
          value: (row) => row.grossMicrograms,
          cell: (row) => printMicrograms(row.grossMicrograms, 'g', 3),
          isNumber: true,
        },
        {
          key: 'fine',
          title: 'Fine',
          unit: 'g',
          value: (row) => row.fineMicrograms,
          cell: (row) => printMicrograms(row.fineMicrograms, 'g', 3),
          isNumber: true,
        },
      ]}
    />
  );
}
