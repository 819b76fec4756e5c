import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { upperChiSquareQuantile } from '../quantity/chi-square.ts';
import { requireDomain } from '../quantity/domain.ts';
import { upperFisherQuantile } from '../quantity/fisher.ts';
import { meanStandardDeviationFactor } from './control-constants.ts';
import {
  type ControlPoint,
  controlPointOf,
  drawControlChart,
  numbersOutside,
} from './control-points.ts';
import { namePoints, runSignals, tellSignals } from './run-signals.ts';
import { seriesStatistics } from './series-statistics.ts';
import { type Standard, standardOf } from './shewhart-standard.ts';
import {
  type ShewhartVariablesInput,
  type ShewhartVariablesOutput,
  shewhartVariablesInput,
  shewhartVariablesOutput,
} from './shewhart-variables-schema.ts';
import {
  type SpreadMoments,
  type SubgroupSummary,
  spreadKindOf,
  spreadMomentsBySize,
  summariseSubgroups,
} from './subgroup-summaries.ts';

export {
  type ShewhartVariablesInput,
  type ShewhartVariablesOutput,
  shewhartVariablesInput,
  shewhartVariablesOutput,
} from './shewhart-variables-schema.ts';

/** Upper probability limit of the standard deviation of a subgroup, in units of the standard one. */
function probabilityLimit(probability: number, size: number, standard: Standard): number {
  const freedom = size - 1;
  return standard.degreesOfFreedom === null
    ? Math.sqrt(upperChiSquareQuantile(probability, freedom) / freedom)
    : Math.sqrt(upperFisherQuantile(probability, freedom, standard.degreesOfFreedom));
}

function spreadPoints(
  input: ShewhartVariablesInput,
  summaries: readonly SubgroupSummary[],
  moments: ReadonlyMap<number, SpreadMoments>,
  standard: Standard,
): ControlPoint[] {
  const { limitFactor = 3, spreadAlarmProbability: alarm } = input;
  requireDomain(alarm === undefined || spreadKindOf(input.data) === 'standard-deviation', {
    field: 'spreadAlarmProbability',
    value: alarm,
    accepted: 'no probability limit on a chart of ranges; use a chart of standard deviations',
  });
  const sigma = standard.standardDeviation;
  const limitsOf = new Map(
    [...moments].map(([size, { mean, standardDeviation }]) => {
      const lower = Math.max(0, mean - limitFactor * standardDeviation);
      const upper = mean + limitFactor * standardDeviation;
      return [
        size,
        alarm === undefined
          ? { centre: mean, lower, upper }
          : { centre: mean, lower: 0, upper: probabilityLimit(alarm, size, standard) },
      ];
    }),
  );
  return summaries.flatMap(({ spread, spreadSize }, index) => {
    const unit = limitsOf.get(spreadSize);
    if (spread === null || !unit) return [];
    return controlPointOf({
      number: index + 1,
      value: spread,
      centreLine: sigma * unit.centre,
      lowerLimit: sigma * unit.lower,
      upperLimit: sigma * unit.upper,
    });
  });
}

const some = (what: string, numbers: readonly number[], verb: string): string =>
  numbers.length === 0 ? '' : `${namePoints(numbers)} ${verb} the limits of the ${what}.`;

/** Correlation of neighbours beyond which limits from moving ranges mislead: two of its standard errors. */
const correlationFactor = 2;

function describe(
  input: ShewhartVariablesInput,
  output: Omit<ShewhartVariablesOutput, 'words'>,
): string {
  const what = input.data.chart === 'individuals' ? 'readings' : 'means';
  const spreadName = spreadKindOf(input.data) === 'range' ? 'ranges' : 'standard deviations';
  const [first] = output.location;
  const sentences = [
    `Centre line ${Number(output.centreLine.toPrecision(6))}, limits ${Number((first?.lowerLimit ?? 0).toPrecision(6))} to ${Number((first?.upperLimit ?? 0).toPrecision(6))}${output.constants === null ? ' at the first subgroup' : ''}.`,
    some(spreadName, output.spreadOutside, 'outside'),
    some(what, output.locationOutside, 'outside'),
    ...tellSignals(output.signals),
  ];
  const quiet =
    output.spreadOutside.length + output.locationOutside.length + output.signals.length === 0;
  if (quiet)
    sentences.push('Nothing signals: the process is in control as far as this chart sees.');
  const correlation = output.lagOneAutocorrelation ?? 0;
  const isDependent =
    input.data.chart === 'individuals' &&
    Math.abs(correlation) > correlationFactor / Math.sqrt(output.location.length);
  if (isDependent) {
    sentences.push(
      `Neighbouring readings are correlated (${correlation.toFixed(2)}): limits from moving ranges are not to be trusted.`,
    );
  }
  return sentences.filter((sentence) => sentence !== '').join(' ');
}

