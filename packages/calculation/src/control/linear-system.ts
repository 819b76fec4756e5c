/**
 * Solution of a system of linear equations with several right sides, by elimination with row
 * exchange. The matrix and the right sides are overwritten.
 *
 * @param matrix square matrix, row after row, not singular
 * @param rightSides one array for each right side; they become the solutions
 * @returns the solutions
 * Validity: error about the unit of a double times the condition of the matrix.
 * Source: G. H. Golub and C. F. Van Loan (1996), Matrix Computations, algorithm 3.4.1
 * @example solveDense(Float64Array.of(2, 1, 1, 3), [Float64Array.of(3, 5)])[0][1] // 1.4
 */
export function solveDense(matrix: Float64Array, rightSides: Float64Array[]): Float64Array[] {
  const size = Math.round(Math.sqrt(matrix.length));
  for (let column = 0; column < size; column += 1) {
    exchangeRows(matrix, size, rightSides, column);
    eliminateColumn(matrix, size, rightSides, column);
  }
  for (const side of rightSides) substituteBack(matrix, size, side);
  return rightSides;
}

/** Subtracts the row of the diagonal from those below it, so that the column becomes 0 there. */
function eliminateColumn(
  matrix: Float64Array,
  size: number,
  rightSides: readonly Float64Array[],
  column: number,
): void {
  const pivotStart = column * size;
  const pivot = matrix[pivotStart + column] as number;
  for (let row = column + 1; row < size; row += 1) {
    const start = row * size;
    const factor = (matrix[start + column] as number) / pivot;
    if (factor === 0) continue;
    for (let k = column + 1; k < size; k += 1) {
      matrix[start + k] =
        (matrix[start + k] as number) - factor * (matrix[pivotStart + k] as number);
    }
    for (let at = 0; at < rightSides.length; at += 1) {
      const side = rightSides[at] as Float64Array;
      side[row] = (side[row] as number) - factor * (side[column] as number);
    }
  }
}

/** Brings the largest entry of a column at or below the diagonal into the diagonal. */
function exchangeRows(
  matrix: Float64Array,
  size: number,
  rightSides: readonly Float64Array[],
  column: number,
): void {
  let best = column;
  let largest = Math.abs(matrix[column * size + column] as number);
  for (let row = column + 1; row < size; row += 1) {
    const candidate = Math.abs(matrix[row * size + column] as number);
    if (candidate > largest) {
      best = row;
      largest = candidate;
    }
  }
  if (best === column) return;
  for (let k = column; k < size; k += 1) {
    const held = matrix[column * size + k] as number;
    matrix[column * size + k] = matrix[best * size + k] as number;
    matrix[best * size + k] = held;
  }
  for (const side of rightSides) {
    const held = side[column] as number;
    side[column] = side[best] as number;
    side[best] = held;
  }
}

function substituteBack(matrix: Float64Array, size: number, side: Float64Array): void {
  for (let row = size - 1; row >= 0; row -= 1) {
    let sum = side[row] as number;
    for (let k = row + 1; k < size; k += 1) {
      sum -= (matrix[row * size + k] as number) * (side[k] as number);
    }
    side[row] = sum / (matrix[row * size + row] as number);
  }
}

/**
 * Solution of a system whose matrix has equal entries along every diagonal, in about 4·n² steps for
 * each right side instead of n³/3.
 *
 * Formula: the recursion of Levinson: from the solution for the leading k rows that for k + 1 rows
 * follows by one step along the forward and backward vectors of the matrix.
 *
 * @param diagonals entry j − i + n − 1 stands at row i and column j; 2n − 1 entries
 * @param rightSides arrays of n numbers
 * @returns the solutions
 * Validity: every leading block must be regular, as in I − Q of a chain that ends; there the error
 * stays near that of elimination.
 * Source: G. H. Golub and C. F. Van Loan (1996), Matrix Computations, 4.7.7
 * @example solveToeplitz(new Float64Array([1, 4, 2]), [new Float64Array([10, 9])])[0][1] // 26 / 14
 */
export function solveToeplitz(
  diagonals: Float64Array,
  rightSides: readonly Float64Array[],
): Float64Array[] {
  const size = (diagonals.length + 1) / 2;
  const at = (offset: number): number => diagonals[offset + size - 1] as number;
  const forward = new Float64Array(size);
  const backward = new Float64Array(size);
  const solutions = rightSides.map(() => new Float64Array(size));
  forward[0] = 1 / at(0);
  backward[0] = 1 / at(0);
  solutions.forEach((solution, side) => {
    solution[0] = (rightSides[side]?.[0] as number) / at(0);
  });
  for (let known = 1; known < size; known += 1) {
    extendVectors(forward, backward, diagonals, known);
    solutions.forEach((solution, side) => {
      let error = rightSides[side]?.[known] as number;
      for (let k = 0; k < known; k += 1) {
        error -= (diagonals[k - known + size - 1] as number) * (solution[k] as number);
      }
      for (let k = 0; k <= known; k += 1) {
        solution[k] = (solution[k] as number) + error * (backward[k] as number);
      }
    });
  }
  return solutions;
}

/** Forward and backward vectors (solutions for the first and last unit vector) of one more row. */
function extendVectors(
  forward: Float64Array,
  backward: Float64Array,
  diagonals: Float64Array,
  known: number,
): void {
  const zero = (diagonals.length - 1) / 2;
  let forwardError = 0;
  let backwardError = 0;
  for (let k = 0; k < known; k += 1) {
    forwardError += (diagonals[zero + k - known] as number) * (forward[k] as number);
    backwardError += (diagonals[zero + k + 1] as number) * (backward[k] as number);
  }
  const scale = 1 / (1 - forwardError * backwardError);
  let shifted = 0;
  for (let k = 0; k <= known; k += 1) {
    const ahead = forward[k] as number;
    const behind = shifted;
    shifted = backward[k] as number;
    forward[k] = scale * (ahead - forwardError * behind);
    backward[k] = scale * (behind - backwardError * ahead);
  }
}
