import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { longColumn } from '../../src/assay/double-double.ts';
import { fitLeastSquares, powerColumns } from '../../src/assay/least-squares-core.ts';
import type { BenchRow } from '../bench-row.ts';

interface Problem {
  readonly name: string;
  readonly degree: number;
  readonly rows: readonly (readonly number[])[];
}

const path = join(import.meta.dirname, '../../reference/nist-strd-linear/values.json');

function problems(): Problem[] {
  const sets = JSON.parse(readFileSync(path, 'utf8')) as Record<
    string,
    { rows: number[][]; certified: { parameters: unknown[] } }
  >;
  return Object.entries(sets).map(([name, { rows, certified }]) => ({
    name,
    degree: name === 'NoInt1' ? 1 : certified.parameters.length - 1,
    rows,
  }));
}

export const row: BenchRow<readonly Problem[]> = {
  what: 'nine linear sets of the StRD to 12 digits and more, Filip and Longley among them',
  data: problems,
  work: (all) =>
    all.flatMap(({ name, degree, rows }) => {
      const responses = rows.map(([response = 0]) => response);
      const column = (k: number) => rows.map((one) => one[k] ?? 0);
      const columns =
        name === 'Longley'
          ? [
              longColumn(responses.map(() => 1)),
              ...[1, 2, 3, 4, 5, 6].map((k) => longColumn(column(k))),
            ]
          : powerColumns(column(1), degree, name !== 'NoInt1');
      const fit = fitLeastSquares(columns, responses);
      const spread = Math.sqrt(fit.residualSumOfSquares / (rows.length - columns.length));
      // Two sets are exact: what is left of them is below any digit.
      return [...fit.coefficients, spread < 1e-9 ? 0 : spread];
    }),
  tolerance: 1e-13,
};
