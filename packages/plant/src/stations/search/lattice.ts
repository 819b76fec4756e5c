import { type FaultKind, type FaultRates, oddsOf } from './fault-kinds.ts';
import type { Cell } from './search-facts.ts';

/** Where each tallied place stands in the residual vector. */
export interface Lattice {
  readonly cells: readonly Cell[];
  readonly rates: FaultRates;
}

/** A signature from what a fault adds to the residual of each place; places not tallied do not show it. */
export function signature(lattice: Lattice, adds: Readonly<Record<string, number>>): number[] {
  return lattice.cells.map(({ place }) => adds[place] ?? 0);
}

const isSeen = (vector: readonly number[]): boolean => vector.some((value) => value !== 0);

/** Options of a fault that can go either way; a way that no tally could show is left out. */
export function ways(
  lattice: Lattice,
  kind: FaultKind,
  options: readonly {
    readonly value: number;
    readonly adds: Readonly<Record<string, number>>;
    readonly share?: number;
    readonly ratio?: number;
  }[],
) {
  return options
    .map(({ value, adds, share, ratio }) => ({
      value,
      weight: oddsOf(lattice.rates, kind, share) * (ratio ?? 1),
      signature: signature(lattice, adds),
    }))
    .filter((option) => isSeen(option.signature));
}
