import { numericalTolerance } from './numerical-tolerance.ts';
import type { Trials } from './simulated-trials.ts';
import { coverageIntervals, meanAndDeviation, sortedCopy } from './sorted-sample.ts';

/** How many trials a simulation makes. */
export type TrialRule =
  | { readonly kind: 'fixed'; readonly trials: number }
  | {
      readonly kind: 'adaptive';
      /** Significant digits of the standard uncertainty that are to be settled. */
      readonly significantDigits: number;
      readonly mostTrials: number;
    };

export interface SimulationProgress {
  readonly trialsDone: number;
  /** Trials of a fixed rule; the most there can be of an adaptive one. */
  readonly trialsAtMost: number;
}

export interface SimulationResult {
  /** Every output, in rising order. */
  readonly sorted: Float64Array;
  /** Whether the adaptive rule was satisfied; null for a fixed number of trials. */
  readonly isSettled: boolean | null;
}

/** Trials between two reports of progress, and the least block of the adaptive rule. */
const stride = 10_000;

function* fixedSteps(
  trials: Trials,
  count: number,
): Generator<SimulationProgress, SimulationResult, void> {
  const outputs = new Float64Array(count);
  for (let done = 0; done < count; ) {
    const next = Math.min(count, done + stride);
    trials(outputs, done, next);
    done = next;
    yield { trialsDone: done, trialsAtMost: count };
  }
  return { sorted: sortedCopy(outputs), isSettled: null };
}

/** Twice the standard deviation of the average of several block results. */
function twiceDeviationOfAverage(results: readonly number[]): number {
  const { deviation } = meanAndDeviation(Float64Array.from(results));
  return (2 * deviation) / Math.sqrt(results.length);
}

/** Standard deviation of all trials from mean and standard deviation of blocks of one length. */
function pooledDeviation(
  means: readonly number[],
  deviations: readonly number[],
  block: number,
): number {
  const within = deviations.reduce((sum, deviation) => sum + deviation * deviation, 0);
  const between = meanAndDeviation(Float64Array.from(means)).deviation ** 2;
  const count = means.length;
  const squares = (block - 1) * within + block * (count - 1) * between;
  return Math.sqrt(squares / (count * block - 1));
}

/** Array with the same beginning and room for more, doubled so that copying stays rare. */
function grown(outputs: Float64Array, needed: number, most: number): Float64Array {
  if (outputs.length >= needed) return outputs;
  const larger = new Float64Array(Math.min(most, Math.max(needed, 2 * outputs.length)));
  larger.set(outputs);
  return larger;
}

function* adaptiveSteps(
  trials: Trials,
  rule: Extract<TrialRule, { kind: 'adaptive' }>,
  coverageProbability: number,
): Generator<SimulationProgress, SimulationResult, void> {
  const most = rule.mostTrials;
  const block = Math.max(stride, Math.ceil(100 / (1 - coverageProbability)));
  const blockResults: [number[], number[], number[], number[]] = [[], [], [], []];
  let outputs: Float64Array = new Float64Array(Math.min(most, 10 * block));
  let done = 0;
  let isSettled = false;
  while (!isSettled && done + block <= most) {
    outputs = grown(outputs, done + block, most);
    trials(outputs, done, done + block);
    const { mean, deviation } = meanAndDeviation(outputs.subarray(done, done + block));
    const sorted = sortedCopy(outputs.subarray(done, done + block));
    const { lower, upper } = coverageIntervals(sorted, coverageProbability).symmetric;
    [mean, deviation, lower, upper].forEach((figure, at) => {
      blockResults[at]?.push(figure);
    });
    done += block;
    yield { trialsDone: done, trialsAtMost: most };
    if (blockResults[0].length < 2) continue;
    const overall = pooledDeviation(blockResults[0], blockResults[1], block);
    // An output that never varies has settled at once.
    const tolerance = overall > 0 ? numericalTolerance(overall, rule.significantDigits) : 0;
    isSettled = blockResults.every((results) => twiceDeviationOfAverage(results) <= tolerance);
  }
  return { sorted: sortedCopy(outputs.subarray(0, done)), isSettled };
}

/**
 * Steps of a simulation: makes trials, a stretch at a time, until the rule is satisfied. Who runs it
 * may stop between two steps, report progress or give the processor to others.
 *
 * Formula: fixed, a number of trials. Adaptive, blocks of the larger of 10⁴ and 100/(1 − p) trials
 * until, over the blocks, twice the standard deviation of the average of mean, standard
 * deviation and both ends of the symmetric interval are all at most the numerical tolerance of the
 * standard uncertainty; all trials are then taken together.
 *
 * @param trials trials of the model, see `simulatedTrials`
 * @param rule fixed or adaptive
 * @param coverageProbability p, open range (0, 1)
 * @returns a generator that yields progress and returns the sorted outputs
 * Validity: an adaptive run that reaches its most trials says that it has not settled.
 * Source: JCGM 101:2008, 7.2 and 7.9
 * @example simulationSteps((outputs, from, to) => { outputs.fill(1, from, to); },
 *   { kind: 'fixed', trials: 100 }, 0.95).next().value.trialsDone // 100
 */
export function simulationSteps(
  trials: Trials,
  rule: TrialRule,
  coverageProbability: number,
): Generator<SimulationProgress, SimulationResult, void> {
  return rule.kind === 'fixed'
    ? fixedSteps(trials, rule.trials)
    : adaptiveSteps(trials, rule, coverageProbability);
}

/** The result of a generator of steps, run to its end at once. */
export function drained<Result>(steps: Generator<unknown, Result, void>): Result {
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}
