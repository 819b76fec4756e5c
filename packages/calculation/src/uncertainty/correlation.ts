import { requireDomain } from '../quantity/domain.ts';

/** Correlation coefficient of two inputs or sources, by their names. */
export interface Correlation {
  readonly first: string;
  readonly second: string;
  readonly coefficient: number;
}

/** Rounding of coefficients leaves a matrix this far from one that can exist. */
const tolerance = 1e-10;

/**
 * Matrix of correlation coefficients of named quantities.
 *
 * @param names names in the order of the rows
 * @param correlations pairs of different names with a coefficient from −1 to 1, each pair once
 * @param field name of the list, for the refusals
 * @returns symmetric matrix with ones on the diagonal, row by row
 * @throws DomainError for an unknown name, a pair of one name or a pair given twice
 * Source: JCGM 100:2008, 5.2.2
 * @example correlationMatrix(['a', 'b'], [{ first: 'a', second: 'b', coefficient: 0.5 }])[1]
 *   // 0.5
 */
export function correlationMatrix(
  names: readonly string[],
  correlations: readonly Correlation[],
  field = 'correlations',
): Float64Array {
  const n = names.length;
  const matrix = new Float64Array(n * n);
  const given = new Set<number>();
  for (let i = 0; i < n; i += 1) matrix[i * n + i] = 1;
  correlations.forEach(({ first, second, coefficient }, index) => {
    const [i, j] = [names.indexOf(first), names.indexOf(second)];
    const accepted = `one of ${names.join(', ')}`;
    requireDomain(i >= 0, { field: `${field}.${index}.first`, value: first, accepted });
    requireDomain(j >= 0, { field: `${field}.${index}.second`, value: second, accepted });
    const pair = Math.min(i, j) * n + Math.max(i, j);
    requireDomain(i !== j && !given.has(pair), {
      field: `${field}.${index}.second`,
      value: second,
      accepted: 'each pair of two different names once',
    });
    given.add(pair);
    matrix[i * n + j] = coefficient;
    matrix[j * n + i] = coefficient;
  });
  return matrix;
}

/**
 * Lower triangular factor of a correlation matrix: correlated quantities as sums of independent
 * ones. Coefficients of exactly ±1 are allowed.
 *
 * Formula: R = L·Lᵀ, row by row (Cholesky), a pivot of zero leaving its column empty.
 *
 * @param matrix symmetric, ones on the diagonal, row by row
 * @param names names of the rows, for the refusal
 * @param field name of the list of coefficients, for the refusal
 * @returns L, row by row
 * @throws DomainError when no quantities with such coefficients can exist together
 * Validity: pivots within 1e-10 of zero count as zero.
 * Source: N. J. Higham (2002), Accuracy and Stability of Numerical Algorithms, 2nd edition, SIAM,
 * section 10.3
 * @example correlationFactor(new Float64Array([1, 0.6, 0.6, 1]), ['a', 'b'])[3] // 0.8
 */
export function correlationFactor(
  matrix: Float64Array,
  names: readonly string[],
  field = 'correlations',
): Float64Array {
  const n = names.length;
  const factor = new Float64Array(n * n);
  const at = (array: Float64Array, i: number, j: number): number => array[i * n + j] as number;
  const refuseUnless = (condition: boolean, row: number): void =>
    requireDomain(condition, {
      field,
      value: `coefficients up to ${names[row]}`,
      accepted: 'coefficients that can hold together: a matrix without negative eigenvalues',
    });
  for (let j = 0; j < n; j += 1) {
    for (let i = j; i < n; i += 1) {
      let rest = at(matrix, i, j);
      for (let k = 0; k < j; k += 1) rest -= at(factor, i, k) * at(factor, j, k);
      if (i === j) {
        refuseUnless(rest > -tolerance, j);
        factor[i * n + j] = rest > tolerance ? Math.sqrt(rest) : 0;
        continue;
      }
      const pivot = at(factor, j, j);
      refuseUnless(pivot > 0 || Math.abs(rest) < Math.sqrt(tolerance), i);
      factor[i * n + j] = pivot > 0 ? rest / pivot : 0;
    }
  }
  return factor;
}

/**
 * Sets of quantities that hang together by correlation; a quantity without any is a set of its own.
 *
 * @param matrix symmetric correlation matrix, row by row
 * @param n number of rows
 * @returns indices of each set, rising
 * Source: common practice (connected components)
 * @example correlatedSets(new Float64Array([1, 0.5, 0.5, 1]), 2).length // 1
 */
export function correlatedSets(matrix: Float64Array, n: number): readonly (readonly number[])[] {
  const setOf = Array.from({ length: n }, (_, index) => index);
  for (let i = 0; i < n; i += 1) {
    for (let j = 0; j < i; j += 1) {
      const [a, b] = [setOf[i] as number, setOf[j] as number];
      if (matrix[i * n + j] === 0 || a === b) continue;
      for (let k = 0; k < n; k += 1) if (setOf[k] === a) setOf[k] = b;
    }
  }
  return [...new Set(setOf)].map((set) =>
    setOf.flatMap((one, index) => (one === set ? index : [])),
  );
}
