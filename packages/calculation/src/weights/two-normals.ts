import { choleskyInverse, choleskySolve } from './cholesky.ts';
import { massSummary } from './mass-summary.ts';

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

/** Different values with the number of times each occurs. */
interface Tally {
  readonly values: Float64Array;
  readonly numbers: Float64Array;
}

/** Logit of the share, two means, two logarithms of the deviations; in units of the sample. */
type Parameters = readonly [number, number, number, number, number];

interface Slope {
  readonly logLikelihood: number;
  readonly gradient: number[];
  readonly hessian: number[][];
}

interface Climb {
  readonly parameters: Parameters;
  readonly slope: Slope;
  readonly steps: number;
  readonly isSettled: boolean;
}

const halfLogTwoPi = 0.5 * Math.log(2 * Math.PI);
const classes = 400;
/** A component narrower than this share of the sample's deviation has caught single values. */
const narrowest = 0.02;
const greatestSteps = 100;
/** Rise of the logarithm of the likelihood below which one more step of Newton is exact. */
const nearlyThere = 1e-10;
const expectationSteps = 30;

function tally(ascending: Float64Array): Tally {
  const values: number[] = [];
  const numbers: number[] = [];
  for (const value of ascending) {
    if (values[values.length - 1] === value) {
      numbers[numbers.length - 1] = (numbers[numbers.length - 1] as number) + 1;
    } else {
      values.push(value);
      numbers.push(1);
    }
  }
  return { values: Float64Array.from(values), numbers: Float64Array.from(numbers) };
}

/** The tally in classes, each at the mean of its values, for starts that need no last figure. */
function classed(full: Tally): Tally {
  if (full.values.length <= classes) return full;
  const least = full.values[0] as number;
  const width = ((full.values[full.values.length - 1] as number) - least) / classes;
  const sums = new Float64Array(classes);
  const numbers = new Float64Array(classes);
  for (let index = 0; index < full.values.length; index += 1) {
    const value = full.values[index] as number;
    const at = Math.min(classes - 1, Math.floor((value - least) / width));
    const number = full.numbers[index] as number;
    numbers[at] = (numbers[at] as number) + number;
    sums[at] = (sums[at] as number) + number * value;
  }
  const kept = Array.from({ length: classes }, (_, index) => index).filter(
    (index) => (numbers[index] as number) > 0,
  );
  return {
    values: Float64Array.from(kept, (at) => (sums[at] as number) / (numbers[at] as number)),
    numbers: Float64Array.from(kept, (at) => numbers[at] as number),
  };
}

/** Logarithm of the likelihood with its first and second derivatives, in one pass. */
function slopeAt(data: Tally, parameters: Parameters): Slope {
  const [logit, mean1, mean2, log1, log2] = parameters;
  const share = 1 / (1 + Math.exp(-logit));
  const rest = 1 / (1 + Math.exp(logit));
  const inverse1 = Math.exp(-log1);
  const inverse2 = Math.exp(-log2);
  const constant1 = Math.log(share) - log1 - halfLogTwoPi;
  const constant2 = Math.log(rest) - log2 - halfLogTwoPi;
  const s = new Float64Array(20);
  let logLikelihood = 0;
  for (let index = 0; index < data.values.length; index += 1) {
    const x = data.values[index] as number;
    const number = data.numbers[index] as number;
    const z1 = (x - mean1) * inverse1;
    const z2 = (x - mean2) * inverse2;
    const term1 = constant1 - 0.5 * z1 * z1;
    const term2 = constant2 - 0.5 * z2 * z2;
    const difference = term2 - term1;
    const ratio = Math.exp(-Math.abs(difference));
    const larger = 1 / (1 + ratio);
    const r1 = difference > 0 ? ratio * larger : larger;
    const r2 = difference > 0 ? larger : ratio * larger;
    logLikelihood += number * (Math.max(term1, term2) + Math.log1p(ratio));
    const w1 = number * r1;
    const w2 = number * r2;
    const cross = number * r1 * r2;
    const q1 = z1 * z1;
    const q2 = z2 * z2;
    const a1 = z1 * inverse1;
    const a2 = z2 * inverse2;
    const b1 = q1 - 1;
    const b2 = q2 - 1;
    s[0] = (s[0] as number) + w1;
    s[1] = (s[1] as number) + w1 * a1;
    s[2] = (s[2] as number) + w2 * a2;
    s[3] = (s[3] as number) + w1 * b1;
    s[4] = (s[4] as number) + w2 * b2;
    s[5] = (s[5] as number) + cross;
    s[6] = (s[6] as number) + cross * a1;
    s[7] = (s[7] as number) + cross * a2;
    s[8] = (s[8] as number) + cross * b1;
    s[9] = (s[9] as number) + cross * b2;
    s[10] = (s[10] as number) + cross * a1 * a1;
    s[11] = (s[11] as number) + cross * a1 * a2;
    s[12] = (s[12] as number) + cross * a2 * a2;
    s[13] = (s[13] as number) + cross * a1 * b1;
    s[14] = (s[14] as number) + cross * a1 * b2;
    s[15] = (s[15] as number) + cross * a2 * b1;
    s[16] = (s[16] as number) + cross * a2 * b2;
    s[17] = (s[17] as number) + cross * b1 * b1;
    s[18] = (s[18] as number) + cross * b1 * b2;
    s[19] = (s[19] as number) + cross * b2 * b2;
  }
  return assemble(s, data, { share, rest, inverse1, inverse2, logLikelihood });
}

