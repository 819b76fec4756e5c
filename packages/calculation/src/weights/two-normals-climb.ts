import { choleskySolve } from './cholesky.ts';
import { type Parameters, type Slope, slopeAt, type Tally } from './two-normals-likelihood.ts';

/** Where a climb ended, and whether that is a top. */
export interface Climb {
  readonly parameters: Parameters;
  readonly slope: Slope;
  readonly steps: number;
  readonly isSettled: boolean;
}

/** A component narrower than this share of the sample's deviation has caught single values. */
const narrowest = 0.02;
const greatestSteps = 100;
/** Rise of the logarithm of the likelihood below which one more step of Newton is exact. */
const nearlyThere = 1e-10;

/** Whether no component vanishes or has shrunk on single values. */
export function isProper(parameters: Parameters, count: number): boolean {
  const [logit, , , log1, log2] = parameters;
  const rarer = 1 / (1 + Math.exp(Math.abs(logit)));
  return Math.min(log1, log2) > Math.log(narrowest) && rarer * count >= 2;
}

/** One step of expectation and maximisation. */
export function expectationStep(data: Tally, parameters: Parameters, isEqual: boolean): Parameters {
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
export function reduce(
  slope: Slope,
  isEqual: boolean,
): { gradient: number[]; hessian: number[][] } {
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
export function climb(data: Tally, start: Parameters, isEqual: boolean): Climb {
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
