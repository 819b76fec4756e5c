import { upperChiSquareQuantile } from '../../quantity/chi-square.ts';
import { requireDomain } from '../../quantity/domain.ts';
import { upperFisherQuantile } from '../../quantity/fisher.ts';
import { compensatedSum } from '../../quantity/sum.ts';

/** One mean square of an analysis of variance and its share in a variance component. */
export interface MeanSquareTerm {
  /** Factor of the mean square in the component: positive or negative, not 0. */
  readonly coefficient: number;
  /** Above 0 or 0. */
  readonly meanSquare: number;
  readonly degreesOfFreedom: number;
}

/** Two-sided interval of a variance; the ends are never below 0. */
export interface VarianceInterval {
  readonly lower: number;
  readonly upper: number;
}

/** Value of a component as the sum of its terms; it may come out negative. */
export function componentValue(terms: readonly MeanSquareTerm[]): number {
  return compensatedSum(terms.map((term) => term.coefficient * term.meanSquare));
}

/**
 * Degrees of freedom that a sum of mean squares behaves as if it had.
 *
 * Formula: (Σ c·S)² / Σ (c·S)²/ν.
 *
 * @param terms one or more mean squares with their factors
 * @returns degrees of freedom above 0, or 0 where the sum is 0
 * Validity: good where all factors are positive; poor for differences of similar terms.
 * Source: F. E. Satterthwaite (1946), Biometrics Bulletin 2, 110-114
 * @example satterthwaiteDegreesOfFreedom([{ coefficient: 1, meanSquare: 3, degreesOfFreedom: 4 },
 *   { coefficient: 1, meanSquare: 1, degreesOfFreedom: 4 }]) // 6.4
 */
export function satterthwaiteDegreesOfFreedom(terms: readonly MeanSquareTerm[]): number {
  const parts = terms.map(
    ({ coefficient, meanSquare, degreesOfFreedom }) =>
      (coefficient * meanSquare) ** 2 / degreesOfFreedom,
  );
  const squares = compensatedSum(parts);
  return squares === 0 ? 0 : componentValue(terms) ** 2 / squares;
}

/**
 * Interval of a variance component by Satterthwaite's degrees of freedom.
 *
 * Formula: ν·v/χ² of the upper and lower tail, with v the value of the component.
 *
 * @param terms one or more mean squares with their factors
 * @param confidence two-sided, open range (0, 1)
 * @returns ends of the interval, or null where the component is not above 0
 * Validity: exact for a single term; approximate and often too short for differences.
 * Source: F. E. Satterthwaite (1946), Biometrics Bulletin 2, 110-114
 * @example satterthwaiteInterval([{ coefficient: 1, meanSquare: 2, degreesOfFreedom: 10 }], 0.9).upper // 5.0758
 */
export function satterthwaiteInterval(
  terms: readonly MeanSquareTerm[],
  confidence: number,
): VarianceInterval | null {
  const value = componentValue(terms);
  if (!(value > 0)) return null;
  const tail = (1 - confidence) / 2;
  const degrees = satterthwaiteDegreesOfFreedom(terms);
  return {
    lower: (degrees * value) / upperChiSquareQuantile(tail, degrees),
    upper: (degrees * value) / upperChiSquareQuantile(1 - tail, degrees),
  };
}

/** A term as the formulas use it: size above 0, and how far its expectation may lie either way. */
interface Weighed {
  readonly size: number;
  readonly degrees: number;
  /** 1 − ν/χ² of the upper tail. */
  readonly g: number;
  /** ν/χ² of the lower tail − 1. */
  readonly h: number;
}

function weigh(term: MeanSquareTerm, tail: number): Weighed {
  const degrees = term.degreesOfFreedom;
  return {
    size: Math.abs(term.coefficient) * term.meanSquare,
    degrees,
    g: 1 - degrees / upperChiSquareQuantile(tail, degrees),
    h: degrees / upperChiSquareQuantile(1 - tail, degrees) - 1,
  };
}

