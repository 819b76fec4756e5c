import { Part, printNumber, Table } from '../../../workbench/index.ts';
import type { AnnounceInput } from '../announce-input.ts';
import type { PackingListResult } from '../packing-list.ts';

/** What is in the packing list, or everything that is wrong with it; then nothing of it is taken. */
export function ListShown(props: {
  readonly result: PackingListResult;
  /** Where a line of the list stands for the eye. */
  readonly placeOf: (line: number) => number;
  readonly placeTitle: 'Line' | 'Row';
}) {
  const { result, placeOf, placeTitle } = props;
  if (result.outcome === 'read') return <ListRead input={result.input} />;
  const { problems } = result;
  return (
    <Part
      title={`Nothing is taken: ${problems.length === 1 ? '1 thing is' : `${printNumber(problems.length)} things are`} not right`}
    >
      <Table
        caption="What is not right in the packing list"
        rows={problems}
        keyOf={(row) => `${row.line} ${row.column} ${row.value} ${row.accepted}`}
        columns={[
          {
            key: 'line',
            title: placeTitle,
            value: (row) => placeOf(row.line),
            cell: (row) => (row.line === 0 ? 'whole' : printNumber(placeOf(row.line))),
            isNumber: true,
          },
          { key: 'column', title: 'Column', value: (row) => row.column },
          {
            key: 'value',
            title: 'It says',
            value: (row) => row.value,
            cell: (row) => (row.value === '' ? <span className="faint">nothing</span> : row.value),
          },
          { key: 'accepted', title: 'Accepted is', value: (row) => row.accepted },
        ]}
      />
    </Part>
  );
}

function ListRead({ input }: { readonly input: AnnounceInput }) {
  const pieces = input.drums.reduce((sum, drum) => sum + drum.pieces, 0);
  return (
    <Part
      title={`Read: ${input.drums.length} drums, ${input.melts.length} melts, ${printNumber(pieces)} pieces`}
    >
      <Table
        caption="The packing list as it will be recorded"
        rows={input.drums}
        keyOf={(row) => row.drum}
        columns={[
          { key: 'drum', title: 'Drum', value: (row) => row.drum },
          { key: 'melt', title: 'Melt', value: (row) => row.melt },
          { key: 'pieces', title: 'Pieces', value: (row) => row.pieces, decimals: 0 },
          {
            key: 'gross',
            title: 'Gross',
            unit: input.drums[0]?.gross.unit ?? '',
            value: (row) => Number(row.gross.text),
            cell: (row) => row.gross.text,
            isNumber: true,
          },
          {
            key: 'tare',
            title: 'Tare',
            unit: input.drums[0]?.tare.unit ?? '',
            value: (row) => Number(row.tare.text),
            cell: (row) => row.tare.text,
            isNumber: true,
          },
          { key: 'seal', title: 'Seal', value: (row) => row.seal },
        ]}
      />
    </Part>
  );
}
