import type { PlantSize } from './ground.ts';

/** Runs have at most so many pieces. */
const mostPiecesPerRun = 1200;

/** Runs that one press makes in a shift at the most. */
const mostRunsPerShift = 4;

/** A plant that strikes about so many pieces in a day of three shifts. */
export function sizeFor(piecesPerDay: number): PlantSize {
  const perShift = piecesPerDay / 3;
  const presses = Math.max(2, Math.ceil(perShift / (mostPiecesPerRun * mostRunsPerShift)));
  const perPress = perShift / presses;
  const runsPerShift = Math.max(1, Math.ceil(perPress / mostPiecesPerRun));
  const piecesPerRun = Math.max(12, Math.round(perPress / runsPerShift));
  return {
    presses,
    runsPerShift,
    piecesPerRun,
    benches: Math.max(3, presses),
    drumsPerMelt: Math.max(4, Math.min(12, Math.ceil(perPress / 600))),
  };
}
