import {
  Empty,
  Mass,
  Page,
  Part,
  PathLink,
  Pending,
  printInstant,
  printNumber,
  type ScreenProps,
  Table,
  useQuestion,
} from '../../../workbench/index.ts';
import type { ClosingLine, ClosingPlace } from '../bodies.ts';
import { placeInWords } from './desk-answer.ts';

interface Flow {
  readonly from: string;
  readonly to: string;
  readonly metal: string;
  readonly pieceStandard: string;
  readonly movements: number;
  readonly pieces: number;
  readonly grossMicrograms: number;
}

interface ShiftAnswer {
  readonly shift: string;
  readonly state: string;
  readonly seesBook: boolean;
  readonly closing: {
    readonly entry: number;
    readonly instant: string;
    readonly author: string;
    readonly witness: string | null;
    readonly places: readonly ClosingPlace[] | null;
  } | null;
  readonly flows: readonly Flow[] | null;
  readonly movements: number;
}

/** The sheet of one shift: where metal came from and went, and how it closed. */
export function ShiftPage({ params }: ScreenProps) {
  const shift = params['shift'] ?? '';
  const { answer, problem } = useQuestion<ShiftAnswer>('shift', { shift });
  if (!answer) {
    return (
      <Page title={`Shift ${shift}`}>
        <Pending problem={problem} />
      </Page>
    );
  }
  const { closing } = answer;
  return (
    <Page
      title={`Shift ${shift}`}
      about={
        closing
          ? `Closed ${printInstant(closing.instant)} by ${closing.author} with ${closing.witness ?? 'nobody'}`
          : `${answer.state}, metal moved ${answer.movements} times`
      }
    >
      {closing ? (
        <p>
          <PathLink to={`/journal/${closing.entry}`}>Entry {printNumber(closing.entry)}</PathLink>{' '}
          holds the evidence; the head of the journal was signed with it.
        </p>
      ) : (
        <p>
          <PathLink to="/account">It closes at the balance desk.</PathLink>
        </p>
      )}
      {answer.seesBook ? <Closing places={closing?.places ?? []} /> : null}
      {answer.flows ? <Flows flows={answer.flows} /> : null}
    </Page>
  );
}

interface SheetLine extends ClosingLine {
  readonly place: string;
}

function Closing({ places }: { readonly places: readonly ClosingPlace[] }) {
  if (places.length === 0) return null;
  const lines: SheetLine[] = places.flatMap(({ place, lines: own }) =>
    own.map((line) => ({ ...line, place })),
  );
  return (
    <Part title="Book, tally and difference">
      <Table
        caption="Balance of the shift"
        rows={lines}
        keyOf={(row) => `${row.place} ${row.pieceStandard}`}
        columns={[
          { key: 'place', title: 'Place', value: (row) => placeInWords(row.place) },
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
            decimals: 0,
          },
          {
            key: 'gross',
            title: 'Gross difference',
            unit: 'g',
            value: (row) => row.grossMicrogramsDifference ?? 0,
            cell: (row) =>
              row.grossMicrogramsDifference === null ? (
                'not weighed'
              ) : (
                <Mass micrograms={row.grossMicrogramsDifference} decimals={3} />
              ),
            isNumber: true,
          },
        ]}
      />
    </Part>
  );
}

function Flows({ flows }: { readonly flows: readonly Flow[] }) {
  return (
    <Part title="Where metal came from and went">
      {flows.length === 0 ? (
        <Empty what="No metal moved in this shift." how="Every move is an entry of its station." />
      ) : (
        <Table
          caption="Movements of the shift, added up"
          rows={flows}
          keyOf={(row) => `${row.from} ${row.to} ${row.pieceStandard}`}
          columns={[
            { key: 'from', title: 'From', value: (row) => placeInWords(row.from) },
            { key: 'to', title: 'To', value: (row) => placeInWords(row.to) },
            { key: 'standard', title: 'Piece standard', value: (row) => row.pieceStandard },
            { key: 'times', title: 'Times', value: (row) => row.movements, decimals: 0 },
            { key: 'pieces', title: 'Pieces', value: (row) => row.pieces, decimals: 0 },
            {
              key: 'gross',
              title: 'Gross',
              unit: 'g',
              value: (row) => row.grossMicrograms / 1e6,
              decimals: 2,
            },
          ]}
        />
      )}
    </Part>
  );
}
