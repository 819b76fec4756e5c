import { defineCalculation, type LimitRule } from '../catalogue/calculation.ts';
import {
  compareDecimals,
  type Decimal,
  decimalOfNumber,
  largestDecimal,
  multiplyDecimals,
  numberOfDecimal,
  smallestDecimal,
  subtractDecimals,
  sumDecimals,
} from '../quantity/decimal.ts';
import { DomainError } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';

import {
  countWords,
  oneOfTwo,
  type ReplicateAcceptanceInput,
  type ReplicateAcceptanceOutput,
  replicateAcceptanceInputSchema,
  replicateAcceptanceOutputSchema,
} from './replicate-acceptance-schema.ts';

export {
  type ReplicateAcceptanceInput,
  type ReplicateAcceptanceOutput,
  replicateAcceptanceInputSchema,
  replicateAcceptanceOutputSchema,
} from './replicate-acceptance-schema.ts';
export { rangeDistribution, rangeQuantile } from './studentized-range.ts';

/**
 * Critical range factors f(n) for n results under repeatability, 95 %, as ISO 5725-6:1994, Table 1
 * prints them. The exact values are 2.772, 3.314 and 3.633 (`rangeQuantile`); the standard decides
 * with the printed ones, and two laboratories that settle a dispute must use the same.
 */
export const criticalRangeFactors = { 2: 2.8, 3: 3.3, 4: 3.6 } as const;

/** The same factors for five to ten results, as the table prints them. */
export const criticalRangeFactorsOfMany = {
  5: 3.9,
  6: 4.0,
  7: 4.2,
  8: 4.3,
  9: 4.4,
  10: 4.5,
} as const;

const printedFactors: Readonly<Record<number, number>> = {
  ...criticalRangeFactors,
  ...criticalRangeFactorsOfMany,
};

/**
 * Critical range of the results, as a fraction of whole decimals, so that a range exactly on it is
 * accepted: f(n)·σ, or limit·f(n)/f(2).
 */
function criticalRange(
  input: ReplicateAcceptanceInput,
  factor: number,
): { dividend: Decimal; divisor: Decimal } {
  const given = input.repeatabilityStandardDeviationPerMille;
  const one = decimalOfNumber(1);
  if (given !== undefined) {
    const dividend = multiplyDecimals([decimalOfNumber(factor), decimalOfNumber(given)]);
    return { dividend, divisor: one };
  }
  const duplicateLimit = input.duplicateLimitPerMille;
  if (duplicateLimit === undefined) {
    throw new DomainError({
      field: 'repeatabilityStandardDeviationPerMille',
      value: given,
      accepted: oneOfTwo,
    });
  }
  if (factor === criticalRangeFactors[2]) {
    return { dividend: decimalOfNumber(duplicateLimit), divisor: one };
  }
  return {
    dividend: multiplyDecimals([decimalOfNumber(factor), decimalOfNumber(duplicateLimit)]),
    divisor: decimalOfNumber(criticalRangeFactors[2]),
  };
}

/** Mean of decimals as the double nearest to the exact mean. */
function meanOf(results: readonly Decimal[]): number {
  return numberOfDecimal(sumDecimals(results)) / results.length;
}

/** Median: the result in the middle, or the mean of the two in the middle. */
function medianOfDecimals(results: readonly Decimal[]): number {
  const sorted = [...results].sort(compareDecimals);
  const upper = sorted[Math.floor(sorted.length / 2)] as Decimal;
  if (sorted.length % 2 === 1) return numberOfDecimal(upper);
  const lower = sorted[sorted.length / 2 - 1] as Decimal;
  return numberOfDecimal(sumDecimals([lower, upper])) / 2;
}

type Judgement = Pick<
  ReplicateAcceptanceOutput,
  'state' | 'furtherResultsNeeded' | 'finalResultPerMille' | 'rule'
>;

function judge(results: readonly [Decimal, ...Decimal[]], isWithin: boolean): Judgement {
  const accepted = (rule: Judgement['rule']): Judgement => ({
    state: 'accepted',
    furtherResultsNeeded: 0,
    finalResultPerMille: meanOf(results),
    rule,
  });
  const more = (furtherResultsNeeded: number, rule: Judgement['rule']): Judgement => ({
    state: 'more-needed',
    furtherResultsNeeded,
    finalResultPerMille: null,
    rule,
  });
  if (results.length === 2) {
    return isWithin ? accepted('mean of two') : more(2, 'range of two exceeds the critical range');
  }
  if (results.length === 3) {
    return isWithin
      ? accepted('mean of three')
      : more(1, 'range of three exceeds the critical range');
  }
  const isFour = results.length === 4;
  if (isWithin) return accepted(isFour ? 'mean of four' : 'mean of all');
  return {
    state: isFour ? 'median-of-four' : 'median-of-all',
    furtherResultsNeeded: 0,
    finalResultPerMille: medianOfDecimals(results),
    rule: isFour ? 'median of four' : 'median of all',
  };
}

