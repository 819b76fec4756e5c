import type { PlantSize } from './ground.ts';

/** Runs have about so many pieces at the most. */
const mostPiecesPerRun = 1200;

/** Runs that one press makes in a shift at the most. */
const mostRunsPerShift = 4;

/** The same in a plant of many presses, so that a search or a late melt does not outlast the shift. */
const runsPerShiftOfMany = 3;

/** Pieces of a run there, at the most: an hour at a stroke a second. */
const mostPiecesPerLongRun = 3600;

/** So many tubes one bench closes in a shift beside everything else. */
const tubesPerBench = 300;

/** More presses than these make the plant a large one, whose melts are larger, too. */
const fewPresses = 2;

/** Containers of another size than those of the demonstration. */
type Containers = Pick<PlantSize, 'piecesPerTube' | 'tubesPerBox'>;

/** A plant that strikes about so many pieces in a day of three shifts. */
export function sizeFor(piecesPerDay: number, containers: Containers = {}): PlantSize {
  const perShift = piecesPerDay / 3;
  const few = Math.max(fewPresses, Math.ceil(perShift / (mostPiecesPerRun * mostRunsPerShift)));
  const size = few > fewPresses ? large(perShift, containers) : small(perShift, few);
  return { ...size, ...containers };
}

function small(perShift: number, presses: number): PlantSize {
  const perPress = perShift / presses;
  const runsPerShift = Math.max(1, Math.ceil(perPress / mostPiecesPerRun));
  const piecesPerRun = Math.max(12, Math.round(perPress / runsPerShift));
  return {
    presses,
    runsPerShift,
    piecesPerRun,
    isLarge: false,
    benches: Math.max(3, presses),
    drumsPerMelt: Math.max(4, Math.min(12, Math.ceil(perPress / 600))),
    piecesPerDrum: { gold: 240, silver: 300 },
  };
}

function large(perShift: number, { piecesPerTube = 20 }: Containers): PlantSize {
  const presses = Math.max(3, Math.ceil(perShift / (mostPiecesPerLongRun * runsPerShiftOfMany)));
  const piecesPerRun = Math.round(perShift / presses / runsPerShiftOfMany);
  return {
    presses,
    runsPerShift: runsPerShiftOfMany,
    piecesPerRun,
    isLarge: true,
    benches: Math.max(3, Math.ceil(perShift / piecesPerTube / tubesPerBench)),
    drumsPerMelt: Math.max(12, Math.min(24, Math.ceil(perShift / 1000))),
    // As many as the floor balance can prove with some room: from 450 silver pieces on it cannot.
    piecesPerDrum: { gold: 400, silver: 400 },
  };
}