/**
 * Gradient and Hessian from the sums: the second derivative of ln(f₁ + f₂) is the mean of the second
 * derivatives of the two logarithms plus r₁·r₂ times the square of the difference of their slopes.
 */
function assemble(
  s: Float64Array,
  data: Tally,
  at: { share: number; rest: number; inverse1: number; inverse2: number; logLikelihood: number },
): Slope {
  const [w1, g1, g2, h1, h2] = s as unknown as [number, number, number, number, number];
  const [, , , , , c, ca1, ca2, cb1, cb2, caa, ca1a2, caa2, ca1b1, ca1b2] = Array.from(s) as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const [ca2b1, ca2b2, cbb, cb1b2, cbb2] = Array.from(s.subarray(15)) as [
    number,
    number,
    number,
    number,
    number,
  ];
  let total = 0;
  for (const number of data.numbers) total += number;
  const w2 = total - w1;
  const i1 = at.inverse1 ** 2;
  const i2 = at.inverse2 ** 2;
  // Slopes of ln f₁ less those of ln f₂: (1, a₁, −a₂, b₁, −b₂).
  const hessian = [
    [c - total * at.share * at.rest, ca1, -ca2, cb1, -cb2],
    [ca1, caa - w1 * i1, -ca1a2, ca1b1 - 2 * g1, -ca1b2],
    [-ca2, -ca1a2, caa2 - w2 * i2, -ca2b1, ca2b2 - 2 * g2],
    [cb1, ca1b1 - 2 * g1, -ca2b1, cbb - 2 * (h1 + w1), -cb1b2],
    [-cb2, -ca1b2, ca2b2 - 2 * g2, -cb1b2, cbb2 - 2 * (h2 + w2)],
  ];
  return {
    logLikelihood: at.logLikelihood,
    gradient: [w1 - total * at.share, g1, g2, h1, h2],
    hessian,
  };
}

/** One step of expectation and maximisation. */
function expectationStep(data: Tally, parameters: Parameters, isEqual: boolean): Parameters {
  const [logit, mean1, mean2, log1, log2] = parameters;
  const constant = logit - log1 + log2;
  const inverse1 = Math.exp(-log1);
  const inverse2 = Math.exp(-log2);
  const sums = [0, 0, 0, 0, 0, 0];
  for (let index = 0; index < data.values.length; index += 1) {
    const x = data.values[index] as number;
    const number = data.numbers[index] as number;
    const z1 = (x - mean1) * inverse1;
    const z2 = (x - mean2) * inverse2;
    const w1 = number / (1 + Math.exp(0.5 * (z1 * z1 - z2 * z2) - constant));
    const w2 = number - w1;
    sums[0] = (sums[0] as number) + w1;
    sums[1] = (sums[1] as number) + w1 * x;
    sums[2] = (sums[2] as number) + w1 * x * x;
    sums[3] = (sums[3] as number) + w2;
    sums[4] = (sums[4] as number) + w2 * x;
    sums[5] = (sums[5] as number) + w2 * x * x;
  }
  const [n1, x1, xx1, n2, x2, xx2] = sums as [number, number, number, number, number, number];
  const next1 = x1 / n1;
  const next2 = x2 / n2;
  const square1 = xx1 / n1 - next1 ** 2;
  const square2 = xx2 / n2 - next2 ** 2;
  const joint = (n1 * square1 + n2 * square2) / (n1 + n2);
  const least = narrowest ** 2 / 4;
  const half = (square: number): number => 0.5 * Math.log(Math.max(least, square));
  return [
    Math.log(n1 / n2),
    next1,
    next2,
    half(isEqual ? joint : square1),
    half(isEqual ? joint : square2),
  ];
}

