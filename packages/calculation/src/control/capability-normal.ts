import { requireDomain } from '../quantity/domain.ts';
import { probabilityText } from '../quantity/probability-text.ts';
import {
  leastReadingsForPercentiles,
  limitsOf,
  observedOutside,
  readingsOf,
} from './capability-data.ts';
import {
  type CapabilityIndex,
  expectedOutsidePartsPerMillion,
  indexValues,
  oneSidedIndex,
  potentialIndex,
  type SpreadKnowledge,
  type ToleranceLimits,
  targetIndex,
} from './capability-indices.ts';
import type { CapabilityInput, CapabilityOutput } from './capability-schema.ts';
import { type NormalityTest, normalityTest } from './normality-test.ts';
import { seriesStatistics } from './series-statistics.ts';
import { movingRangeSpread, pooledSpread, type WithinSpread } from './within-spread.ts';

/** Readings that are less probable than this under normality are refused. */
const refusalLevel = 0.01;

function requireNormal(readings: readonly number[]): NormalityTest {
  const test = normalityTest(readings);
  const { statistic, probability } = test;
  const chance = probabilityText(probability);
  requireDomain(probability >= refusalLevel, {
    field: 'data',
    value: `readings that are not normal (Anderson–Darling ${statistic.toFixed(2)}, probability ${chance})`,
    accepted: `readings of a normal process; for others the method percentile, with ${leastReadingsForPercentiles} readings or more or with the 0.135 %, 50 % and 99.865 % points of a fitted distribution; an outlier or mixed lots are to be cleared first`,
  });
  return test;
}

function normalIndices(
  limits: ToleranceLimits,
  process: { readonly mean: number; readonly spread: WithinSpread },
  count: number,
  confidence: number,
): CapabilityOutput['overall'] {
  const { mean, spread } = process;
  const { standardDeviation, degreesOfFreedom } = spread;
  const knowledge: SpreadKnowledge = { count, degreesOfFreedom, confidence };
  const width = 3 * standardDeviation;
  const values = indexValues(limits, { middle: mean, widthBelow: width, widthAbove: width });
  const sided = (value: number | null): CapabilityIndex | null =>
    value === null ? null : oneSidedIndex(value, knowledge);
  return {
    standardDeviation,
    degreesOfFreedom,
    potential: values.potential === null ? null : potentialIndex(values.potential, knowledge),
    toLowerLimit: sided(values.toLowerLimit),
    toUpperLimit: sided(values.toUpperLimit),
    actual: oneSidedIndex(values.actual, knowledge),
    expectedOutsidePartsPerMillion: expectedOutsidePartsPerMillion(limits, mean, standardDeviation),
  };
}

/** Mean, spreads and test of readings or of their summary. */
function normalProcess(data: CapabilityInput['data']) {
  requireDomain(data.kind !== 'percentiles', {
    field: 'method',
    value: 'normal',
    accepted: 'percentile, where the data are percentiles',
  });
  if (data.kind === 'summary') {
    const { mean, standardDeviation, countPieces } = data;
    const overall = { standardDeviation, degreesOfFreedom: countPieces - 1 };
    return { count: countPieces, mean, overall, within: null, test: null, readings: null };
  }
  const readings = readingsOf(data);
  const { count, mean, standardDeviation } = seriesStatistics(readings);
  const within =
    data.kind === 'subgroups' ? pooledSpread(data.subgroups) : movingRangeSpread(data.values);
  const overall = { standardDeviation, degreesOfFreedom: count - 1 };
  return { count, mean, overall, within, test: requireNormal(readings), readings };
}

/** Indices from mean and standard deviation, refused where the readings cannot be normal. */
export function normalCapability(input: CapabilityInput): Omit<CapabilityOutput, 'words'> {
  const { data, confidence, target } = input;
  const limits = limitsOf(input);
  const { count, mean, overall, within, test, readings } = normalProcess(data);
  const overallIndices = normalIndices(limits, { mean, spread: overall }, count, confidence);
  const width = (input.upperLimit ?? Number.NaN) - (input.lowerLimit ?? Number.NaN);
  return {
    countPieces: count,
    middle: mean,
    within: within && normalIndices(limits, { mean, spread: within }, count, confidence),
    overall: overallIndices,
    aboutTarget:
      target === undefined || Number.isNaN(width)
        ? null
        : targetIndex(
            width,
            { mean, standardDeviation: overall.standardDeviation, target },
            { count, degreesOfFreedom: count - 1, confidence },
          ),
    normality: test && { ...test },
    observedOutsidePieces: observedOutside(readings, limits),
  };
}
