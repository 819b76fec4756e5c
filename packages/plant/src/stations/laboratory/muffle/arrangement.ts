import type { MuffleGrid } from './grid.ts';

/**
 * Proofs spread among the portions, first and last ones at the ends: heat and draught change along
 * a muffle, so that proofs that stand together would speak for one corner only.
 */
export function arrangedLabels(
  proofs: readonly string[],
  others: readonly string[],
): readonly string[] {
  const cupels = proofs.length + others.length;
  const places = Array.from<string | undefined>({ length: cupels });
  for (const [index, proof] of proofs.entries()) {
    const at = proofs.length < 2 ? 0 : Math.round((index * (cupels - 1)) / (proofs.length - 1));
    places[at] = proof;
  }
  const waiting = [...others];
  return places.map((label) => label ?? waiting.shift() ?? '');
}

/** The cupels of a run in rows from the back, as wide as the muffle. */
export function arrangedGrid(
  run: { readonly proofs: readonly string[]; readonly others: readonly string[] },
  columns: number,
): MuffleGrid {
  const labels = arrangedLabels(run.proofs, run.others);
  return {
    rows: Math.max(1, Math.ceil(labels.length / columns)),
    columns,
    cupels: labels.map((label, at) => ({
      row: Math.floor(at / columns) + 1,
      column: (at % columns) + 1,
      label,
    })),
  };
}