function acceptanceWords(
  input: ReplicateAcceptanceInput,
  judgement: Judgement,
  range: number,
  critical: number,
): string {
  const print = (value: number) => roundNumberText(value, 3, 'half-even');
  const compared = `The ${input.resultsPerMille.length} results spread over ${print(range)} ‰, the critical range is ${print(critical)} ‰.`;
  if (judgement.finalResultPerMille === null) {
    const further =
      judgement.furtherResultsNeeded === 1 ? 'One further result is' : 'Two further results are';
    return `${compared} ${further} needed; no result is discarded.`;
  }
  const check = judgement.rule.startsWith('median')
    ? ' The run did not repeat well enough: look for the cause before the next one.'
    : '';
  return `${compared} Final result ${print(judgement.finalResultPerMille)} ‰, the ${judgement.rule}.${check}`;
}

/**
 * Acceptability of replicate results of one method on one material, and the result to state.
 *
 * Formula: critical range f(n)·σ, σ the repeatability standard deviation and f(2) = 2.8, f(3) = 3.3,
 * f(4) = 3.6; a limit d on the difference of duplicates stands for 2.8 σ, so that the critical range
 * of n results is d·f(n)/2.8. Two results within it: their mean. Otherwise two more (or one, where a
 * result is costly): three within f(3)·σ, their mean; four within f(4)·σ, their mean; otherwise the
 * median of the four, that is the mean of the two in the middle. Five to ten results, where four did
 * not decide: within f(n)·σ, f = 3.9, 4.0, 4.2, 4.3, 4.4, 4.5, their mean; otherwise their median.
 *
 * @param input one to ten results in ‰ from 0 to 1000, all that were obtained; exactly one of the
 *   repeatability standard deviation and the limit on duplicates, above 0 and at most 1000 ‰
 * @returns state, range and critical range in ‰, final result in ‰ or null; nothing rounded
 * @throws DomainError unless exactly one of the two measures of spread is given
 * Validity: results independent, obtained under repeatability conditions, normal; σ known well
 * beforehand. Ranges are compared in exact decimals; a range on the limit is accepted. With three
 * results or more the range of all is judged, whatever the first ones did. See reference/iso-5725-6.
 * Source: ISO 5725-6:1994, 5.2.2, 5.2.3 (more than four; from memory) and Table 1
 * @example replicateAcceptance({ resultsPerMille: [916.32, 916.64, 916.45, 916.58],
 *   repeatabilityStandardDeviationPerMille: 0.1 }).finalResultPerMille // 916.4975
 */
export function replicateAcceptance(input: ReplicateAcceptanceInput): ReplicateAcceptanceOutput {
  const [first, ...rest] = input.resultsPerMille.map((one) =>
    decimalOfNumber(one, 'resultsPerMille'),
  );
  if (first === undefined || rest.length > 9) {
    throw new DomainError({
      field: 'resultsPerMille',
      value: input.resultsPerMille.join(', '),
      accepted: countWords,
    });
  }
  if (rest.length === 0) {
    criticalRange(input, criticalRangeFactors[2]);
    return {
      state: 'more-needed',
      furtherResultsNeeded: 1,
      rangePerMille: null,
      criticalRangePerMille: null,
      criticalRangeFactor: null,
      meanPerMille: meanOf([first]),
      finalResultPerMille: null,
      rule: 'one result, not judged',
      words: 'A single result cannot be judged. One further result is needed.',
    };
  }
  const results: readonly [Decimal, ...Decimal[]] = [first, ...rest];
  const criticalRangeFactor = printedFactors[results.length] ?? Number.NaN;
  const critical = criticalRange(input, criticalRangeFactor);
  const range = subtractDecimals(largestDecimal(results), smallestDecimal(results));
  const isWithin =
    compareDecimals(multiplyDecimals([range, critical.divisor]), critical.dividend) <= 0;
  const judgement = judge(results, isWithin);
  const rangePerMille = numberOfDecimal(range);
  const criticalRangePerMille =
    numberOfDecimal(critical.dividend) / numberOfDecimal(critical.divisor);
  return {
    ...judgement,
    rangePerMille,
    criticalRangePerMille,
    criticalRangeFactor,
    meanPerMille: meanOf(results),
    words: acceptanceWords(input, judgement, rangePerMille, criticalRangePerMille),
  };
}

function drawRange(
  _input: ReplicateAcceptanceInput,
  output: ReplicateAcceptanceOutput,
): LimitRule[] {
  const { rangePerMille, criticalRangePerMille } = output;
  if (rangePerMille === null || criticalRangePerMille === null) return [];
  return [
    {
      kind: 'limit-rule',
      title: 'Range of the results against the critical range',
      unit: '‰',
      value: rangePerMille,
      upperLimit: criticalRangePerMille,
      guardBand: 0,
      words: output.words,
    },
  ];
}

export const replicateAcceptanceCalculation = defineCalculation<
  ReplicateAcceptanceInput,
  ReplicateAcceptanceOutput
>({
  id: 'replicate-acceptance',
  version: 1,
  topic: 'assay',
  title: 'Acceptability of replicates',
  purpose:
    'Tells whether replicate results agree, how many further ones are needed, and which result is to be stated.',
  source:
    'ISO 5725-6:1994, 5.2.2, 5.2.3 and Table 1; limits on duplicates: the method standard that states them',
  input: replicateAcceptanceInputSchema,
  output: replicateAcceptanceOutputSchema,
  // Chosen results under the rule of ISO 5725-6, see reference/iso-5725-6: mean of four 916.4975.
  example: {
    resultsPerMille: [916.32, 916.64, 916.45, 916.58],
    repeatabilityStandardDeviationPerMille: 0.1,
  },
  compute: replicateAcceptance,
  draw: drawRange,
});
