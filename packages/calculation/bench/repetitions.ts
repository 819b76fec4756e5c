/** Warm turns after a first one that took so long: about a second in all, 3 to 200. */
export function repetitions(firstSeconds: number): number {
  return Math.max(3, Math.min(200, Math.round(1 / Math.max(firstSeconds, 1e-6))));
}
