import { z } from 'zod';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import { muffleRefusals } from './refusals.ts';

const most = 12;
const sideAccepted = `a whole number from 1 to ${most}`;

const side = (title: string) =>
  z.int(sideAccepted).min(1, sideAccepted).max(most, sideAccepted).meta({ title });

/** Where the cupels of a run stood: row 1 is at the back, column 1 at the left. */
export const muffleGrid = z
  .strictObject({
    rows: side('Rows'),
    columns: side('Columns'),
    cupels: z
      .array(
        z.strictObject({
          row: side('Row'),
          column: side('Column'),
          label: z.string('a label of the run').min(1, 'a label of the run'),
        }),
        'a list of cupels',
      )
      .max(most * most, `at most ${most * most} cupels`),
  })
  .meta({
    title: 'Muffle',
    description: 'Where each cupel stood; row 1 at the back, column 1 at the left.',
  });

export type MuffleGrid = z.infer<typeof muffleGrid>;

const wrong = (message: string, figures: Record<string, string | number>): Refusal =>
  refuse(muffleRefusals, 'MufflePlacesDoNotFit', { message, field: 'muffle', figures });

function misplaced(grid: MuffleGrid, labels: readonly string[]): readonly Refusal[] {
  const seen = new Map<string, string>();
  return grid.cupels.flatMap(({ row, column, label }) => {
    const place = `${row}/${column}`;
    const other = seen.get(place);
    seen.set(place, label);
    if (row > grid.rows || column > grid.columns) {
      return wrong(
        `${label} stands in row ${row}, column ${column}; the muffle has ${grid.rows} rows and ${grid.columns} columns.`,
        { label, row, column },
      );
    }
    if (other !== undefined) {
      return wrong(`${label} and ${other} stand on one place, row ${row}, column ${column}.`, {
        label,
        other,
        row,
        column,
      });
    }
    if (!labels.includes(label)) {
      return wrong(`${label} is no proof, portion or reference material of this run.`, { label });
    }
    return [];
  });
}

/**
 * Refuses a muffle in which a cupel stands outside, two stand on one place, a label is strange or
 * stands twice, or one of the run has no place.
 */
export function muffleProblems(
  grid: MuffleGrid | undefined,
  labels: readonly string[],
): readonly Refusal[] {
  if (!grid) return [];
  const standing = grid.cupels.map(({ label }) => label);
  const counts = labels.flatMap((label) => {
    const times = standing.filter((one) => one === label).length;
    if (times === 1) return [];
    return wrong(
      times === 0 ? `${label} has no place in the muffle.` : `${label} has ${times} places.`,
      { label, places: times },
    );
  });
  return [...misplaced(grid, labels), ...counts];
}
