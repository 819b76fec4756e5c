import {
  Empty,
  Facts,
  Figure,
  Metal,
  Page,
  PaperLink,
  Part,
  PathLink,
  Pending,
  printInstant,
  printMicrograms,
  printNumber,
  type ScreenProps,
  State,
  Table,
  useMay,
  useNames,
  useQuestion,
} from '../../../workbench/index.ts';
import type { HandOverRow } from '../books-periods.ts';
import type { ShiftFlow } from '../shift-flows.ts';
import { CloseShift } from './close-shift.tsx';
import { ClosingBalance, type ShownClosing } from './closing-balance.tsx';
import { type DeskAnswer, placeTitle } from './desk-answer.ts';
import { FlowBands } from './flow-bands.tsx';
import { HandOver } from './hand-over.tsx';

interface ShiftAnswer {
  readonly shift: string;
  readonly state: 'closed' | 'open' | 'without work';
  readonly seesBook: boolean;
  readonly closing: ShownClosing | null;
  readonly flows: readonly ShiftFlow[] | null;
  readonly handOver: HandOverRow | null;
  /** Whether it is the present shift or the one before. */
  readonly isLeaving: boolean;
  readonly movements: number;
}

/** The sheet of one shift: where metal came from and went, and how it closed. */
export function ShiftPage({ params }: ScreenProps) {
  const shift = params['shift'] ?? '';
  const { answer, problem } = useQuestion<ShiftAnswer>('shift', { shift });
  const desk = useQuestion<DeskAnswer>('balance-desk');
  if (!answer || !desk.answer) {
    return (
      <Page title={`Shift ${shift}`}>
        <Pending problem={problem ?? desk.problem} />
      </Page>
    );
  }
  return <Sheet key={shift} answer={answer} desk={desk.answer} />;
}

const tones = { closed: 'done', open: 'waits', 'without work': 'plain' } as const;

function Sheet(props: { readonly answer: ShiftAnswer; readonly desk: DeskAnswer }) {
  const { answer, desk } = props;
  const { closing, flows } = answer;
  const mayClose = useMay('close-shift');
  const isPresent = desk.shift === answer.shift;
  const canClose = !closing && (isPresent || desk.openShifts.includes(answer.shift));
  return (
    <Page
      title={`Shift ${answer.shift}`}
      about={
        <>
          <State word={answer.state} tone={tones[answer.state]} /> · metal moved{' '}
          {printNumber(answer.movements)} times
        </>
      }
      known={<Known answer={answer} desk={desk} />}
      act={canClose ? <CloseShift answer={desk} shift={answer.shift} /> : undefined}
    >
      {closing ? null : (
        <p>
          <PathLink to="/account">The balance desk</PathLink> shows which places are counted.
          {mayClose ? '' : ' The metal accountant closes the shift, with a second person.'}
        </p>
      )}
      {closing?.places ? <ClosingBalance places={closing.places} /> : null}
      {flows ? <Flows flows={flows} /> : null}
      <HandOver shift={answer.shift} handOver={answer.handOver} isLeaving={answer.isLeaving} />
      {answer.seesBook ? null : (
        <p className="faint">
          Book and difference are shown to the metal accountant, the chief assayer and the auditor.
        </p>
      )}
    </Page>
  );
}

function Known({ answer, desk }: { readonly answer: ShiftAnswer; readonly desk: DeskAnswer }) {
  const { namesOf } = useNames();
  const { closing } = answer;
  if (!closing) {
    return (
      <Facts
        facts={[
          ['Present shift', desk.shift],
          ['Closed last', desk.lastClose?.shift ?? 'none yet'],
        ]}
      />
    );
  }
  return (
    <Facts
      facts={[
        ['Closed', printInstant(closing.instant)],
        ['By', namesOf(closing.author, closing.witness)],
        [
          'Entry',
          <PathLink key="entry" to={`/journal/${closing.entry}`}>
            {printNumber(closing.entry)}
          </PathLink>,
        ],
        [
          'Covers entries',
          `${printNumber(closing.firstEntry)} to ${printNumber(closing.lastEntry)}`,
        ],
        ['Head of the journal', 'signed with the close'],
        ...(answer.seesBook
          ? [
              [
                'To print',
                <PaperLink key="sheet" paper="shift-sheet" id={answer.shift}>
                  Shift sheet
                </PaperLink>,
              ] as const,
            ]
          : []),
      ]}
    />
  );
}

function Flows({ flows }: { readonly flows: readonly ShiftFlow[] }) {
  return (
    <Part title="Where metal came from and went">
      {flows.length === 0 ? (
        <Empty what="No metal moved in this shift." how="Every move is an entry of its station." />
      ) : (
        <>
          <FlowBands flows={flows} />
          <Table
            caption="Movements of the shift, added up"
            rows={flows}
            filter={false}
            keyOf={(row) => `${row.from} ${row.to} ${row.pieceStandard} ${row.estimated}`}
            columns={[
              { key: 'from', title: 'From', value: (row) => placeTitle(row.from) },
              {
                key: 'to',
                title: 'To',
                value: (row) => placeTitle(row.to),
                cell: (row) => (
                  <>
                    {placeTitle(row.to)}
                    {row.estimated ? <span className="faint"> estimated</span> : null}
                  </>
                ),
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
              { key: 'times', title: 'Moves', value: (row) => row.movements, decimals: 0 },
              {
                key: 'pieces',
                title: 'Pieces',
                value: (row) => row.pieces,
                cell: (row) => <Figure value={row.pieces} decimals={0} />,
                isNumber: true,
              },
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
        </>
      )}
    </Part>
  );
}
