import type { MovementRow } from '../../journal/core-books.ts';

/** Metal of one piece standard that went one way, added up. */
export type ShiftFlow = {
  readonly from: string;
  readonly to: string;
  readonly metal: string;
  readonly pieceStandard: string;
  readonly movements: number;
  readonly pieces: number;
  readonly grossMicrograms: number;
  readonly fineMicrograms: number;
  /** True where the masses were estimated: they stand apart from those that were weighed. */
  readonly estimated: boolean;
};

/** Movements of a shift, added up by the way they went; what was estimated apart. */
export function shiftFlows(rows: readonly MovementRow[]): readonly ShiftFlow[] {
  const sums = new Map<string, ShiftFlow>();
  for (const row of rows) {
    const key = [row.from, row.to, row.pieceStandard, row.estimated].join('\n');
    const before = sums.get(key);
    sums.set(key, {
      from: row.from,
      to: row.to,
      metal: row.metal,
      pieceStandard: row.pieceStandard,
      movements: (before?.movements ?? 0) + 1,
      pieces: (before?.pieces ?? 0) + row.pieces,
      grossMicrograms: (before?.grossMicrograms ?? 0) + row.grossMicrograms,
      fineMicrograms: (before?.fineMicrograms ?? 0) + row.fineMicrograms,
      estimated: row.estimated,
    });
  }
  return [...sums.values()];
}
