import {
  CommandForm,
  Empty,
  emptyReading,
  FieldRow,
  MainAct,
  Page,
  Part,
  PathLink,
  Pending,
  printInstant,
  type ReadingDraft,
  ReadingField,
  readingOf,
  type ScreenProps,
  State,
  Table,
  TextField,
  useCommand,
  useDraft,
  useQuestion,
  wholeNumberOf,
} from '../../../workbench/index.ts';
import { type DeskAnswer, type DeskPlace, placeInWords } from './desk-answer.ts';

interface LineDraft {
  readonly pieces: string;
  readonly gross: ReadingDraft;
  readonly instrument: string;
}

const emptyLine: LineDraft = { pieces: '', gross: emptyReading('g'), instrument: '' };

/** One place: counted without sight of the book; the difference for those who may see it. */
export function PlacePage({ params }: ScreenProps) {
  const name = params['place'] ?? '';
  const { answer, problem } = useQuestion<DeskAnswer>('balance-desk');
  const title = `Count ${placeInWords(name)}`;
  if (!answer) {
    return (
      <Page title={title}>
        <Pending problem={problem} />
      </Page>
    );
  }
  const place = answer.places.find((one) => one.place === name);
  if (!place) {
    return (
      <Page title={title}>
        <Empty
          what="There is no such place."
          how={<PathLink to="/account">The account</PathLink>}
        />
      </Page>
    );
  }
  return <Count place={place} title={title} seesBook={answer.seesBook} />;
}

function Count(props: {
  readonly place: DeskPlace;
  readonly title: string;
  readonly seesBook: boolean;
}) {
  const { place, title } = props;
  const [draft, change, clear] = useDraft<{ lines: Readonly<Record<string, LineDraft>> }>(
    `tally ${place.place}`,
    { lines: {} },
  );
  const tally = useCommand('tally-place', { onRecorded: clear });
  const lineOf = (standard: string) => draft.lines[standard] ?? emptyLine;
  const set = (standard: string, part: Partial<LineDraft>) =>
    change({ lines: { ...draft.lines, [standard]: { ...lineOf(standard), ...part } } });
  const isCounted = place.standards.every(
    ({ pieceStandard }) => lineOf(pieceStandard).pieces !== '',
  );
  return (
    <Page
      title={title}
      about={
        place.tally
          ? `Counted by ${place.tally.name}, ${printInstant(place.tally.instant)}`
          : 'Not counted in this shift yet'
      }
      act={
        <MainAct
          label="Record tally"
          command={tally}
          notYet={isCounted ? undefined : 'Count every kind of piece that lies here; none is 0.'}
          input={() => ({
            place: place.place,
            lines: place.standards.map(({ pieceStandard }) => {
              const line = lineOf(pieceStandard);
              const gross = readingOf(line.gross);
              return {
                pieceStandard,
                pieces: wholeNumberOf(line.pieces),
                gross,
                instrument: gross === null ? null : line.instrument,
              };
            }),
          })}
        />
      }
    >
      {props.seesBook ? <Differences place={place} /> : null}
      {place.standards.map(({ pieceStandard, title: name }, index) => (
        <div className="part-row" key={pieceStandard}>
          <p>{name}</p>
          <FieldRow>
            <TextField
              label={`Pieces of ${pieceStandard}`}
              kind="whole number"
              unit="pieces"
              value={lineOf(pieceStandard).pieces}
              onChange={(pieces) => set(pieceStandard, { pieces })}
              refusal={tally.refusalAt(`lines.${index}.pieces`)}
            />
            <ReadingField
              label="Net mass"
              optional
              value={lineOf(pieceStandard).gross}
              onChange={(gross) => set(pieceStandard, { gross })}
              refusal={
                tally.refusalAt(`lines.${index}.gross`) ??
                tally.refusalAt(`lines.${index}.gross.text`)
              }
            />
            <TextField
              label="Balance"
              kind="code"
              optional
              scans={false}
              value={lineOf(pieceStandard).instrument}
              onChange={(instrument) => set(pieceStandard, { instrument })}
              refusal={tally.refusalAt(`lines.${index}.instrument`)}
            />
          </FieldRow>
        </div>
      ))}
    </Page>
  );
}

function Differences({ place }: { readonly place: DeskPlace }) {
  if (!place.comparison) return null;
  const differing = place.comparison.filter(({ piecesDifference }) => piecesDifference !== 0);
  return (
    <>
      <Part title="Book and tally">
        <Table
          caption="Book and tally of this place"
          rows={place.comparison}
          keyOf={(row) => row.pieceStandard}
          columns={[
            { key: 'standard', title: 'Piece standard', value: (row) => row.pieceStandard },
            {
              key: 'book',
              title: 'Book',
              unit: 'pieces',
              value: (row) => row.piecesBook,
              decimals: 0,
            },
            {
              key: 'tally',
              title: 'Tally',
              unit: 'pieces',
              value: (row) => row.piecesTally,
              decimals: 0,
            },
            {
              key: 'difference',
              title: 'Difference',
              unit: 'pieces',
              value: (row) => row.piecesDifference,
              cell: (row) =>
                row.piecesDifference === 0 ? (
                  '0'
                ) : (
                  <State word={String(row.piecesDifference).replace('-', '−')} tone="stopped" />
                ),
              isNumber: true,
            },
          ]}
        />
      </Part>
      {differing.map((row) => (
        <details className="act-fold" key={row.pieceStandard}>
          <summary>
            Sign the difference of {Math.abs(row.piecesDifference)} {row.pieceStandard}
          </summary>
          <p>
            Look first: weigh stopped tubes again, look under the bench, ask for moves that nobody
            booked. A signed difference stays on the docket until it is explained.
          </p>
          <CommandForm
            command="sign-difference"
            given={{
              place: place.place,
              pieceStandard: row.pieceStandard,
              direction: row.piecesDifference < 0 ? 'missing' : 'surplus',
            }}
            initial={{ pieces: Math.abs(row.piecesDifference) }}
          />
        </details>
      ))}
    </>
  );
}
