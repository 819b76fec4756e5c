import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { DomainError, requireDomain } from '../quantity/domain.ts';
import { normalDensity } from '../quantity/normal.ts';
import { percentText, significantText, textToUncertainty } from './figures.ts';
import {
  type MonteCarloInput,
  type MonteCarloOutput,
  monteCarloInput,
  monteCarloOutput,
} from './monte-carlo-schema.ts';
import { numericalTolerance } from './numerical-tolerance.ts';
import { simulatedTrials } from './simulated-trials.ts';
import { drained, type SimulationProgress, simulationSteps, type TrialRule } from './simulation.ts';
import { coverageIntervals, meanAndDeviation } from './sorted-sample.ts';
import { textModel } from './text-model.ts';
import { uncertaintyBudget } from './uncertainty-budget.ts';

export {
  type MonteCarloInput,
  type MonteCarloOutput,
  monteCarloInput,
  monteCarloOutput,
} from './monte-carlo-schema.ts';

const bins = 60;
/** Share of the results beyond each end of the histogram. */
const tailShare = 0.0005;

type Comparison = MonteCarloOutput['comparisons'][number];
type Simulated = Omit<MonteCarloOutput, 'comparisons' | 'histogram' | 'words'>;

/** The law of propagation beside the simulation; nothing where the model has no derivative. */
function compare(input: MonteCarloInput, simulated: Simulated): Comparison[] {
  const { seed: _seed, trials: _trials, significantDigits: _digits, ...budgetInput } = input;
  const tolerance = simulated.numericalTolerance ?? 0;
  try {
    const first = uncertaintyBudget({ ...budgetInput, terms: 'first order' });
    const second = uncertaintyBudget({ ...budgetInput, terms: 'second order' });
    return [first, ...(second.termsUsed === 'second order' ? [second] : [])].map((budget) => {
      const differences = {
        symmetricDifferenceLower: budget.intervalLower - simulated.symmetricLower,
        symmetricDifferenceUpper: budget.intervalUpper - simulated.symmetricUpper,
        shortestDifferenceLower: budget.intervalLower - simulated.shortestLower,
        shortestDifferenceUpper: budget.intervalUpper - simulated.shortestUpper,
      };
      const within = (one: number, other: number) =>
        Math.abs(one) <= tolerance && Math.abs(other) <= tolerance;
      return {
        terms: budget.termsUsed,
        value: budget.value,
        standardUncertainty: budget.standardUncertainty,
        intervalLower: budget.intervalLower,
        intervalUpper: budget.intervalUpper,
        ...differences,
        isConfirmed: within(
          differences.symmetricDifferenceLower,
          differences.symmetricDifferenceUpper,
        ),
        isConfirmedByShortest: within(
          differences.shortestDifferenceLower,
          differences.shortestDifferenceUpper,
        ),
      };
    });
  } catch (error) {
    if (error instanceof DomainError && error.field === 'model') return [];
    throw error;
  }
}

/** Values below x in a sorted array. */
function countBelow(sorted: Float64Array, x: number): number {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((sorted[middle] as number) < x) low = middle + 1;
    else high = middle;
  }
  return low;
}

function histogramOf(sorted: Float64Array): MonteCarloOutput['histogram'] {
  const n = sorted.length;
  const cut = Math.floor(tailShare * n);
  const lowerEdge = sorted[cut] as number;
  const binWidth = ((sorted[n - 1 - cut] as number) - lowerEdge) / bins;
  if (!(binWidth > 0)) return { lowerEdge, binWidth: 0, densities: [] };
  const counts = Array.from({ length: bins + 1 }, (_, edge) =>
    countBelow(sorted, lowerEdge + edge * binWidth),
  );
  const densities = counts
    .slice(1)
    .map((count, bin) => (count - (counts[bin] as number)) / (n * binWidth));
  return { lowerEdge, binWidth, densities };
}

