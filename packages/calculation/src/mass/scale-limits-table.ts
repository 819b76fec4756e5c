/** Accuracy classes of scales, the finest first. */
export const scaleClasses = ['I', 'II', 'III', 'IIII'] as const;

export type ScaleClass = (typeof scaleClasses)[number];

/** What a class asks of a scale whose verification scale interval lies in a range. */
export interface ScaleClassRow {
  readonly scaleClass: ScaleClass;
  /** Range of the verification scale interval, decimal text in grams; null for no upper end. */
  readonly leastIntervalGrams: string;
  readonly greatestIntervalGrams: string | null;
  readonly leastIntervals: number;
  /** Null where the class sets no upper number. */
  readonly greatestIntervals: number | null;
  readonly leastCapacityIntervals: number;
}

/** Classes of scales (OIML R 76-1:2006, Table 3). */
export const scaleClassRows: readonly ScaleClassRow[] = [
  row('I', ['0.001', null], [50_000, null], 100),
  row('II', ['0.001', '0.05'], [100, 100_000], 20),
  row('II', ['0.1', null], [5000, 100_000], 50),
  row('III', ['0.1', '2'], [100, 10_000], 20),
  row('III', ['5', null], [500, 10_000], 20),
  row('IIII', ['5', null], [100, 1000], 10),
];

function row(
  scaleClass: ScaleClass,
  [leastIntervalGrams, greatestIntervalGrams]: readonly [string, string | null],
  [leastIntervals, greatestIntervals]: readonly [number, number | null],
  leastCapacityIntervals: number,
): ScaleClassRow {
  return {
    scaleClass,
    leastIntervalGrams,
    greatestIntervalGrams,
    leastIntervals,
    greatestIntervals,
    leastCapacityIntervals,
  };
}

/**
 * Loads in verification scale intervals up to which the maximum permissible error is half an
 * interval and one interval; beyond, it is one and a half (OIML R 76-1:2006, Table 6).
 */
export const errorStepsByClass: Readonly<Record<ScaleClass, { half: number; one: number }>> = {
  I: { half: 50_000, one: 200_000 },
  II: { half: 5000, one: 20_000 },
  III: { half: 500, one: 2000 },
  IIII: { half: 50, one: 200 },
};
