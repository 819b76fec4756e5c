import { z } from 'zod';
import { defineCalculation } from '../catalogue/calculation.ts';
import {
  type Decimal,
  decimalOfInteger,
  multiplyDecimals,
  shortTextOfDecimal,
  subtractDecimals,
  textOfDecimal,
} from '../quantity/decimal.ts';
import { requireDomain } from '../quantity/domain.ts';
import {
  divideRounded,
  type RoundingRule,
  roundDecimal,
  roundingRules,
} from '../quantity/rounding.ts';
import {
  exactDecimal,
  goodDeliverySteps,
  statedWeightOfFraction,
  troyOunceTenthsOfMicrogram,
} from './troy-ounce.ts';

export {
  goodDeliverySteps,
  type StatedWeightGiveaway,
  type StatedWeightRule,
  statedTroyOunces,
  statedWeightGiveaway,
  troyOunceTenthsOfMicrogram,
} from './troy-ounce.ts';

const wholeMicrograms =
  'a whole number of micrograms from 0, as a number or up to 30 digits of text';
const decimalOunces =
  'a weight from 0 ozt with at most 15 digits before the point, as a number or as decimal text such as 401.127';

export const fineMassInputSchema = z
  .strictObject({
    grossMicrograms: z
      .union(
        [
          z.int({ error: wholeMicrograms }).min(0, { error: wholeMicrograms }),
          z.string().regex(/^\d{1,30}$/, { error: wholeMicrograms }),
        ],
        {
          error: wholeMicrograms,
        },
      )
      .optional()
      .meta({
        title: 'Gross mass',
        description: 'Balance reading in whole micrograms; leave out when troy ounces are given',
        unit: 'µg',
      }),
    grossTroyOunces: z
      .union(
        [
          z.number().min(0, { error: decimalOunces }).max(1e15, { error: decimalOunces }),
          z.string().regex(/^\d{1,15}(\.\d{1,15})?$/, { error: decimalOunces }),
        ],
        {
          error: decimalOunces,
        },
      )
      .optional()
      .meta({
        title: 'Gross weight in troy ounces',
        description: 'Taken exactly as written; leave out when micrograms are given',
        unit: 'ozt',
      }),
    finenessPartsPerMillion: z
      .int({ error: 'a whole number from 0 to 1000000 ppm' })
      .min(0, { error: 'a whole number from 0 to 1000000 ppm' })
      .max(1_000_000, { error: 'a whole number from 0 to 1000000 ppm' })
      .meta({ title: 'Declared fineness', description: '999.9 ‰ is 999900 ppm', unit: 'ppm' }),
    roundingRule: z.enum(roundingRules, { error: `one of ${roundingRules.join(', ')}` }).meta({
      title: 'Rounding rule',
      description: 'Rule for whole micrograms and for the third decimal of an ounce',
    }),
  })
  .superRefine((input, context) => {
    const given = [input.grossMicrograms, input.grossTroyOunces].filter((one) => one !== undefined);
    if (given.length === 1) return;
    context.addIssue({
      code: 'custom',
      path: ['grossMicrograms'],
      message: 'exactly one of grossMicrograms and grossTroyOunces',
    });
  });

const ouncesText = (title: string, description: string) =>
  z.string().meta({ title, description, unit: 'ozt' });