function monteCarloWords(input: MonteCarloInput, output: Omit<MonteCarloOutput, 'words'>): string {
  const { standardUncertainty: u } = output;
  const print = (value: number) => textToUncertainty(value, u);
  const unit = input.resultUnit ? ` ${input.resultUnit}` : '';
  const coverage = `${percentText(input.coverageProbability)} %`;
  const run = output.isSettled === false ? ' The run ended before its figures had settled.' : '';
  const judged = output.comparisons.map(({ terms, isConfirmed }) =>
    isConfirmed
      ? ` The law of propagation (${terms}) is confirmed.`
      : ` The law of propagation (${terms}) is not confirmed: an end of its interval is off by more than ${output.numericalTolerance ?? 0}${unit}.`,
  );
  const none = ' The law of propagation does not apply: no derivative at the estimates.';
  return `From ${output.trials} trials: ${print(output.value)}${unit} with standard uncertainty ${significantText(u, 2)}${unit}; ${coverage} lie between ${print(output.symmetricLower)} and ${print(output.symmetricUpper)}${unit} with equal probability beyond both ends, and the shortest such interval is ${print(output.shortestLower)} to ${print(output.shortestUpper)}${unit}.${run}${judged.length > 0 ? judged.join('') : none}`;
}

function trialRule(input: MonteCarloInput): TrialRule {
  if (input.trials.kind === 'fixed') return input.trials;
  const least = 2 * Math.max(10_000, Math.ceil(100 / (1 - input.coverageProbability)));
  requireDomain(input.trials.mostTrials >= least, {
    field: 'trials.mostTrials',
    value: input.trials.mostTrials,
    accepted: `at least ${least} trials for this coverage probability, so that two blocks can be compared`,
  });
  return { ...input.trials, significantDigits: input.significantDigits };
}

/**
 * Steps of `monteCarlo`: a worker runs them one after the other, reports the progress that each
 * yields, and stops between two of them when it is told to.
 *
 * Formula: as `monteCarlo`.
 *
 * @param input as for `monteCarlo`
 * @returns a generator that yields trials done and trials at most, and returns the output of
 *   `monteCarlo` for the same input, figure by figure
 * @throws DomainError as `monteCarlo`, at the first step or at the step that meets the fault
 * Validity: a step makes at least 10 000 trials: a few milliseconds for a usual model; the last
 * one sorts the results as well.
 * Source: as `monteCarlo`
 * @example monteCarloSteps(monteCarloCalculation.example).next().value.trialsDone // 10000
 */
export function* monteCarloSteps(
  input: MonteCarloInput,
): Generator<SimulationProgress, MonteCarloOutput, void> {
  const names = input.inputs.map(({ name }) => name);
  const model = textModel(input.model, names);
  const rule = trialRule(input);
  const trials = simulatedTrials(model, input.inputs, input.correlations, input.seed);
  const { sorted, isSettled } = yield* simulationSteps(trials, rule, input.coverageProbability);
  const { mean, deviation } = meanAndDeviation(sorted);
  const { symmetric, shortest } = coverageIntervals(sorted, input.coverageProbability);
  const simulated = {
    trials: sorted.length,
    isSettled,
    value: mean,
    standardUncertainty: deviation,
    symmetricLower: symmetric.lower,
    symmetricUpper: symmetric.upper,
    shortestLower: shortest.lower,
    shortestUpper: shortest.upper,
    numericalTolerance:
      deviation > 0 ? numericalTolerance(deviation, input.significantDigits) : null,
  };
  const output = {
    ...simulated,
    comparisons: compare(input, simulated),
    histogram: histogramOf(sorted),
  };
  return { ...output, words: monteCarloWords(input, output) };
}

/**
 * Monte Carlo uncertainty: draws every input from its distribution, evaluates the model a great
 * many times and reads the result from what comes out; the check on the law of propagation where
 * a model is curved or an input far from normal.
 *
 * Formula: mean and standard deviation of the outputs; coverage intervals from the sorted outputs.
 * Adaptive runs stop when twice the standard deviations of the averages over blocks are within the
 * numerical tolerance. The law of propagation is confirmed when both ends of its interval lie
 * within the numerical tolerance of the simulated ones.
 *
 * @param input model and inputs as for `uncertaintyBudget`; correlated inputs normal; seed from 0 to
 *   2⁵³ − 1; 1000 to 10⁷ trials, fixed or adaptive; 1 or 2 significant digits
 * @returns result, standard uncertainty and both intervals in the unit of the result, comparison
 *   with the law of propagation, histogram; nothing rounded but the words
 * @throws DomainError as `uncertaintyBudget`, and for a correlated input that is not normal, t with
 *   2 degrees of freedom or fewer, too few trials for an adaptive run, trials without a finite value
 * Validity: the same seed gives the same figures. Statistical error of the ends about
 * √(p(1 − p)/M) over the density there. See reference/jcgm-101.
 * Source: JCGM 101:2008, clauses 6, 7 and 8
 * @example monteCarlo(monteCarloCalculation.example).trials // 100000
 */
