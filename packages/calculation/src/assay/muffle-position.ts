import { requireDomain } from '../quantity/domain.ts';
import { invertSymmetric } from './polynomial-fit.ts';

/** A place in the muffle: row from the door inwards, column from left to right; both from 1. */
interface MufflePosition {
  readonly row: number;
  readonly column: number;
}

export const interpolations = ['mean', 'inverse distance', 'plane'] as const;
type Interpolation = (typeof interpolations)[number];

/** Terms of a plane about the middle of the proofs. */
function planeTerms(proofs: readonly MufflePosition[], at: MufflePosition): number[] {
  const middle = (pick: (one: MufflePosition) => number) =>
    proofs.reduce((sum, one) => sum + pick(one), 0) / proofs.length;
  return [1, at.row - middle((one) => one.row), at.column - middle((one) => one.column)];
}

const dot = (left: readonly number[], right: readonly number[]) =>
  left.reduce((sum, value, i) => sum + value * (right[i] ?? 0), 0);

/** Inverse of the normal matrix of a plane through the proofs; null where they lie on one line. */
function planeInverse(proofs: readonly MufflePosition[]): number[][] | null {
  const rows = proofs.map((proof) => planeTerms(proofs, proof));
  const matrix = [0, 1, 2].map((i) =>
    [0, 1, 2].map((j) => rows.reduce((sum, row) => sum + (row[i] ?? 0) * (row[j] ?? 0), 0)),
  );
  const [, [, a = 0, b = 0] = [], [, , c = 0] = []] = matrix;
  // Positions are whole numbers, so that a line of proofs gives a determinant near rounding.
  return a * c - b * b > 1e-9 ? invertSymmetric(matrix) : null;
}

function inverseDistanceShares(proofs: readonly MufflePosition[], at: MufflePosition): number[] {
  const squares = proofs.map((one) => (one.row - at.row) ** 2 + (one.column - at.column) ** 2);
  const here = squares.filter((square) => square === 0).length;
  if (here > 0) return squares.map((square) => (square === 0 ? 1 / here : 0));
  const total = squares.reduce((sum, square) => sum + 1 / square, 0);
  return squares.map((square) => 1 / square / total);
}

/**
 * Share of each proof in the correction at a place; the shares add to 1. 'mean': all alike.
 * 'inverse distance': in proportion to 1/distance², rows and columns one apart. 'plane': what the
 * least-squares plane through the proofs gives there.
 */
export function proofShares(
  interpolation: Interpolation,
  proofs: readonly MufflePosition[],
  at: MufflePosition,
): number[] {
  if (interpolation === 'mean') return proofs.map(() => 1 / proofs.length);
  if (interpolation === 'inverse distance') return inverseDistanceShares(proofs, at);
  const inverse = planeInverse(proofs);
  requireDomain(inverse !== null, {
    field: 'proofs',
    value: `${proofs.length} proofs on one line`,
    accepted: 'three proofs or more that do not lie on one line, or another interpolation',
  });
  const terms = planeTerms(proofs, at);
  const weights = inverse.map((row) => dot(row, terms));
  return proofs.map((proof) => dot(planeTerms(proofs, proof), weights));
}

/** Gradient of the losses over the muffle with the factor of its variance; null where proofs cannot tell. */
export function gradientOf(proofs: readonly MufflePosition[], losses: readonly number[]) {
  const inverse = planeInverse(proofs);
  if (inverse === null) return null;
  const terms = proofs.map((proof) => planeTerms(proofs, proof));
  const right = [0, 1, 2].map((k) =>
    losses.reduce((sum, loss, i) => sum + loss * (terms[i]?.[k] ?? 0), 0),
  );
  const [, perRow = 0, perColumn = 0] = inverse.map((row) => dot(row, right));
  return {
    perRow,
    perColumn,
    rowVariance: inverse[1]?.[1] ?? 0,
    columnVariance: inverse[2]?.[2] ?? 0,
  };
}