export const fineMassOutputSchema = z.strictObject({
  fineMicrograms: z
    .string()
    .meta({ title: 'Fine mass', description: 'Rounded once by the named rule', unit: 'µg' }),
  remainderMicrograms: z.string().meta({
    title: 'Remainder of the rounding',
    description: 'Exact fine mass less the rounded one; negative where it was rounded up',
    unit: 'µg',
  }),
  fineGrams: z
    .string()
    .meta({ title: 'Fine mass', description: 'The rounded micrograms in grams', unit: 'g' }),
  fineTroyOunces: ouncesText('Fine weight', 'From the exact product, to 0.001 ozt by the rule'),
  grossTroyOunces: ouncesText('Gross weight', 'To 0.001 ozt by the rule'),
  goldStatedGrossTroyOunces: ouncesText('Gold bar, gross', 'Multiple of 0.025 ozt, rounded down'),
  goldStatedFineTroyOunces: ouncesText('Gold bar, fine', 'Stated gross × fineness to 0.001 ozt'),
  goldStatedFineTroyOuncesUnrounded: ouncesText('Gold bar, fine', 'The same, not rounded'),
  goldTurnOfScaleGrossTroyOunces: ouncesText(
    'Gold bar on a beam balance, gross',
    'Multiple of 0.025 ozt that the bar exceeds by at least 0.002 ozt',
  ),
  goldTurnOfScaleFineTroyOunces: ouncesText(
    'Gold bar on a beam balance, fine',
    'That gross × fineness to 0.001 ozt',
  ),
  silverStatedGrossTroyOunces: ouncesText('Silver bar, gross', 'Multiple of 0.1 ozt, rounded down'),
  words: z.string().meta({ title: 'In words' }),
});

export type FineMassInput = z.infer<typeof fineMassInputSchema>;
export type FineMassOutput = z.infer<typeof fineMassOutputSchema>;

/**
 * Fine mass that the account books for a gross mass of declared fineness: the one place where a
 * fine mass is rounded.
 *
 * Formula: gross × fineness / 1 000 000, rounded once by the named rule.
 *
 * @param grossMicrograms whole micrograms; a negative mass is a reversing posting
 * @param finenessPartsPerMillion from 0 to 1 000 000 ppm, closed
 * @param rule named rounding rule; its direction is that of the number line
 * @returns whole micrograms
 * @throws DomainError when the fineness is outside its range or the rule is unknown
 * Validity: exact for whole numbers of any size.
 * Source: definition of millesimal fineness, ISO 9202; rounding as `divideRounded`
 * @example fineMicrograms(31_210_000n, 999_900n, 'half-even') // 31206879n
 */
export function fineMicrograms(
  grossMicrograms: bigint,
  finenessPartsPerMillion: bigint,
  rule: RoundingRule,
): bigint {
  requireDomain(finenessPartsPerMillion >= 0n && finenessPartsPerMillion <= 1_000_000n, {
    field: 'finenessPartsPerMillion',
    value: finenessPartsPerMillion,
    accepted: 'a whole number from 0 to 1000000 ppm',
  });
  return divideRounded(grossMicrograms * finenessPartsPerMillion, 1_000_000n, rule);
}

/** The gross mass as an exact decimal of micrograms. */
function exactGrossMicrograms(input: FineMassInput): Decimal {
  if (input.grossMicrograms !== undefined) {
    return exactDecimal(input.grossMicrograms, 'grossMicrograms');
  }
  requireDomain(input.grossTroyOunces !== undefined, {
    field: 'grossMicrograms',
    value: input.grossMicrograms,
    accepted: 'exactly one of grossMicrograms and grossTroyOunces',
  });
  return multiplyDecimals([
    exactDecimal(input.grossTroyOunces, 'grossTroyOunces'),
    { coefficient: troyOunceTenthsOfMicrogram, places: 1 },
  ]);
}

/** A mass in micrograms as a fraction of whole numbers of troy ounces. */
function ounceFraction(micrograms: Decimal): { dividend: bigint; divisor: bigint } {
  return {
    dividend: micrograms.coefficient * 10n,
    divisor: troyOunceTenthsOfMicrogram * 10n ** BigInt(micrograms.places),
  };
}

function ouncesToThreePlaces(micrograms: Decimal, rule: RoundingRule): string {
  const { dividend, divisor } = ounceFraction(micrograms);
  return textOfDecimal({ coefficient: divideRounded(dividend * 1000n, divisor, rule), places: 3 });
}