const apply = (parameters: Parameters, step: readonly number[]): Parameters =>
  parameters.map((value, index) => value + (step[index] ?? 0)) as unknown as Parameters;

/** With equal deviations their two logarithms are one parameter. */
function reduce(slope: Slope, isEqual: boolean): { gradient: number[]; hessian: number[][] } {
  if (!isEqual) return slope;
  const fold = (row: readonly number[]): number[] => [
    ...row.slice(0, 3),
    (row[3] ?? 0) + (row[4] ?? 0),
  ];
  const rows = slope.hessian.map(fold);
  const last = (rows[3] ?? []).map((value, index) => value + (rows[4]?.[index] ?? 0));
  return { gradient: fold(slope.gradient), hessian: [...rows.slice(0, 3), last] };
}

const unfold = (step: readonly number[], isEqual: boolean): number[] =>
  isEqual ? [...step.slice(0, 3), step[3] ?? 0, step[3] ?? 0] : [...step];

/** Newton step with the diagonal raised where the Hessian is not negative definite or the step falls. */
function raisedStep(
  reduced: { readonly gradient: number[]; readonly hessian: number[][] },
  raise: number,
): number[] | null {
  const negative = reduced.hessian.map((row, i) =>
    row.map((value, j) => (i === j ? -value + raise : -value)),
  );
  return choleskySolve(negative, reduced.gradient);
}

/**
 * Newton's method; where it would not rise the diagonal is raised, which shortens the step and turns it
 * towards the gradient. It gives up where a component vanishes or shrinks on a value, or where the hill
 * is a ridge without a top.
 */
function climb(data: Tally, start: Parameters, isEqual: boolean): Climb {
  let parameters = start;
  let slope = slopeAt(data, parameters);
  let raise = 0;
  let creepingSteps = 0;
  let total = 0;
  for (const number of data.numbers) total += number;
  for (let step = 1; step <= greatestSteps; step += 1) {
    const reduced = reduce(slope, isEqual);
    const move = raisedStep(reduced, raise);
    const rise = move
      ? move.reduce((sum, value, index) => sum + value * (reduced.gradient[index] ?? 0), 0)
      : Number.POSITIVE_INFINITY;
    const candidate = move ? apply(parameters, unfold(move, isEqual)) : null;
    if (candidate && raise === 0 && rise < nearlyThere) {
      return {
        parameters: candidate,
        slope: slopeAt(data, candidate),
        steps: step,
        isSettled: true,
      };
    }
    const isInside = candidate?.every((value) => Math.abs(value) < 20) ?? false;
    const found = candidate && isInside ? slopeAt(data, candidate) : null;
    if (candidate && found && found.logLikelihood >= slope.logLikelihood) {
      const isCreeping = raise > 0 && found.logLikelihood - slope.logLikelihood < 1e-5;
      creepingSteps = isCreeping ? creepingSteps + 1 : 0;
      parameters = candidate;
      slope = found;
      raise = raise < 1e-4 * total ? 0 : raise / 8;
      if (creepingSteps > 6 || !isProper(parameters, total)) break;
    } else {
      raise = raise === 0 ? 1e-3 * total : raise * 4;
    }
  }
  return { parameters, slope, steps: greatestSteps, isSettled: false };
}

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

function isProper(parameters: Parameters, count: number): boolean {
  const [logit, , , log1, log2] = parameters;
  const rarer = 1 / (1 + Math.exp(Math.abs(logit)));
  return Math.min(log1, log2) > Math.log(narrowest) && rarer * count >= 2;
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
