import type { MuffleGrid } from '../grid.ts';

const range = (count: number): readonly number[] =>
  Array.from({ length: count }, (_, at) => at + 1);

/** The muffle from above, its door in front. */
export function MufflePicture(props: {
  readonly grid: MuffleGrid;
  readonly proofs: readonly string[];
}) {
  const { grid, proofs } = props;
  const labelAt = (row: number, column: number) =>
    grid.cupels.find((one) => one.row === row && one.column === column)?.label;
  return (
    <table className="muffle">
      <caption>The muffle from above, the door in front</caption>
      <tbody>
        {range(grid.rows).map((row) => (
          <tr key={row}>
            {range(grid.columns).map((column) => {
              const label = labelAt(row, column);
              return (
                <td
                  key={column}
                  data-cupel={label ? (proofs.includes(label) ? 'proof' : 'portion') : 'empty'}
                >
                  {label ?? '·'}
                </td>
              );
            })}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
