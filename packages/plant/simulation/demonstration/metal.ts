import type { Chance } from '../chance.ts';
import type { DemonstrationStandard } from './cast.ts';

/** A melt as it really is; only readings of it reach the record. */
export interface TrueMelt {
  readonly melt: string;
  readonly standard: DemonstrationStandard;
  readonly finenessPerMille: number;
  /** How far it lies above the limit. */
  readonly marginPerMille: number;
  /** True when some of its blanks are too thick. */
  readonly isThick: boolean;
  /** Mean mass of its blanks, in grams. */
  readonly meanGrams: number;
}

/** A heap of pieces as it really is: the mass of each, in grams. */
export type Heap = number[];

/** Makes a melt whose fineness lies that far above the limit. */
export function makeMelt(
  options: {
    melt: string;
    standard: DemonstrationStandard;
    marginPerMille: number;
    isThick: boolean;
  },
  chance: Chance,
): TrueMelt {
  const { melt, standard, marginPerMille, isThick } = options;
  const lotGrams = standard.lotStandardDeviationMilligrams / 1000;
  return {
    melt,
    standard,
    marginPerMille,
    isThick,
    finenessPerMille: standard.finenessLimitPerMille + marginPerMille,
    meanGrams: chance.normal(standard.massDeclaredMilligrams / 1000, lotGrams * 0.7),
  };
}

/** Blanks of a melt: the supplier's sorter lets none pass that is outside the limits of mass. */
export function makeBlanks(melt: TrueMelt, pieces: number, chance: Chance): Heap {
  const { standard, meanGrams } = melt;
  const sorterGrams = 0.004;
  const least = standard.massLeastMilligrams / 1000 + sorterGrams;
  const greatest = standard.massGreatestMilligrams / 1000 - sorterGrams;
  const sd = standard.pieceStandardDeviationMilligrams / 1000;
  const blanks: Heap = [];
  while (blanks.length < pieces) {
    const grams = chance.normal(meanGrams, sd);
    if (grams >= least && grams <= greatest) blanks.push(grams);
  }
  return blanks;
}

/** The true mass of a heap, in grams. */
export function heapGrams(heap: Heap): number {
  return heap.reduce((sum, grams) => sum + grams, 0);
}

/** Takes so many pieces off a heap. */
export function take(heap: Heap, pieces: number): Heap {
  if (heap.length < pieces) throw new RangeError(`${heap.length} pieces are not ${pieces}`);
  return heap.splice(0, pieces);
}

/** Takes the pieces at those positions (from 1) off a heap, in that order. */
export function takeAt(heap: Heap, positions: readonly number[]): Heap {
  const taken = positions.map((position) => {
    const grams = heap[position - 1];
    if (grams === undefined) throw new RangeError(`there is no piece at ${position}`);
    return grams;
  });
  const gone = new Set(positions);
  const left = heap.filter((_, index) => !gone.has(index + 1));
  heap.splice(0, heap.length, ...left);
  return taken;
}
