import {
  type Decimal,
  decimalOfNumber,
  decimalOfText,
  textOfDecimal,
} from '../quantity/decimal.ts';
import { DomainError, requireDomain } from '../quantity/domain.ts';
import { divideRounded } from '../quantity/rounding.ts';

/**
 * The troy ounce in tenths of a microgram: 31.1034768 g exactly (International yard and pound
 * agreement of 1959: 480 grains of 64.79891 mg).
 */
export const troyOunceTenthsOfMicrogram = 311_034_768n;

/** Steps in which the London good-delivery rules state the gross weight of a bar. */
export const goodDeliverySteps = {
  /** Gold, weighed on an electronic balance: multiples of 0.025 ozt, rounded down. */
  gold: { stepTroyOunces: '0.025', turnTroyOunces: '0' },
  /** Gold on a beam balance: the bar must exceed the multiple by 0.002 ozt to turn the scale. */
  goldWithTurnOfScale: { stepTroyOunces: '0.025', turnTroyOunces: '0.002' },
  /** Silver: multiples of 0.1 ozt, rounded down. */
  silver: { stepTroyOunces: '0.1', turnTroyOunces: '0' },
} as const;

/** A step and the excess over it that turns the scale, both in troy ounces. */
export interface StatedWeightRule {
  readonly stepTroyOunces: number | string;
  readonly turnTroyOunces: number | string;
}

/** The exact decimal of a number or of decimal text. */
export function exactDecimal(value: number | string, field: string): Decimal {
  return typeof value === 'number' ? decimalOfNumber(value, field) : decimalOfText(value, field);
}

/**
 * Largest multiple of the step that lies at or below a weight of dividend / divisor troy ounces
 * less the turn of the scale.
 */
export function statedWeightOfFraction(
  weightTroyOunces: { readonly dividend: bigint; readonly divisor: bigint },
  rule: StatedWeightRule,
): Decimal {
  const step = exactDecimal(rule.stepTroyOunces, 'stepTroyOunces');
  const turn = exactDecimal(rule.turnTroyOunces, 'turnTroyOunces');
  requireDomain(step.coefficient > 0n, {
    field: 'stepTroyOunces',
    value: rule.stepTroyOunces,
    accepted: 'a step above 0 ozt',
  });
  requireDomain(turn.coefficient >= 0n, {
    field: 'turnTroyOunces',
    value: rule.turnTroyOunces,
    accepted: 'a turn of the scale of 0 ozt or more',
  });
  const { dividend, divisor } = weightTroyOunces;
  const stepScale = 10n ** BigInt(step.places);
  const turnScale = 10n ** BigInt(turn.places);
  const excess = dividend * turnScale - turn.coefficient * divisor;
  const steps = divideRounded(excess * stepScale, divisor * turnScale * step.coefficient, 'down');
  const whole = steps > 0n ? steps : 0n;
  return { coefficient: whole * step.coefficient, places: step.places };
}

/**
 * Weight that a bar is stated to have under a rule of steps, as the London good-delivery rules
 * use it: always in the buyer's favour.
 *
 * Formula: the largest multiple of the step that the dead weight exceeds by at least the turn of
 * the scale; with a turn of 0 the largest multiple not above the dead weight.
 *
 * @param deadWeightTroyOunces weight of the bar in troy ounces, 0 or more; number or decimal text,
 *   taken exactly as written
 * @param rule step above 0 ozt and turn of 0 ozt or more; see `goodDeliverySteps`
 * @returns decimal text in troy ounces with the places of the step; 0 when no step is reached
 * @throws DomainError when a value is not decimal or outside its range
 * Validity: exact decimal arithmetic.
 * Source: LBMA Good Delivery Rules, specification and Annex B
 * @example statedTroyOunces('401.126', goodDeliverySteps.goldWithTurnOfScale) // '401.100'
 */
export function statedTroyOunces(
  deadWeightTroyOunces: number | string,
  rule: StatedWeightRule,
): string {
  const weight = exactDecimal(deadWeightTroyOunces, 'deadWeightTroyOunces');
  requireDomain(weight.coefficient >= 0n, {
    field: 'deadWeightTroyOunces',
    value: deadWeightTroyOunces,
    accepted: 'a weight of 0 ozt or more',
  });
  const fraction = { dividend: weight.coefficient, divisor: 10n ** BigInt(weight.places) };
  return textOfDecimal(statedWeightOfFraction(fraction, rule));
}

/** By how much dead weights exceed stated weights, in troy ounces and grams. */
export interface StatedWeightGiveaway {
  readonly meanTroyOunces: number;
  readonly standardDeviationTroyOunces: number;
  readonly meanGrams: number;
}

/**
 * Mean and standard deviation of the metal that a rule of steps gives away per bar, for dead
 * weights spread evenly over a step. Book stated weights for payment, dead weights for the balance.
 *
 * Formula: mean = turn + step / 2; standard deviation = step / √12.
 *
 * @param rule step above 0 ozt and turn from 0 ozt
 * @returns troy ounces and grams, not rounded
 * @throws DomainError when step or turn is outside its range
 * Validity: the spread of the dead weights must be large against the step.
 * Source: mean and standard deviation of the rectangular distribution; the rule from LBMA Good
 * Delivery Rules, Annex B
 * @example statedWeightGiveaway({ stepTroyOunces: 0.025, turnTroyOunces: 0.002 })
 *   .meanTroyOunces // 0.0145
 */
export function statedWeightGiveaway(rule: {
  readonly stepTroyOunces: number;
  readonly turnTroyOunces: number;
}): StatedWeightGiveaway {
  const { stepTroyOunces, turnTroyOunces } = rule;
  if (!(stepTroyOunces > 0) || !Number.isFinite(stepTroyOunces)) {
    throw new DomainError({
      field: 'stepTroyOunces',
      value: stepTroyOunces,
      accepted: 'a step above 0 ozt',
    });
  }
  requireDomain(turnTroyOunces >= 0 && Number.isFinite(turnTroyOunces), {
    field: 'turnTroyOunces',
    value: turnTroyOunces,
    accepted: 'a turn of the scale of 0 ozt or more',
  });
  const meanTroyOunces = turnTroyOunces + stepTroyOunces / 2;
  return {
    meanTroyOunces,
    standardDeviationTroyOunces: stepTroyOunces / Math.sqrt(12),
    meanGrams: meanTroyOunces * 31.1034768,
  };
}
