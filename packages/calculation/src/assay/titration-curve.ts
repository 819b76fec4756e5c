import { DomainError } from '../quantity/domain.ts';
import { medianOf } from '../quantity/median.ts';

/** A titration curve: volumes rise, potentials as read. */
export interface TitrationCurve {
  readonly volumes: readonly number[];
  readonly potentials: readonly number[];
}

/** What an end-point method gives. */
export interface EndPointEstimate {
  readonly volume: number;
  /** Limits from the scatter of the potentials alone, for a coverage factor. */
  readonly scatterLimits: (coverageFactor: number) => readonly [number, number];
  /** From the steps being coarse beside the rise of the curve. */
  readonly stepUncertainty: number;
  /** Slope of the curve at the end point; null where the method has none. */
  readonly slope: number | null;
  /** Standard deviation of the potentials about the curve; that stated, where one was. */
  readonly potentialDeviation: number;
  readonly degreesOfFreedom: number | null;
}

/** Limits at equal distance on both sides. */
export const evenLimits =
  (volume: number, standardUncertainty: number) =>
  (factor: number): readonly [number, number] => [
    volume - factor * standardUncertainty,
    volume + factor * standardUncertainty,
  ];

/** Slope of each step. */
export function stepSlopes({ volumes, potentials }: TitrationCurve): number[] {
  return volumes.slice(1).map((volume, i) => {
    const rise = (potentials[i + 1] as number) - (potentials[i] as number);
    return rise / (volume - (volumes[i] as number));
  });
}

/** Weights that carry a cubic through four places to a fifth one. */
function cubicWeights(places: readonly number[], at: number): number[] {
  return places.map((own, k) =>
    places.reduce(
      (product, other, j) => (j === k ? product : (product * (at - other)) / (own - other)),
      1,
    ),
  );
}

/**
 * Standard deviation of one potential from the curve itself: how far each lies from the cubic
 * through its two neighbours on either side. The median leaves out the steep part, where a cubic
 * does not follow; 0.6745 makes it a standard deviation of normal scatter.
 */
export function scatterOfPotentials(curve: TitrationCurve): number {
  const { volumes, potentials } = curve;
  const distances: number[] = [];
  for (let i = 2; i + 2 < volumes.length; i += 1) {
    const around = [i - 2, i - 1, i + 1, i + 2];
    const places = around.map((k) => volumes[k] as number);
    const weights = cubicWeights(places, volumes[i] as number);
    const expected = around.reduce(
      (sum, k, j) => sum + (weights[j] ?? 0) * (potentials[k] ?? 0),
      0,
    );
    const squares = weights.reduce((sum, weight) => sum + weight * weight, 1);
    distances.push(Math.abs((potentials[i] as number) - expected) / Math.sqrt(squares));
  }
  return medianOf(distances) / 0.6744897501960817;
}

/** Refuses a curve that holds no end point, or not one that its method can find. */
export function refuseCurve(
  value: string,
  accepted = 'a curve with an end point: somewhere inside, at least two points from either end, a rise several times as steep as the rest and far beyond the scatter of the potentials',
): never {
  throw new DomainError({ field: 'curve', value, accepted });
}

/** Ends that differ by less than this many standard deviations of a potential show no rise. */
const leastRiseInDeviations = 10;
/** A steepest step below this multiple of the slope from end to end is no jump. */
const leastSteepness = 2;
/** Above this many standard deviations a single step is surely the steep one. */
const clearRiseInDeviations = 20;

/** Refuses a curve that shows no more than scatter, or a straight line, about its steepest step. */
function requireJump(curve: TitrationCurve, deviation: number, index: number): void {
  const { potentials, volumes } = curve;
  const last = volumes.length - 1;
  const ends = (potentials[last] as number) - (potentials[0] as number);
  if (!(Math.abs(ends) > leastRiseInDeviations * deviation)) {
    refuseCurve(`a curve whose ends differ by ${ends} with a scatter of ${deviation}`);
  }
  if (index < 2 || index > last - 3) refuseCurve('a curve that is steepest at its end');
  const usual = ends / ((volumes[last] as number) - (volumes[0] as number));
  // Steps about the steepest one are taken together until scatter cannot make their rise.
  for (let reach = 0; reach < last; reach += 1) {
    const from = Math.max(0, index - reach);
    const to = Math.min(last, index + 1 + reach);
    const width = (volumes[to] as number) - (volumes[from] as number);
    const rise = (potentials[to] as number) - (potentials[from] as number);
    const beyond = (rise - usual * width) * Math.sign(ends);
    if (rise / width / usual < leastSteepness && reach > 0) break;
    if (beyond > leastRiseInDeviations * deviation) return;
  }
  refuseCurve('a curve whose steepest part is within its scatter, or hardly steeper than the rest');
}

/** Step of the greatest slope, as read. */
export function steepestOf(curve: TitrationCurve): number {
  const size = stepSlopes(curve).map(Math.abs);
  return size.indexOf(Math.max(...size));
}

/** Whether the rise over a step is far beyond the scatter. */
export function isClear(curve: TitrationCurve, index: number, deviation: number): boolean {
  const rise = (curve.potentials[index + 1] as number) - (curve.potentials[index] as number);
  return Math.abs(rise) > clearRiseInDeviations * deviation;
}

/** Checks that a step is the jump of an end point, and gives the share of its slope that its neighbours lack. */
export function contrastOfJump(curve: TitrationCurve, index: number, deviation: number): number {
  requireJump(curve, deviation, index);
  const size = stepSlopes(curve).map(Math.abs);
  const beside = ((size[index - 1] as number) + (size[index + 1] as number)) / 2;
  return Math.min(1, Math.max(0, 1 - beside / (size[index] as number)));
}

/**
 * Standard uncertainty from coarse steps. Where one step holds almost the whole rise the end point
 * may lie anywhere in it (rectangular, step/√12); where its neighbours are as steep the curve is
 * resolved. Between the two it is taken in proportion, a rule of our own whose coverage
 * laws/titration.test.ts shows.
 */
export function uncertaintyOfSteps(curve: TitrationCurve, index: number, contrast: number): number {
  const step = (curve.volumes[index + 1] as number) - (curve.volumes[index] as number);
  return (contrast * step) / Math.sqrt(12);
}