/**
 * Control chart for measured values: means with ranges, means with standard deviations, or single
 * readings with moving ranges. It tells a process that only scatters from one that has changed.
 *
 * Formula: limits of means x̄ ± L·σ/√n and of spreads (e ± L·w)·σ, not below 0, with e, w the mean and
 * standard deviation of the spread figure for σ = 1: d2 and d3 for ranges, c4 and √(1 − c4²) for
 * standard deviations, those of two readings for moving ranges. σ is given, or from the subgroups of
 * phase one: mean range/d2, mean of s/c4, or √(Σ(n − 1)s²/Σ(n − 1)) pooled. A probability limit of a
 * standard deviation is σ·√(χ²/ν), with a pooled σ σ·√F. Run rules on the means, see `pointsOfRule`.
 *
 * @param input data by kind of chart; limits from the first subgroups, all or without some, or from a
 *   given standard; limit factor 1 to 6 (absent 3), for means and spreads alike; run rules
 * @returns points with limits, those outside, signals, constants; nothing rounded but words
 * @throws DomainError for subgroups of different size on a chart of ranges, a phase one longer than
 *   the data or left without readings, no spread at all, a probability limit on a chart of ranges
 * Validity: independent, nearly normal readings; about 20 subgroups or more for the limits. Estimated
 * limits from few subgroups give other rates of false alarms than known ones. See
 * reference/control-charts.
 * Source: ISO 7870-2:2013, 5 to 7; ASTM E2587-16; W. A. Shewhart (1931), Economic Control of Quality;
 * run rules as `pointsOfRule`; probability limits NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.5
 * @example shewhartVariables({ data: { chart: 'individuals', values: [49.6, 47.6, 49.9, 51.3, 47.8,
 *   51.2, 52.6, 52.4, 53.6, 52.1] }, limits: { from: 'data' }, rules: [] }).centreLine // 50.81
 */
export function shewhartVariables(input: ShewhartVariablesInput): ShewhartVariablesOutput {
  const summaries = summariseSubgroups(input.data);
  const sizes = summaries.map((one) => one.spreadSize);
  const moments = spreadMomentsBySize(spreadKindOf(input.data), sizes);
  const standard = standardOf(input, summaries, moments);
  const { mean: centreLine, standardDeviation } = standard;
  const { limitFactor = 3 } = input;
  const location = summaries.map(({ mean, size }, index) => {
    const width = (limitFactor * standardDeviation) / Math.sqrt(size);
    return controlPointOf({
      number: index + 1,
      value: mean,
      centreLine,
      lowerLimit: centreLine - width,
      upperLimit: centreLine + width,
    });
  });
  const spread = spreadPoints(input, summaries, moments, standard);
  const means = summaries.map((one) => one.mean);
  const deviations = summaries.map(
    (one) => ((one.mean - centreLine) * Math.sqrt(one.size)) / standardDeviation,
  );
  const output = {
    centreLine,
    standardDeviation,
    phaseOneCount: standard.phaseOneCount,
    constants: moments.size === 1 ? constantsOf(input, sizes[0] as number, moments) : null,
    location,
    spread,
    locationOutside: numbersOutside(location),
    spreadOutside: numbersOutside(spread),
    signals: runSignals(input.rules, deviations, means).map(({ points, ...signal }) => ({
      ...signal,
      points: [...points],
    })),
    lagOneAutocorrelation: seriesStatistics(means).lagOneAutocorrelation,
  };
  return { ...output, words: describe(input, output) };
}

function constantsOf(
  input: ShewhartVariablesInput,
  sizePieces: number,
  moments: ReadonlyMap<number, SpreadMoments>,
): ShewhartVariablesOutput['constants'] {
  const c4 = meanStandardDeviationFactor(sizePieces);
  const range = spreadKindOf(input.data) === 'range' ? moments.get(sizePieces) : undefined;
  return { sizePieces, c4, d2: range?.mean ?? null, d3: range?.standardDeviation ?? null };
}

function drawShewhartVariables(
  input: ShewhartVariablesInput,
  output: ShewhartVariablesOutput,
): Chart[] {
  const single = input.data.chart === 'individuals';
  const ranges = spreadKindOf(input.data) === 'range';
  const { phaseOneCount } = output;
  return [
    drawControlChart({
      title: single ? 'Single readings' : 'Means',
      yTitle: single ? 'Reading' : 'Mean',
      points: output.location,
      signals: output.signals,
      phaseOneCount,
    }),
    drawControlChart({
      title: single ? 'Moving ranges' : ranges ? 'Ranges' : 'Standard deviations',
      yTitle: ranges ? 'Range' : 'Standard deviation',
      points: output.spread,
      signals: [],
      phaseOneCount,
    }),
  ];
}

export const shewhartVariablesCalculation = defineCalculation({
  id: 'shewhart-variables',
  version: 1,
  topic: 'control',
  title: 'Control chart of measured values',
  purpose:
    'Whether a process only scatters or has changed: means with ranges or standard deviations, or single readings with moving ranges, with run rules.',
  source:
    'ISO 7870-2:2013; ASTM E2587-16; Western Electric Company (1956), Statistical Quality Control Handbook; L. S. Nelson (1984), Journal of Quality Technology 16; NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.5 and 6.3.2',
  input: shewhartVariablesInput,
  output: shewhartVariablesOutput,
  // Flow rates of ten batches, NIST/SEMATECH handbook 6.3.2.2: centre line 50.81.
  example: {
    data: {
      chart: 'individuals',
      values: [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1],
    },
    limits: { from: 'data' },
    rules: ['western-electric-2', 'western-electric-3', 'western-electric-4'],
  },
  compute: shewhartVariables,
  draw: drawShewhartVariables,
});
