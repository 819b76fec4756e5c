import { Part, printNumber, Table, ThingLink } from '../../../workbench/index.ts';
import { type CountFigures, CountRule } from './count-shown.tsx';
import type { DrumInDetail } from './desk-answer.ts';
import { DrumStateShown } from './drum-state.tsx';

/** A difference with its sign; nothing where there is none. */
function signed(value: number | null, decimals: number): string {
  if (value === null) return '–';
  const text = printNumber(value, decimals);
  return value > 0 ? `+${text}` : text;
}

const sumOf = (rows: readonly DrumInDetail[], of: (row: DrumInDetail) => number | null): number =>
  rows.reduce((sum, row) => sum + (row.state === 'returned' ? 0 : (of(row) ?? 0)), 0);

/** Every drum as documented and as found, with the count that its weight proves. */
export function DrumsTable({ drums }: { readonly drums: readonly DrumInDetail[] }) {
  return (
    <Part title="Drums">
      <Table
        caption="Drums of this consignment"
        rows={drums}
        keyOf={(row) => row.drum}
        columns={[
          {
            key: 'drum',
            title: 'Drum',
            value: (row) => row.drum,
            cell: (row) => <ThingLink thing="drum" id={row.drum} />,
          },
          { key: 'melt', title: 'Melt', value: (row) => row.melt },
          {
            key: 'state',
            title: 'State',
            value: (row) => row.state,
            cell: (row) => <DrumStateShown state={row.state} />,
          },
          {
            key: 'pieces',
            title: 'Pieces',
            value: (row) => row.pieces,
            decimals: 0,
            sum: (rows) => printNumber(sumOf(rows, ({ pieces }) => pieces)),
          },
          {
            key: 'difference',
            title: '± doc.',
            value: (row) => row.differencePieces,
            cell: (row) => signed(row.differencePieces, 0),
            isNumber: true,
          },
          {
            key: 'net',
            title: 'Net',
            unit: 'kg',
            value: (row) => row.netMicrograms,
            cell: (row) => <Bare micrograms={row.netMicrograms} />,
            isNumber: true,
            sum: (rows) => <Bare micrograms={sumOf(rows, ({ netMicrograms }) => netMicrograms)} />,
          },
          {
            key: 'gross-difference',
            title: '± doc.',
            unit: 'g',
            value: (row) => row.differenceGrossMicrograms,
            cell: (row) =>
              signed(
                row.differenceGrossMicrograms === null ? null : row.differenceGrossMicrograms / 1e6,
                1,
              ),
            isNumber: true,
          },
          {
            key: 'count',
            title: 'Count by weight',
            value: (row) => row.words,
            cell: (row) =>
              row.count && row.netReadingsMicrograms.length > 0 ? (
                <CountRule
                  count={row.count.output as unknown as CountFigures}
                  netMicrograms={row.netReadingsMicrograms.at(-1) ?? 0}
                  size="row"
                />
              ) : (
                <span className="faint">not weighed</span>
              ),
          },
        ]}
      />
    </Part>
  );
}

/** Kilograms without their unit, which stands in the head of the column. */
function Bare({ micrograms }: { readonly micrograms: number | null }) {
  if (micrograms === null) return '–';
  return printNumber(micrograms / 1e9, 4);
}
