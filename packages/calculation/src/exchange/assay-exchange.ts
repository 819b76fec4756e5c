import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import {
  compareDecimals,
  type Decimal,
  decimalOfNumber,
  decimalOfText,
  largestDecimal,
  multiplyDecimals,
  numberOfDecimal,
  smallestDecimal,
  subtractDecimals,
  sumDecimals,
} from '../quantity/decimal.ts';
import { requireDomain } from '../quantity/domain.ts';
import { normalDistribution } from '../quantity/normal.ts';
import { probabilityText } from '../quantity/probability-text.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import {
  type AssayExchangeInput,
  type AssayExchangeOutput,
  assayExchangeInput,
  assayExchangeOutput,
} from './assay-exchange-schema.ts';
import { exchangeFigure } from './exchange-figure.ts';

export {
  type AssayExchangeInput,
  type AssayExchangeOutput,
  assayExchangeInput,
  assayExchangeOutput,
} from './assay-exchange-schema.ts';

const half = decimalOfText('0.5');
const meanOf = (one: Decimal, other: Decimal): Decimal =>
  multiplyDecimals([half, sumDecimals([one, other])]);

/** Distance of two decimals, exact. */
function distance(one: Decimal, other: Decimal): Decimal {
  const pair = [one, other] as const;
  return subtractDecimals(largestDecimal(pair), smallestDecimal(pair));
}

/** The umpire's finding under the clauses of the contract. */
function umpireSettlement(input: AssayExchangeInput, umpire: Decimal) {
  const supplier = decimalOfNumber(input.supplierFinenessPerMille, 'supplierFinenessPerMille');
  const plant = decimalOfNumber(input.plantFinenessPerMille, 'plantFinenessPerMille');
  const parties = [supplier, plant] as const;
  const position =
    compareDecimals(umpire, largestDecimal(parties)) > 0
      ? ('above both' as const)
      : compareDecimals(umpire, smallestDecimal(parties)) < 0
        ? ('below both' as const)
        : ('between' as const);
  const order = compareDecimals(distance(umpire, supplier), distance(umpire, plant));
  const nearer = order === 0 ? 'neither' : order < 0 ? 'supplier' : 'plant';
  const clause = position === 'between' ? input.umpireBetween : input.umpireOutside;
  const nearerResult = nearer === 'supplier' ? supplier : plant;
  // Midway between the parties the mean with either is not the same: the umpire himself stands.
  const settled =
    clause === 'umpire' || nearer === 'neither'
      ? umpire
      : clause === 'nearer party'
        ? nearerResult
        : meanOf(umpire, nearerResult);
  const payer = { supplier: 'plant', plant: 'supplier', neither: 'both in halves' } as const;
  return {
    outcome: 'settled by the umpire' as const,
    settledFinenessPerMille: numberOfDecimal(settled),
    umpirePosition: position,
    nearerParty: nearer as 'supplier' | 'plant' | 'neither',
    umpireFeeBorneBy: payer[nearer],
  };
}

const noUmpire = { umpirePosition: null, nearerParty: null, umpireFeeBorneBy: null } as const;

function insideSettlement(input: AssayExchangeInput) {
  const supplier = decimalOfNumber(input.supplierFinenessPerMille);
  const plant = decimalOfNumber(input.plantFinenessPerMille);
  const settled = { mean: meanOf(supplier, plant), supplier, plant }[input.inside];
  return {
    outcome: 'settled by the parties' as const,
    settledFinenessPerMille: numberOfDecimal(settled),
    ...noUmpire,
  };
}

function settlement(input: AssayExchangeInput, isWithinLimit: boolean) {
  if (isWithinLimit) return insideSettlement(input);
  if (input.umpireFinenessPerMille === undefined) {
    return { outcome: 'umpire needed' as const, settledFinenessPerMille: null, ...noUmpire };
  }
  return umpireSettlement(
    input,
    decimalOfNumber(input.umpireFinenessPerMille, 'umpireFinenessPerMille'),
  );
}

function exchangeWords(
  output: Omit<AssayExchangeOutput, 'words'>,
  input: AssayExchangeInput,
): string {
  const apart = `The results lie ${exchangeFigure(Math.abs(output.differencePerMille))} ‰ apart, the splitting limit is ${exchangeFigure(input.splittingLimitPerMille)} ‰.`;
  const settled = exchangeFigure(output.settledFinenessPerMille ?? 0);
  const outcome = {
    'settled by the parties': ` Settled at ${settled} ‰ (${input.inside === 'mean' ? 'the mean' : `the result of the ${input.inside}`}).`,
    'umpire needed': ' They part: the umpire is called with the sealed portion.',
    'settled by the umpire': ` The umpire found ${exchangeFigure(input.umpireFinenessPerMille ?? 0)} ‰, ${output.umpirePosition}; settled at ${settled} ‰, his fee borne by ${output.umpireFeeBorneBy}.`,
  }[output.outcome];
  const stake =
    output.fineMassAtStakeGrams === null
      ? ''
      : ` At stake: ${roundNumberText(output.fineMassAtStakeGrams, 3, 'half-even')} g of fine metal.`;
  const chance =
    output.chanceReferralProbability === null
      ? ''
      : ` Honest results part by more than the limit with probability ${probabilityText(output.chanceReferralProbability)}.`;
  return `${apart}${outcome}${stake}${chance}`;
}

