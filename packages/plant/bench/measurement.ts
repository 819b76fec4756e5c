/** One line of the table that the bench prints. */
export interface Measurement {
  readonly what: string;
  /** The figure of the product, with its unit. */
  readonly ours: string;
  /** The same work done bare in the same run; empty where there is nothing to compare with. */
  readonly bare: string;
  /** Ours against bare: how many times the time it takes. */
  readonly ratio: string;
}

/** The middle one of some figures. */
export function median(figures: readonly number[]): number {
  const sorted = [...figures].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}

/** Seconds that the work took, and what it gave. */
export async function timed<Result>(
  work: () => Promise<Result>,
): Promise<{ seconds: number; result: Result }> {
  const start = performance.now();
  const result = await work();
  return { seconds: (performance.now() - start) / 1000, result };
}

const rounded = (value: number): string =>
  value >= 100 ? Math.round(value).toLocaleString('en') : value.toPrecision(3);

/** A rate beside the rate of the same work done bare. */
export function rateBesideBare(options: {
  what: string;
  unit: string;
  count: number;
  ourSeconds: number;
  bareSeconds: number;
}): Measurement {
  const { what, unit, count, ourSeconds, bareSeconds } = options;
  return {
    what,
    ours: `${rounded(count / ourSeconds)} ${unit}`,
    bare: `${rounded(count / bareSeconds)} ${unit}`,
    ratio: `${(ourSeconds / bareSeconds).toFixed(2)} × the time`,
  };
}

/** The measurements as a table of text. */
export function tableText(measurements: readonly Measurement[]): string {
  const heading = { what: 'what', ours: 'whole stack', bare: 'bare', ratio: 'ratio' };
  const rows = [heading, ...measurements].map(({ what, ours, bare, ratio }) => [
    what,
    ours,
    bare,
    ratio,
  ]);
  const widths = [0, 1, 2, 3].map((at) => Math.max(...rows.map((row) => row[at]?.length ?? 0)));
  return rows
    .map((row) =>
      row
        .map((cell, at) => cell.padEnd(widths[at] ?? 0))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}
