/**
 * Solution and inverse of a symmetric positive definite system of a few equations.
 *
 * Formula: Cholesky factor L with A = L·Lᵀ, then forward and backward substitution.
 *
 * @param matrix symmetric, rows of equal length
 * @param right right-hand side of the same length
 * @returns the solution, or null where the matrix is not positive definite
 * Validity: for small, scaled systems.
 * Source: elementary; G. H. Golub and C. F. Van Loan (2013), Matrix Computations, 4.2
 * @example choleskySolve([[4, 2], [2, 3]], [2, 1]) // [0.5, 0]
 */
export function choleskySolve(
  matrix: readonly (readonly number[])[],
  right: readonly number[],
): number[] | null {
  const size = right.length;
  const factor = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  const entry = (row: number, column: number): number => factor[row]?.[column] ?? 0;
  for (let row = 0; row < size; row += 1) {
    for (let column = 0; column <= row; column += 1) {
      let rest = matrix[row]?.[column] ?? 0;
      for (let k = 0; k < column; k += 1) rest -= entry(row, k) * entry(column, k);
      if (row === column && !(rest > 0)) return null;
      (factor[row] as number[])[column] =
        row === column ? Math.sqrt(rest) : rest / entry(column, column);
    }
  }
  const solution = [...right];
  for (let row = 0; row < size; row += 1) {
    for (let k = 0; k < row; k += 1) {
      solution[row] = (solution[row] ?? 0) - entry(row, k) * (solution[k] ?? 0);
    }
    solution[row] = (solution[row] ?? 0) / entry(row, row);
  }
  for (let row = size - 1; row >= 0; row -= 1) {
    for (let k = row + 1; k < size; k += 1) {
      solution[row] = (solution[row] ?? 0) - entry(k, row) * (solution[k] ?? 0);
    }
    solution[row] = (solution[row] ?? 0) / entry(row, row);
  }
  return solution;
}

/** Inverse of a symmetric positive definite matrix, or null where it is not positive definite. */
export function choleskyInverse(matrix: readonly (readonly number[])[]): number[][] | null {
  const columns = matrix.map((_, index) =>
    choleskySolve(
      matrix,
      matrix.map((__, row) => (row === index ? 1 : 0)),
    ),
  );
  return columns.every((column) => column !== null) ? (columns as number[][]) : null;
}
