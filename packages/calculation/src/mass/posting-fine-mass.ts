import { DomainError } from '../quantity/domain.ts';
import type { RoundingRule } from '../quantity/rounding.ts';

/** Largest posting in micrograms: 9000 t, so that every step below stays a safe integer. */
const largestPosting = 9e15;

const million = 1_000_000;
const half = million / 2;

/** Whether the whole part is raised by one; `rest` in millionths of a microgram, 0 to 999 999. */
function isRaised(whole: number, rest: number, rule: RoundingRule): boolean {
  switch (rule) {
    case 'half-even':
      return rest > half || (rest === half && whole % 2 !== 0);
    case 'half-up':
      return rest >= half;
    case 'down':
      return false;
    case 'up':
      return rest > 0;
    default:
      throw new DomainError({
        field: 'rule',
        value: rule,
        accepted: 'half-even, half-up, down, up',
      });
  }
}

/**
 * Fine mass of one posting, exact and rounded once, without big integers: for long lists of
 * postings, whose masses are safe integers.
 *
 * Formula: as `fineMicrograms`. The gross mass is cut into whole grams q and a rest r, so that gross
 * × fineness / 10⁶ = q·fineness + r·fineness/10⁶ with every product below 2⁵³. A whole number less
 * than one half away from the second part is its rounded value, however it was found.
 *
 * @param grossMicrograms whole micrograms from −9·10¹⁵ to 9·10¹⁵
 * @param finenessPartsPerMillion whole, from 0 to 1 000 000 ppm
 * @param rule named rounding rule; its direction is that of the number line
 * @returns whole micrograms, exact
 * @throws DomainError when mass or fineness is not whole or outside its range, or the rule unknown
 * Validity: equal to `fineMicrograms`, which laws/mass-units.test.ts asserts.
 * Source: definition of millesimal fineness, ISO 9202
 * @example postingFineMicrograms(31_210_000, 999_900, 'half-even') // 31206879
 */
export function postingFineMicrograms(
  grossMicrograms: number,
  finenessPartsPerMillion: number,
  rule: RoundingRule,
): number {
  requireWhole(grossMicrograms, finenessPartsPerMillion);
  // Any whole number near the quotient will do: the rest is exact with each of them.
  const grams = Math.floor(grossMicrograms * 1e-6);
  const product = (grossMicrograms - grams * million) * finenessPartsPerMillion;
  const nearest = Math.floor(product * 1e-6 + 0.5);
  const off = product - nearest * million;
  const fine = grams * finenessPartsPerMillion + nearest;
  const isNearest = off < half && off > -half;
  if (isNearest && (rule === 'half-even' || rule === 'half-up')) return fine;
  const whole = off < 0 ? fine - 1 : fine;
  return isRaised(whole, off < 0 ? off + million : off, rule) ? whole + 1 : whole;
}

/** Refuses without making the refusal first: this runs once per posting. */
function requireWhole(gross: number, fineness: number): void {
  if (!Number.isInteger(gross) || gross > largestPosting || gross < -largestPosting) {
    throw new DomainError({
      field: 'grossMicrograms',
      value: gross,
      accepted: 'a whole number of micrograms from -9e15 to 9e15',
    });
  }
  if (!Number.isInteger(fineness) || fineness < 0 || fineness > million) {
    throw new DomainError({
      field: 'finenessPartsPerMillion',
      value: fineness,
      accepted: 'a whole number from 0 to 1000000 ppm',
    });
  }
}
