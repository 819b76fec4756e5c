import { gramRatio } from '@cupel/calculation';
import { placeName } from '../account/index.ts';
import { faultKinds } from './fault-kinds.ts';
import { type Lattice, ways } from './lattice.ts';
import type { LookAgain } from './look-again.ts';
import { type FoundSlip, slippedGrams } from './mass-slip-suspicions.ts';
import { partIn } from './rack-suspicions.ts';
import type { Cell, SearchFacts } from './search-facts.ts';
import { lookFor, piecesText, type Suspicion } from './suspicion.ts';

/** A weighing can be worthless, so that no ratio goes beyond the chance of that, either way. */
function boundedRatio(ratio: number, badWeighingProbability: number): number {
  return Math.min(1 / badWeighingProbability, Math.max(badWeighingProbability, ratio));
}

/** A place counted once more by another person, who can miscount as well. */
function countedAgain({ rates }: Lattice): LookAgain {
  const { seenIfThere, assumedRate } = faultKinds['tally miscounted'];
  return {
    recordedPieces: 0,
    // One counted too few is one more at the next count.
    changes: [
      { value: -1, pieces: 1 },
      { value: 1, pieces: -1 },
    ],
    act: {
      kind: 'count',
      seenIfThere,
      newErrorProbability: 2 * (rates.get('tally miscounted') ?? assumedRate),
    },
  };
}

/** What the balance of grams says of a place. */
function gramWords({ place, grams }: Cell, slipped: number): string | null {
  if (grams === null) return null;
  const slip = slipped === 0 ? '' : `, ${slipped.toFixed(2)} g of them a slip in writing`;
  return `${grams.missing.toFixed(2)} g missing by weight in ${placeName(place)}, standard uncertainty ${grams.standardUncertainty.toFixed(2)} g${slip}`;
}

/** Faults of the tally itself, pieces gone from a place, and what nobody thought of. */
export function ofPlaces(
  lattice: Lattice,
  { standard }: SearchFacts,
  slips: readonly FoundSlip[],
): readonly Suspicion[] {
  const pieceGrams = standard.massDeclaredMilligrams / 1000;
  const gramsOf = ({ place, grams }: Cell): number =>
    grams === null || grams.standardUncertainty <= 0
      ? 1
      : boundedRatio(
          gramRatio(
            {
              missingGrams: grams.missing - slippedGrams(slips, place),
              standardUncertaintyGrams: grams.standardUncertainty,
            },
            pieceGrams,
          ),
          standard.badWeighingProbability,
        );
  return lattice.cells.flatMap((cell): Suspicion[] => {
    const { place } = cell;
    const name = placeName(place);
    const share = (pieces: number): number => partIn(cell, null, pieces);
    const where = cell.racks.length > 0 ? `${name} beside its racks` : name;
    return [
      {
        name: `tally of ${place}`,
        kind: 'tally miscounted',
        options: ways(lattice, 'tally miscounted', [
          { value: -1, adds: { [place]: 1 }, share: share(-1) },
          { value: 1, adds: { [place]: -1 }, share: share(1) },
        ]),
        words: (value) =>
          `the tally of ${where} counted ${piecesText(Math.abs(value))} too ${value < 0 ? 'few' : 'many'}`,
        evidence: null,
        again: countedAgain(lattice),
        look: lookFor('tally miscounted', `count/${place}`, `Let another person count ${where}`),
      },
      {
        name: `gone from ${place}`,
        kind: 'piece gone',
        options: ways(lattice, 'piece gone', [
          { value: -1, adds: { [place]: 1 }, ratio: gramsOf(cell), share: share(-1) },
        ]),
        words: (value) => `${piecesText(Math.abs(value))} lost in ${where} or taken from it`,
        evidence: gramWords(cell, slippedGrams(slips, place)),
        look: lookFor('piece gone', `floor/${place}`, `Look through ${where}`),
      },
      {
        name: `something else in ${place}`,
        kind: 'something else',
        options: ways(lattice, 'something else', [
          { value: -1, adds: { [place]: 1 } },
          { value: 1, adds: { [place]: -1 } },
        ]),
        words: () => `something else in ${name}`,
        evidence: null,
        look: lookFor('something else', `else/${place}`, `Walk through the shift of ${name}`),
      },
    ];
  });
}