/**
 * Exchange of assays: two results for one melt, compared with the splitting limit and settled by the
 * parties or by the umpire, under the clauses of the contract.
 *
 * Formula: within the limit, |supplier − plant| ≤ limit, both ends and equality included, the mean (or
 * a party's result, as agreed) settles. Beyond it the umpire decides: between the parties his own
 * result, or its mean with the nearer party; outside them the nearer party's result, his own, or the
 * mean with the nearer party. Midway between the parties his own result stands. Comparisons are
 * exact in the decimals given. Referral by chance: 2·Φ(−limit/u), u that of the difference.
 *
 * @param input finenesses from 0 to 1000 ‰; limit from 0 to 100 ‰; the three clauses; umpire's result,
 *   mass and uncertainty of the difference where there are any
 * @returns outcome, settled fineness, place of the umpire, who pays him, fine mass; nothing rounded
 *   but the words
 * @throws DomainError when an umpire is named although the results lie within the limit
 * Validity: results exchanged at the same time, on portions of one sample; exact.
 * Source: common practice of exchange of assays; the clauses are those of the contract
 * @example assayExchange({ supplierFinenessPerMille: 916.9, plantFinenessPerMille: 916.5,
 *   splittingLimitPerMille: 0.3, inside: 'mean', umpireBetween: 'umpire', umpireOutside: 'nearer party',
 *   umpireFinenessPerMille: 916.4 }).settledFinenessPerMille // 916.5
 */
export function assayExchange(input: AssayExchangeInput): AssayExchangeOutput {
  const difference = subtractDecimals(
    decimalOfNumber(input.supplierFinenessPerMille, 'supplierFinenessPerMille'),
    decimalOfNumber(input.plantFinenessPerMille, 'plantFinenessPerMille'),
  );
  const apart = Math.abs(numberOfDecimal(difference));
  const limit = decimalOfNumber(input.splittingLimitPerMille, 'splittingLimitPerMille');
  const isWithinLimit = compareDecimals(decimalOfNumber(apart), limit) <= 0;
  requireDomain(!isWithinLimit || input.umpireFinenessPerMille === undefined, {
    field: 'umpireFinenessPerMille',
    value: input.umpireFinenessPerMille,
    accepted: 'none while the results lie within the splitting limit',
  });
  const outcome = settlement(input, isWithinLimit);
  const mass = input.grossMassGrams;
  const spread = input.differenceStandardUncertaintyPerMille;
  const output = {
    differencePerMille: numberOfDecimal(difference),
    isWithinLimit,
    ...outcome,
    settledFineMassGrams:
      mass === undefined || outcome.settledFinenessPerMille === null
        ? null
        : (mass * outcome.settledFinenessPerMille) / 1000,
    fineMassAtStakeGrams: mass === undefined ? null : (mass * apart) / 1000,
    chanceReferralProbability:
      spread === undefined
        ? null
        : 2 * normalDistribution(-input.splittingLimitPerMille / spread, 0, 1),
  };
  return { ...output, words: exchangeWords(output, input) };
}

function drawAssayExchange(input: AssayExchangeInput, output: AssayExchangeOutput): Chart[] {
  const named = [
    { name: 'supplier', value: input.supplierFinenessPerMille },
    { name: 'plant', value: input.plantFinenessPerMille },
    ...(input.umpireFinenessPerMille === undefined
      ? []
      : [{ name: 'umpire', value: input.umpireFinenessPerMille }]),
  ];
  const x = named.map((_, index) => index + 1);
  return [
    {
      kind: 'chart',
      title: 'Exchange of assays',
      xTitle: 'Party',
      yTitle: 'Fineness, ‰',
      series: [{ label: 'result', kind: 'points', x, y: named.map((one) => one.value) }],
      xNames: named.map(({ name }, index) => ({ x: index + 1, name })),
      ...(output.settledFinenessPerMille === null
        ? {}
        : { levels: [{ y: output.settledFinenessPerMille, label: 'settled' }] }),
    },
  ];
}

export const assayExchangeCalculation = defineCalculation<AssayExchangeInput, AssayExchangeOutput>({
  id: 'assay-exchange',
  version: 1,
  topic: 'exchange',
  title: 'Exchange of assays',
  purpose:
    "Compares the supplier's and the plant's result for one melt with the splitting limit, and settles it by the mean or by the umpire, as the contract says.",
  source: 'Common practice of exchange of assays; the clauses are those of the contract',
  input: assayExchangeInput,
  output: assayExchangeOutput,
  // Chosen figures: 0.4 ‰ apart at a limit of 0.3 ‰, the umpire between.
  example: {
    supplierFinenessPerMille: 916.9,
    plantFinenessPerMille: 916.5,
    splittingLimitPerMille: 0.3,
    inside: 'mean',
    umpireBetween: 'umpire',
    umpireOutside: 'nearer party',
    umpireFinenessPerMille: 916.65,
    grossMassGrams: 250_000,
    differenceStandardUncertaintyPerMille: 0.12,
  },
  compute: assayExchange,
  draw: drawAssayExchange,
});