export function monteCarlo(input: MonteCarloInput): MonteCarloOutput {
  return drained(monteCarloSteps(input));
}

function drawMonteCarlo(input: MonteCarloInput, output: MonteCarloOutput): Chart[] {
  const { lowerEdge, binWidth, densities } = output.histogram;
  if (binWidth === 0) return [];
  const unit = input.resultUnit ? `, ${input.resultUnit}` : '';
  const x = densities.map((_, bin) => lowerEdge + (bin + 0.5) * binWidth);
  const first = output.comparisons.find(
    ({ terms, standardUncertainty }) => terms === 'first order' && standardUncertainty > 0,
  );
  const normal =
    first === undefined
      ? []
      : [
          {
            label: 'first order',
            kind: 'line' as const,
            x,
            y: x.map((at) => normalDensity(at, first.value, first.standardUncertainty)),
          },
        ];
  return [
    {
      kind: 'chart',
      title: 'Simulated results',
      xTitle: `Result${unit}`,
      yTitle: 'Density',
      series: [{ label: 'simulated', kind: 'bars', x, y: densities }, ...normal],
      marks: [
        { x: output.symmetricLower, label: 'symmetric' },
        { x: output.symmetricUpper, label: 'symmetric' },
        { x: output.shortestLower, label: 'shortest' },
        { x: output.shortestUpper, label: 'shortest' },
      ],
    },
  ];
}

/** The same steps, told as the part of the trials that is done. */
function* partsDone(input: MonteCarloInput): Generator<number, MonteCarloOutput> {
  const steps = monteCarloSteps(input);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
    yield step.value.trialsDone / step.value.trialsAtMost;
  }
}

export const monteCarloCalculation = defineCalculation<MonteCarloInput, MonteCarloOutput>({
  id: 'monte-carlo',
  version: 1,
  topic: 'uncertainty',
  title: 'Uncertainty by simulation',
  purpose:
    'Draws the inputs of a measurement model many times and reads value, standard uncertainty and coverage intervals from the results; says whether the law of propagation may be used.',
  source: 'JCGM 101:2008, clauses 6 (Table 1), 7 (7.9 for adaptive runs) and 8',
  input: monteCarloInput,
  output: monteCarloOutput,
  // Calibration of a weight, JCGM 101:2008, 9.3, in milligrams and kilograms per cubic metre.
  example: {
    model: '(reference + difference) * (1 + (air - 1.2) * (1 / weight - 1 / standard)) - 100000',
    resultUnit: 'mg',
    inputs: [
      {
        name: 'reference',
        unit: 'mg',
        distribution: {
          kind: 'normal',
          estimate: 100_000,
          standardUncertainty: 0.05,
          degreesOfFreedom: null,
        },
      },
      {
        name: 'difference',
        unit: 'mg',
        distribution: {
          kind: 'normal',
          estimate: 1.234,
          standardUncertainty: 0.02,
          degreesOfFreedom: null,
        },
      },
      {
        name: 'air',
        unit: 'kg/m³',
        distribution: { kind: 'rectangular', estimate: 1.2, halfWidth: 0.1 },
      },
      {
        name: 'weight',
        unit: 'kg/m³',
        distribution: { kind: 'rectangular', estimate: 8000, halfWidth: 1000 },
      },
      {
        name: 'standard',
        unit: 'kg/m³',
        distribution: { kind: 'rectangular', estimate: 8000, halfWidth: 50 },
      },
    ],
    correlations: [],
    coverageProbability: 0.95,
    seed: 9301,
    trials: { kind: 'fixed', trials: 100_000 },
    significantDigits: 2,
  },
  compute: monteCarlo,
  steps: partsDone,
  draw: drawMonteCarlo,
});
