import type { CertificateLine, DispatchRow } from '../books.ts';

/** A sealed box in the strong room. */
export interface StrongRoomBox {
  readonly box: string;
  readonly seal: string;
  readonly pieceStandard: string;
  readonly title: string;
  readonly metal: string;
  readonly tubes: number;
  readonly pieces: number;
  readonly grossMicrograms: number;
  readonly fineMicrograms: number;
  readonly packed: string;
  readonly certificate: string | null;
}

/** What the question `certificate-desk` answers. */
export interface DeskAnswer {
  readonly seesBook: boolean;
  readonly boxes: readonly StrongRoomBox[];
  readonly certificates: readonly CertificateLine[];
  readonly dispatches: readonly (DispatchRow & { readonly purchaserName: string })[];
}

/** Sum of a whole number over rows. */
export function sumOf<Row>(rows: readonly Row[], value: (row: Row) => number): number {
  return rows.reduce((sum, row) => sum + value(row), 0);
}

/** What lies in the strong room of one metal. */
export interface MetalSum {
  readonly metal: string;
  readonly pieces: number;
  readonly fineMicrograms: number;
}

/** Sums for each metal by itself: fine gold and fine silver are never added to each other. */
export function sumsByMetal(
  rows: readonly Pick<StrongRoomBox, 'metal' | 'pieces' | 'fineMicrograms'>[],
): readonly MetalSum[] {
  return [...Map.groupBy(rows, ({ metal }) => metal)]
    .map(([metal, own]) => ({
      metal,
      pieces: sumOf(own, ({ pieces }) => pieces),
      fineMicrograms: sumOf(own, ({ fineMicrograms }) => fineMicrograms),
    }))
    .sort((left, right) => (left.metal < right.metal ? -1 : 1));
}
