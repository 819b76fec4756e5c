import { defineCalculation, type LimitRule } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { compensatedSum } from '../quantity/sum.ts';
import { findNormality } from './normality-check.ts';
import { estimatedFraction } from './variables-estimate.ts';
import {
  type VariablesVerdictInput,
  type VariablesVerdictOutput,
  variablesVerdictInput,
  variablesVerdictOutput,
} from './variables-verdict-schema.ts';

export {
  type VariablesVerdictInput,
  type VariablesVerdictOutput,
  variablesVerdictInput,
  variablesVerdictOutput,
} from './variables-verdict-schema.ts';

interface Summary {
  readonly sampleSizePieces: number;
  readonly mean: number;
  readonly standardDeviation: number;
}

function summaryOf(input: VariablesVerdictInput): Summary {
  const { sample } = input;
  if (sample.given === 'summary') {
    const { sampleSizePieces, mean, standardDeviation } = sample;
    return {
      sampleSizePieces,
      mean,
      standardDeviation: input.knownStandardDeviation ?? standardDeviation,
    };
  }
  const { measurements } = sample;
  const count = measurements.length;
  const mean = compensatedSum(measurements) / count;
  const square = compensatedSum(measurements.map((value) => (value - mean) ** 2));
  const isSpread = measurements.some((value) => value !== measurements[0]);
  const standardDeviation =
    input.knownStandardDeviation ?? (isSpread ? Math.sqrt(square / (count - 1)) : 0);
  requireDomain(standardDeviation > 0, {
    field: 'sample.measurements',
    value: 'equal values',
    accepted: 'measurements that are not all equal, or a known standard deviation',
  });
  return { sampleSizePieces: count, mean, standardDeviation };
}

function requireLimits(input: VariablesVerdictInput): void {
  const { lowerLimit, upperLimit, criterion, sample } = input;
  requireDomain(lowerLimit !== undefined || upperLimit !== undefined, {
    field: 'lowerLimit',
    value: 'none',
    accepted: 'a lower limit, an upper limit, or both',
  });
  const isDouble = lowerLimit !== undefined && upperLimit !== undefined;
  requireDomain(!isDouble || lowerLimit < upperLimit, {
    field: 'lowerLimit',
    value: lowerLimit,
    accepted: `a value below the upper limit ${upperLimit}`,
  });
  requireDomain(!isDouble || criterion.form !== 'k', {
    field: 'criterion.form',
    value: criterion.form,
    accepted: 'form M when both limits are given: both ends count together',
  });
  requireDomain(isDouble || criterion.form !== 'M for each limit', {
    field: 'criterion.form',
    value: criterion.form,
    accepted: 'form k or M when only one limit is given',
  });
  requireDomain(sample.given === 'measurements' || input.normality === 'shown otherwise', {
    field: 'normality',
    value: input.normality,
    accepted: 'shown otherwise when only a summary is given',
  });
}

type Estimates = Pick<
  VariablesVerdictOutput,
  'lowerQualityIndex' | 'upperQualityIndex' | 'lowerPercent' | 'upperPercent' | 'totalPercent'
>;

function estimatesOf(input: VariablesVerdictInput, summary: Summary): Estimates {
  const { sampleSizePieces, mean, standardDeviation } = summary;
  const method = input.knownStandardDeviation === undefined ? 's' : 'sigma';
  const percent = (index: number | null) =>
    index === null ? null : 100 * estimatedFraction(index, sampleSizePieces, method);
  const lower =
    input.lowerLimit === undefined ? null : (mean - input.lowerLimit) / standardDeviation;
  const upper =
    input.upperLimit === undefined ? null : (input.upperLimit - mean) / standardDeviation;
  const lowerPercent = percent(lower);
  const upperPercent = percent(upper);
  return {
    lowerQualityIndex: lower,
    upperQualityIndex: upper,
    lowerPercent,
    upperPercent,
    totalPercent: (lowerPercent ?? 0) + (upperPercent ?? 0),
  };
}

function isAccepted(input: VariablesVerdictInput, found: Estimates): boolean {
  const { criterion } = input;
  if (criterion.form === 'k') {
    const index = found.lowerQualityIndex ?? found.upperQualityIndex ?? 0;
    return index >= criterion.acceptabilityConstant;
  }
  if (criterion.form === 'M') return found.totalPercent <= criterion.maximumPercent;
  const { lowerMaximumPercent, upperMaximumPercent } = criterion;
  return (
    (found.lowerPercent ?? 0) <= lowerMaximumPercent &&
    (found.upperPercent ?? 0) <= upperMaximumPercent &&
    found.totalPercent <= Math.max(lowerMaximumPercent, upperMaximumPercent)
  );
}

