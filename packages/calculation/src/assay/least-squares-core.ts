import { requireDomain } from '../quantity/domain.ts';
import {
  addLong,
  divideLong,
  dotLong,
  type LongColumn,
  type LongNumber,
  longColumn,
  longNumber,
  multiplyColumns,
  multiplyLong,
  negateLong,
  squareRootLong,
  subtractMultiple,
} from './double-double.ts';

/** What a fit by least squares gives; covariance is per unit variance of a row of weight 1. */
interface LeastSquares {
  readonly coefficients: readonly number[];
  readonly covarianceFactor: readonly (readonly number[])[];
  /** Observed less fitted, each times the square root of its weight. */
  readonly weightedResiduals: readonly number[];
  readonly residualSumOfSquares: number;
}

/** Below this share of its own length a column says nothing that the others do not. */
const smallestIndependentShare = 1e-26;

/** Powers 0 (or 1) to `degree` of the values, each exact to about 31 digits. */
export function powerColumns(
  values: readonly number[],
  degree: number,
  withConstant: boolean,
): readonly LongColumn[] {
  const base = longColumn(values);
  const columns: LongColumn[] = [longColumn(values.map(() => 1))];
  for (let power = 1; power <= degree; power += 1) {
    columns.push(power === 1 ? base : multiplyColumns(columns[power - 1] as LongColumn, base));
  }
  return withConstant ? columns : columns.slice(1);
}

/** Triangle and orthonormal columns by modified Gram and Schmidt; `response` is left with the residuals. */
function orthogonalise(
  columns: readonly LongColumn[],
  response: LongColumn,
): { readonly triangle: LongNumber[][]; readonly right: LongNumber[] } {
  const triangle: LongNumber[][] = columns.map(() => []);
  const right: LongNumber[] = [];
  const lengths = columns.map((column) => squareRootLong(dotLong(column, column)).high);
  for (const [k, column] of columns.entries()) {
    const length = squareRootLong(dotLong(column, column));
    const isIndependent = length.high > smallestIndependentShare * (lengths[k] ?? 0);
    requireDomain(isIndependent, {
      field: 'columns',
      value: `column ${k + 1} that depends on those before it`,
      accepted: 'variables none of which follows from the others',
    });
    const inverse = divideLong(longNumber(1), length);
    for (let i = 0; i < column.high.length; i += 1) {
      const scaled = multiplyLong(
        { high: column.high[i] as number, low: column.low[i] as number },
        inverse,
      );
      column.high[i] = scaled.high;
      column.low[i] = scaled.low;
    }
    const row = triangle[k] as LongNumber[];
    row[k] = length;
    for (let j = k + 1; j < columns.length; j += 1) {
      const other = columns[j] as LongColumn;
      row[j] = dotLong(column, other);
      subtractMultiple(other, row[j] as LongNumber, column);
    }
    right[k] = dotLong(column, response);
    subtractMultiple(response, right[k] as LongNumber, column);
  }
  return { triangle, right };
}

/** Solves the triangle for one right side. */
function solveTriangle(
  triangle: readonly (readonly LongNumber[])[],
  right: readonly LongNumber[],
): LongNumber[] {
  const solution = right.map(() => longNumber(0));
  for (let k = right.length - 1; k >= 0; k -= 1) {
    let rest = right[k] as LongNumber;
    for (let j = k + 1; j < right.length; j += 1) {
      const term = multiplyLong(triangle[k]?.[j] as LongNumber, solution[j] as LongNumber);
      rest = addLong(rest, negateLong(term));
    }
    solution[k] = divideLong(rest, triangle[k]?.[k] as LongNumber);
  }
  return solution;
}

/** Inverse of triangle times its transpose, from the columns of the inverse of the triangle. */
function covarianceFactor(triangle: readonly (readonly LongNumber[])[]): number[][] {
  const size = triangle.length;
  const inverse = triangle.map((_, column) =>
    solveTriangle(
      triangle,
      triangle.map((__, row) => longNumber(row === column ? 1 : 0)),
    ),
  );
  return Array.from({ length: size }, (_, i) =>
    Array.from({ length: size }, (__, j) => {
      let sum = longNumber(0);
      for (const column of inverse) {
        sum = addLong(sum, multiplyLong(column[i] as LongNumber, column[j] as LongNumber));
      }
      return sum.high;
    }),
  );
}

/**
 * Fit by weighted least squares in about 31 digits: modified Gram and Schmidt in double-double
 * arithmetic. It reaches 14 certified digits of every linear set of the StRD, see
 * reference/nist-strd-linear.
 */
export function fitLeastSquares(
  columns: readonly LongColumn[],
  response: readonly number[],
  weights?: readonly number[],
): LeastSquares {
  const root = weights === undefined ? null : longColumn(weights.map(Math.sqrt));
  const copy = (column: LongColumn): LongColumn =>
    root === null
      ? { high: column.high.slice(), low: column.low.slice() }
      : multiplyColumns(column, root);
  const residual = copy(longColumn(response));
  const { triangle, right } = orthogonalise(columns.map(copy), residual);
  return {
    coefficients: solveTriangle(triangle, right).map((one) => one.high),
    covarianceFactor: covarianceFactor(triangle),
    weightedResiduals: Array.from(residual.high),
    residualSumOfSquares: dotLong(residual, residual).high,
  };
}
