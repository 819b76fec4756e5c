import { logOfSum } from '../quantity/log-sum.ts';
import { type DriftTube, type SharedFit, sharedFit } from './drift-evidence.ts';

/** A change from some tube on: what each tube as the first one would explain. */
export interface Change {
  readonly place: number;
  readonly pieces: number;
  readonly fit: SharedFit;
}

/** A step of the mean piece mass at each tube but the first. */
export function stepsOf(tubes: readonly DriftTube[], shared: number, size: number): Change[] {
  const pieces = tubes.map((tube) => tube.pieces);
  return tubes.slice(1).map((_, index) => {
    const place = index + 1;
    const weights = pieces.map((count, at) => (at >= place ? count : 0));
    const fit = sharedFit(tubes, [
      { weights: pieces, variance: shared },
      { weights, variance: size },
    ]);
    return { place, pieces: 0, fit };
  });
}

/** A piece more or less in every tube, from each tube on. */
export function countShiftsOf(
  tubes: readonly DriftTube[],
  shared: number,
  pieceMass: number,
): Change[] {
  const weights = tubes.map((tube) => tube.pieces);
  return [-1, 1].flatMap((pieces) =>
    tubes.map((_, place) => {
      const shifted = tubes.map((tube, at) =>
        at >= place
          ? {
              ...tube,
              pieces: tube.pieces + pieces,
              residual: tube.residual - pieces * pieceMass,
            }
          : tube,
      );
      return { place, pieces, fit: sharedFit(shifted, [{ weights, variance: shared }]) };
    }),
  );
}

/** The change that explains the tubes best, and its probability among its like. */
export function bestOf(changes: readonly Change[]): { change: Change; probability: number } {
  const change = changes.reduce((best, one) =>
    one.fit.logEvidence > best.fit.logEvidence ? one : best,
  );
  const all = logOfSum(changes.map((one) => one.fit.logEvidence));
  return { change, probability: Math.exp(change.fit.logEvidence - all) };
}

/** Probability of each tube that a shift of the counts has reached it, given such a shift. */
export function shiftReached(changes: readonly Change[], tubes: number): number[] {
  const all = logOfSum(changes.map((one) => one.fit.logEvidence));
  const weights = changes.map((one) => Math.exp(one.fit.logEvidence - all));
  return Array.from({ length: tubes }, (_, index) =>
    changes.reduce((sum, one, at) => sum + (one.place <= index ? (weights[at] as number) : 0), 0),
  );
}