function normalityOf(
  input: VariablesVerdictInput,
): Pick<VariablesVerdictOutput, 'normality' | 'normalityReason'> {
  if (input.normality === 'shown otherwise' || input.sample.given === 'summary') {
    const normalityReason = 'taken as shown otherwise, not tested here';
    return { normality: 'shown otherwise', normalityReason };
  }
  const { verdict, reason } = findNormality(input.sample.measurements);
  return { normality: verdict, normalityReason: reason };
}

const short = (value: number): string => Number(value.toPrecision(4)).toString();

function verdictWords(output: Omit<VariablesVerdictOutput, 'words'>): string {
  if (output.verdict === 'refused') {
    return `No verdict by variables: ${output.normalityReason}. Judge this lot by attributes.`;
  }
  const asked = output.verdict === 'accept' ? 'Accept' : 'Do not accept';
  const doubt =
    output.normality === 'too few to tell'
      ? ' So few pieces cannot show that the measurements are normal: know it from earlier lots.'
      : '';
  return `${asked}: the mean of ${output.sampleSizePieces} pieces is ${short(output.mean)} with standard deviation ${short(output.standardDeviation)}; an estimated ${short(output.totalPercent)} % of the lot lies outside the limits.${doubt}`;
}

/**
 * Verdict by variables on a lot: from the mean and the spread of a measured sample, against one limit
 * or two; refused when the measurements cannot be normal because the pieces were sorted or mixed.
 *
 * Formula: Q = distance of the mean to a limit over the deviation, the sample's (method s) or the known
 * one (method sigma). Form k: accept when Q ≥ k. Form M: accept when the estimated percentage outside
 * (see `estimatedFraction`), both limits added, is at most M; M for each limit: each at most its own, and
 * the sum at most the larger.
 *
 * @param input 3 to 5000 measurements or their summary, limits and deviation in one unit; criterion of the
 *   plan; whether to test for a normal distribution
 * @returns verdict, indices, estimated percentages; nothing rounded but the words
 * @throws DomainError without a limit, for limits out of order, form k with two limits, M for each with
 *   one, a test asked of a summary, or equal measurements
 * Validity: as `findNormality` for the refusal; normal measurements for the rest. See
 * reference/variables-plans.
 * Source: MIL-STD-414 (1957), sections B and D, forms 1 and 2; ANSI/ASQ Z1.9, the same
 * @example variablesVerdict({ sample: { given: 'measurements', measurements: [197, 188, 184, 205, 201] },
 *   upperLimit: 209, criterion: { form: 'k', acceptabilityConstant: 1.53 }, normality: 'test'
 * }).upperQualityIndex // 1.5903
 */
export function variablesVerdict(input: VariablesVerdictInput): VariablesVerdictOutput {
  requireLimits(input);
  const summary = summaryOf(input);
  const found = estimatesOf(input, summary);
  const normal = normalityOf(input);
  const verdict =
    normal.normality === 'contradicted'
      ? ('refused' as const)
      : isAccepted(input, found)
        ? ('accept' as const)
        : ('do not accept' as const);
  const output = { verdict, ...summary, ...found, ...normal };
  return { ...output, words: verdictWords(output) };
}

/** The mean beside its limits, with two standard deviations as its width. */
function drawVerdict(input: VariablesVerdictInput, output: VariablesVerdictOutput): LimitRule[] {
  return [
    {
      kind: 'limit-rule',
      title: 'Mean and spread beside the limits',
      unit: '',
      value: output.mean,
      expandedUncertainty: 2 * output.standardDeviation,
      ...(input.lowerLimit === undefined ? {} : { lowerLimit: input.lowerLimit }),
      ...(input.upperLimit === undefined ? {} : { upperLimit: input.upperLimit }),
      words: output.words,
    },
  ];
}

export const variablesVerdictCalculation = defineCalculation<
  VariablesVerdictInput,
  VariablesVerdictOutput
>({
  id: 'variables-verdict',
  version: 1,
  topic: 'sampling',
  title: 'Verdict by variables',
  purpose:
    'Judges a lot from the mean and the spread of a measured sample, against one limit or two, and refuses when sorted or mixed pieces make the measurements anything but normal.',
  source:
    'MIL-STD-414 (1957), sections B and D, forms 1 and 2; ANSI/ASQ Z1.9; P. Royston (1995), Applied Statistics 44, 547-551 (test)',
  input: variablesVerdictInput,
  output: variablesVerdictOutput,
  // MIL-STD-414, example B-3: 2.799 % outside (2.85 % in its rounded steps), at most 3.32: accept.
  example: {
    sample: { given: 'measurements', measurements: [197, 188, 184, 205, 201] },
    lowerLimit: 180,
    upperLimit: 209,
    criterion: { form: 'M', maximumPercent: 3.32 },
    normality: 'test',
  },
  compute: variablesVerdict,
  draw: drawVerdict,
});