/**
 * Fine mass of metal of declared fineness, in micrograms, grams and troy ounces, with the weights
 * that a bar of it would be stated to have in the London market.
 *
 * Formula: fine = gross × fineness; 1 ozt = 31.1034768 g. Each stated figure is rounded once, from
 * the exact product. A stated gross weight is the largest multiple of the step (gold 0.025 ozt,
 * silver 0.1 ozt) not above the weight, on a beam balance the largest that gold exceeds by 0.002
 * ozt; the fine weight of a bar is its stated gross × fineness to 0.001 ozt.
 *
 * @param input gross mass in whole micrograms or gross weight in troy ounces (exactly one, 0 or
 *   more), declared fineness in whole parts per million from 0 to 1 000 000, named rounding rule
 * @returns decimal text throughout, exact but for the one named rounding
 * @throws DomainError for a value outside its range
 * Validity: exact. Balance readings are conventional mass; no buoyancy is corrected. The agreed
 * fine contents of small bars in the London market are conventions and differ from the direct
 * product by 0.001 ozt in places: look them up. See reference/london-good-delivery.
 * Source: ISO 9202 (millesimal fineness); LBMA Good Delivery Rules, specification, Annex B (turn of
 * the scale) and Annex C (fine weight to 0.001 ozt, 1 ozt = 31.1034768 g)
 * @example fineMass({ grossMicrograms: 31_210_000, finenessPartsPerMillion: 999_900,
 *   roundingRule: 'half-even' }).fineMicrograms // '31206879'
 */
export function fineMass(input: FineMassInput): FineMassOutput {
  const { roundingRule } = input;
  const fineness = { coefficient: BigInt(input.finenessPartsPerMillion), places: 6 };
  const gross = exactGrossMicrograms(input);
  const fine = multiplyDecimals([gross, fineness]);
  const fineRounded = roundDecimal(fine, 0, roundingRule);
  const ounces = ounceFraction(gross);
  const stated = statedWeightOfFraction(ounces, goodDeliverySteps.gold);
  const statedFine = multiplyDecimals([stated, fineness]);
  const turned = statedWeightOfFraction(ounces, goodDeliverySteps.goldWithTurnOfScale);
  const turnedFine = multiplyDecimals([turned, fineness]);
  const silver = statedWeightOfFraction(ounces, goodDeliverySteps.silver);
  const fineGrams = textOfDecimal({ coefficient: fineRounded.coefficient, places: 6 });
  const fineTroyOunces = ouncesToThreePlaces(fine, roundingRule);
  const remainder = subtractDecimals(fine, decimalOfInteger(fineRounded.coefficient));
  return {
    fineMicrograms: fineRounded.coefficient.toString(),
    remainderMicrograms: shortTextOfDecimal(remainder),
    fineGrams,
    fineTroyOunces,
    grossTroyOunces: ouncesToThreePlaces(gross, roundingRule),
    goldStatedGrossTroyOunces: textOfDecimal(stated),
    goldStatedFineTroyOunces: textOfDecimal(roundDecimal(statedFine, 3, roundingRule)),
    goldStatedFineTroyOuncesUnrounded: shortTextOfDecimal(statedFine),
    goldTurnOfScaleGrossTroyOunces: textOfDecimal(turned),
    goldTurnOfScaleFineTroyOunces: textOfDecimal(roundDecimal(turnedFine, 3, roundingRule)),
    silverStatedGrossTroyOunces: textOfDecimal(silver),
    words: `Fine mass ${fineGrams} g, that is ${fineTroyOunces} ozt, rounded by the rule ${roundingRule}.`,
  };
}

export const fineMassCalculation = defineCalculation<FineMassInput, FineMassOutput>({
  id: 'fine-mass',
  version: 1,
  topic: 'mass',
  title: 'Fine mass',
  purpose:
    'Finds the fine mass of metal of declared fineness, exactly and rounded once by a named rule, in micrograms, grams and troy ounces, and the weight that a bar would be stated to have.',
  source:
    'ISO 9202 (millesimal fineness); LBMA Good Delivery Rules, specification, Annex B (turn of the scale) and Annex C (fine weight, 1 ozt = 31.1034768 g)',
  input: fineMassInputSchema,
  output: fineMassOutputSchema,
  // The gold bar of the LBMA Good Delivery Rules, Annex C: 401.125 ozt at 995.8 is 399.440 fine.
  example: {
    grossTroyOunces: '401.125',
    finenessPartsPerMillion: 995_800,
    roundingRule: 'half-even',
  },
  compute: fineMass,
});
