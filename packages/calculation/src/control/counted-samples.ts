import { requireDomain } from '../quantity/domain.ts';
import { compensatedSum } from '../quantity/sum.ts';
import type { ShewhartAttributesInput } from './shewhart-attributes-schema.ts';

/** One sample: a count out of a size; the plotted value is the count or the count over the size. */
export interface CountedSample {
  readonly count: number;
  readonly size: number;
}

/** The samples of any of the four charts in one form. */
export function samplesOf(data: ShewhartAttributesInput['data']): CountedSample[] {
  switch (data.chart) {
    case 'p':
      return data.samples.map((one) => ({ count: one.nonconformingPieces, size: one.sizePieces }));
    case 'np':
      return data.nonconformingPieces.map((count) => ({ count, size: data.sizePieces }));
    case 'c':
      return data.nonconformities.map((count) => ({ count, size: 1 }));
    case 'u':
      return data.samples.map((one) => ({ count: one.nonconformities, size: one.sizeUnits }));
  }
}

/** Whether the counts are pieces out of pieces, not faults without bound. */
export const isOfPieces = (data: ShewhartAttributesInput['data']): boolean =>
  data.chart === 'p' || data.chart === 'np';

/** Refuses more nonconforming pieces than were examined. */
export function requireCounts(
  data: ShewhartAttributesInput['data'],
  samples: readonly CountedSample[],
) {
  if (!isOfPieces(data)) return;
  samples.forEach(({ count, size }, index) => {
    requireDomain(count <= size, {
      field:
        data.chart === 'np'
          ? `data.nonconformingPieces.${index}`
          : `data.samples.${index}.nonconformingPieces`,
      value: count,
      accepted: `at most the ${size} pieces examined`,
    });
  });
}

/** Fraction or rate in control, with the number of samples that set it. */
export function rateOf(input: ShewhartAttributesInput, samples: readonly CountedSample[]) {
  const { limits, data } = input;
  if (limits.from === 'standard') {
    requireDomain(!isOfPieces(data) || limits.rate < 1, {
      field: 'limits.rate',
      value: limits.rate,
      accepted: 'a fraction of 0 or more and below 1',
    });
    return { rate: limits.rate, phaseOneCount: null };
  }
  const phaseOneCount = limits.phaseOneCount ?? samples.length;
  requireDomain(phaseOneCount <= samples.length, {
    field: 'limits.phaseOneCount',
    value: phaseOneCount,
    accepted: `at most the ${samples.length} samples there are`,
  });
  const used = samples.slice(0, phaseOneCount);
  const rate =
    compensatedSum(used.map((one) => one.count)) / compensatedSum(used.map((one) => one.size));
  return { rate, phaseOneCount };
}
