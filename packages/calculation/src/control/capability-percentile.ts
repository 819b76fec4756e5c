import { requireDomain } from '../quantity/domain.ts';
import {
  leastReadingsForPercentiles,
  limitsOf,
  observedOutside,
  readingsOf,
} from './capability-data.ts';
import { indexValues, withoutInterval } from './capability-indices.ts';
import type { CapabilityInput, CapabilityOutput } from './capability-schema.ts';
import { orderedPercentile } from './ordered-percentile.ts';

/** Fractions that six standard deviations of a normal process leave outside, one on each side. */
const lowFraction = 0.00135;
const highFraction = 1 - lowFraction;

function percentilePoints(data: CapabilityInput['data']) {
  requireDomain(data.kind !== 'summary', {
    field: 'method',
    value: 'percentile',
    accepted: 'normal, where the data are a mean and a standard deviation',
  });
  if (data.kind === 'percentiles') {
    const { lowPoint, median, highPoint } = data;
    requireDomain(lowPoint < median && median < highPoint, {
      field: 'data.median',
      value: median,
      accepted: `a median between the outer points ${lowPoint} and ${highPoint}`,
    });
    return { readings: null, lowPoint, median, highPoint };
  }
  const readings = readingsOf(data);
  const ascending = new Float64Array(readings).sort();
  requireDomain(ascending.length >= leastReadingsForPercentiles, {
    field: 'data',
    value: `${ascending.length} readings`,
    accepted: `${leastReadingsForPercentiles} readings or more, so that the 0.135 % points lie among them; or the points of a fitted distribution`,
  });
  const point = (fraction: number) => orderedPercentile(ascending, fraction, 'n+1');
  return {
    readings,
    lowPoint: point(lowFraction),
    median: point(0.5),
    highPoint: point(highFraction),
  };
}

/** Indices from the median and the outer percentiles, for any shape. */
export function percentileCapability(input: CapabilityInput): Omit<CapabilityOutput, 'words'> {
  const limits = limitsOf(input);
  const { readings, lowPoint, median, highPoint } = percentilePoints(input.data);
  const values = indexValues(limits, {
    middle: median,
    widthBelow: median - lowPoint,
    widthAbove: highPoint - median,
  });
  const plain = (value: number | null) => (value === null ? null : withoutInterval(value));
  return {
    countPieces: readings?.length ?? null,
    middle: median,
    within: null,
    overall: {
      standardDeviation: null,
      degreesOfFreedom: null,
      potential: plain(values.potential),
      toLowerLimit: plain(values.toLowerLimit),
      toUpperLimit: plain(values.toUpperLimit),
      actual: withoutInterval(values.actual),
      expectedOutsidePartsPerMillion: null,
    },
    aboutTarget: null,
    normality: null,
    observedOutsidePieces: observedOutside(readings, limits),
  };
}