/** Cross terms of a positive with a negative mean square. */
function mixedTerms(
  positive: readonly Weighed[],
  negative: readonly Weighed[],
  factor: (plus: Weighed, minus: Weighed) => number,
): number {
  return compensatedSum(
    positive.flatMap((plus) =>
      negative.map((minus) => factor(plus, minus) * plus.size * minus.size),
    ),
  );
}

/** Cross terms of mean squares of the same sign, for components with terms of both signs. */
function likeTerms(terms: readonly Weighed[], tail: number): number {
  const sums: number[] = [];
  terms.forEach((first, index) => {
    for (const second of terms.slice(index + 1)) {
      const [n, m] = [first.degrees, second.degrees];
      const together = 1 - (n + m) / upperChiSquareQuantile(tail, n + m);
      const factor =
        (together ** 2 * (n + m) ** 2) / (n * m) - (first.g ** 2 * n) / m - (second.g ** 2 * m) / n;
      sums.push((factor / (terms.length - 1)) * first.size * second.size);
    }
  });
  return compensatedSum(sums);
}

const ownTerms = (terms: readonly Weighed[], end: 'g' | 'h'): number =>
  compensatedSum(terms.map((term) => (term[end] * term.size) ** 2));

/**
 * Interval of a variance component by the modified large-sample method: the large-sample interval
 * with its factors chosen so that it is exact when only one mean square matters.
 *
 * Formula: value − √V_L and value + √V_U. All factors positive (Graybill and Wang): V_L = Σ G²c²S²,
 * V_U = Σ H²c²S², with G = 1 − ν/χ²(upper tail) and H = ν/χ²(lower tail) − 1. Both signs (Ting and
 * others): a negative term enters V_L with its H and V_U with its G; cross terms with
 * [(F − 1)² − G²F² − H²]/F, F at the upper tail, in V_L and [(1 − F)² − H²F² − G²]/F, F at the lower
 * tail, in V_U; and cross terms of like sign.
 *
 * @param terms one or more independent mean squares with their factors
 * @param confidence two-sided, open range (0, 1)
 * @returns ends of the interval, cut at 0
 * @throws DomainError for a confidence outside (0, 1)
 * Validity: normal effects, balanced design; coverage close to what is asked, simulated in
 * laws/precision-intervals.
 * Source: F. A. Graybill and C.-M. Wang (1980), Journal of the American Statistical Association 75,
 * 869-873; N. Ting and others (1990), Journal of Statistical Computation and Simulation 35, 135-143
 * @example modifiedLargeSampleInterval([{ coefficient: 1, meanSquare: 2, degreesOfFreedom: 10 }], 0.9).upper // 5.0758
 */
export function modifiedLargeSampleInterval(
  terms: readonly MeanSquareTerm[],
  confidence: number,
): VarianceInterval {
  requireDomain(confidence > 0 && confidence < 1, {
    field: 'confidence',
    value: confidence,
    accepted: 'a number above 0 and below 1',
  });
  const tail = (1 - confidence) / 2;
  const positive = terms.filter((term) => term.coefficient > 0).map((term) => weigh(term, tail));
  const negative = terms.filter((term) => term.coefficient < 0).map((term) => weigh(term, tail));
  let below = ownTerms(positive, 'g') + ownTerms(negative, 'h');
  let above = ownTerms(positive, 'h') + ownTerms(negative, 'g');
  if (negative.length > 0) {
    below += mixedTerms(positive, negative, (plus, minus) => {
      const f = upperFisherQuantile(tail, plus.degrees, minus.degrees);
      return ((f - 1) ** 2 - (plus.g * f) ** 2 - minus.h ** 2) / f;
    });
    above += mixedTerms(positive, negative, (plus, minus) => {
      const f = upperFisherQuantile(1 - tail, plus.degrees, minus.degrees);
      return ((1 - f) ** 2 - (plus.h * f) ** 2 - minus.g ** 2) / f;
    });
    below += likeTerms(positive, tail);
    above += likeTerms(negative, tail);
  }
  const value = componentValue(terms);
  return {
    lower: Math.max(0, value - Math.sqrt(Math.max(0, below))),
    upper: Math.max(0, value + Math.sqrt(Math.max(0, above))),
  };
}
