import { choleskyInverse } from './cholesky.ts';
import { massSummary } from './mass-summary.ts';
import { climb, expectationStep, isProper, reduce } from './two-normals-climb.ts';
import {
  classed,
  type Parameters,
  type Slope,
  type Tally,
  tally,
} from './two-normals-likelihood.ts';

/** Two normal heaps in one lot; the first is the lighter one. */
export interface TwoNormals {
  /** Share of the first. */
  readonly share: number;
  readonly means: readonly [number, number];
  readonly standardDeviations: readonly [number, number];
}

/** Fit of two normal distributions with the covariance of its figures. */
export interface TwoNormalsFit extends TwoNormals {
  readonly logLikelihood: number;
  /** Of share, both means and both standard deviations, in this order. */
  readonly covariance: readonly (readonly number[])[];
  readonly steps: number;
  /** How many of the starts led to this maximum. */
  readonly startsAgreed: number;
  readonly starts: number;
}

const expectationSteps = 30;

/** Starts from splits of the ordered sample, and from a narrow and a wide heap on one mean. */
function startsFor(data: Tally): Parameters[] {
  let total = 0;
  for (const number of data.numbers) total += number;
  const splits = [0.1, 0.25, 0.4, 0.5, 0.6, 0.75, 0.9].flatMap((split): Parameters[] => {
    const sums = [0, 0, 0, 0, 0, 0];
    let passed = 0;
    for (let index = 0; index < data.values.length; index += 1) {
      const number = data.numbers[index] as number;
      const side = passed + number / 2 <= split * total ? 0 : 3;
      const x = data.values[index] as number;
      sums[side] = (sums[side] as number) + number;
      sums[side + 1] = (sums[side + 1] as number) + number * x;
      sums[side + 2] = (sums[side + 2] as number) + number * x * x;
      passed += number;
    }
    const [n1, x1, xx1, n2, x2, xx2] = sums as [number, number, number, number, number, number];
    if (n1 === 0 || n2 === 0) return [];
    const deviation = (n: number, x: number, xx: number): number =>
      Math.log(Math.max(0.1, Math.sqrt(Math.max(0, xx / n - (x / n) ** 2))));
    return [[Math.log(n1 / n2), x1 / n1, x2 / n2, deviation(n1, x1, xx1), deviation(n2, x2, xx2)]];
  });
  return [
    ...splits,
    [Math.log(0.9 / 0.1), -0.05, 0.05, Math.log(0.7), Math.log(2.5)],
    [Math.log(0.6 / 0.4), -0.05, 0.05, Math.log(0.5), Math.log(1.4)],
  ];
}

/**
 * Two normal distributions mixed in one sample, by maximum likelihood.
 *
 * Formula: expectation and maximisation from nine fixed starts on the values in 400 classes, then Newton's
 * method with exact second derivatives on the values themselves; the greatest maximum with no component
 * narrower than a fiftieth of the sample's deviation and none of less than two values. The covariance is
 * the inverse of the observed information, carried over to share and deviations.
 *
 * @param masses 10 or more finite values of one unit, not all equal
 * @param isEqual whether both components share one standard deviation
 * @returns the fit with the lighter component first, or null where no proper maximum is found
 * Validity: deterministic; with unequal deviations the likelihood is unbounded where a component shrinks
 * on one value, which the least width shuts out. Held against published estimates in
 * reference/two-components and against scipy in reference/generated/weights.
 * Source: A. P. Dempster, N. M. Laird and D. B. Rubin (1977), Journal of the Royal Statistical Society B
 * 39, 1-38; N. E. Day (1969), Biometrika 56, 463-474
 * @example fitTwoNormals([1, 1.1, 1.2, 0.9, 0.8, 3, 3.1, 3.2, 2.9, 2.8], true)?.means[1] // 3
 */
export function fitTwoNormals(masses: readonly number[], isEqual: boolean): TwoNormalsFit | null {
  const { mean, variance } = massSummary(masses);
  const scale = Math.sqrt(variance);
  const full = tally(Float64Array.from(masses, (mass) => (mass - mean) / scale).sort());
  const coarse = classed(full);
  const candidates = startsFor(coarse).flatMap((start) => {
    let parameters = start;
    for (let step = 0; step < expectationSteps; step += 1) {
      parameters = expectationStep(coarse, parameters, isEqual);
    }
    const found = climb(coarse, parameters, isEqual);
    return found.isSettled && isProper(found.parameters, masses.length) ? [found] : [];
  });
  if (candidates.length === 0) return null;
  const best = candidates.reduce((left, right) =>
    right.slope.logLikelihood > left.slope.logLikelihood ? right : left,
  );
  const startsAgreed = candidates.filter(
    (found) => best.slope.logLikelihood - found.slope.logLikelihood < 1e-6,
  ).length;
  const final = climb(full, best.parameters, isEqual);
  if (!final.isSettled || !isProper(final.parameters, masses.length)) return null;
  return inGrams(final, { mean, scale, isEqual, startsAgreed, starts: candidates.length }, masses);
}

function inGrams(
  found: { parameters: Parameters; slope: Slope; steps: number },
  at: { mean: number; scale: number; isEqual: boolean; startsAgreed: number; starts: number },
  masses: readonly number[],
): TwoNormalsFit | null {
  const reduced = reduce(found.slope, at.isEqual);
  const inverse = choleskyInverse(reduced.hessian.map((row) => row.map((value) => -value)));
  if (!inverse) return null;
  const place = (index: number): number => (at.isEqual && index === 4 ? 3 : index);
  const isTurned = found.parameters[1] > found.parameters[2];
  const order = isTurned ? [0, 2, 1, 4, 3] : [0, 1, 2, 3, 4];
  const [logit, m1, m2, l1, l2] = order.map((index) => found.parameters[index]) as number[] as [
    number,
    number,
    number,
    number,
    number,
  ];
  const share = 1 / (1 + Math.exp(isTurned ? logit : -logit));
  const deviations = [Math.exp(l1), Math.exp(l2)] as const;
  const factors = [
    (isTurned ? -1 : 1) * share * (1 - share),
    at.scale,
    at.scale,
    at.scale * deviations[0],
    at.scale * deviations[1],
  ];
  const covariance = order.map((row, i) =>
    order.map(
      (column, j) =>
        (inverse[place(row)]?.[place(column)] ?? 0) * (factors[i] ?? 0) * (factors[j] ?? 0),
    ),
  );
  return {
    share,
    means: [at.mean + at.scale * m1, at.mean + at.scale * m2],
    standardDeviations: [at.scale * deviations[0], at.scale * deviations[1]],
    logLikelihood: found.slope.logLikelihood - masses.length * Math.log(at.scale),
    covariance,
    steps: found.steps,
    startsAgreed: at.startsAgreed,
    starts: at.starts,
  };
}
