/** What an element below its detection limit counts as, of that limit. */
export const shareOfLimit = { zero: 0, half: 0.5, limit: 1 } as const;
export type LimitPolicy = keyof typeof shareOfLimit;
