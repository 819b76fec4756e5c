import binomial from '@stdlib/stats-base-dists-binomial';
import poisson from '@stdlib/stats-base-dists-poisson';
import { requireDomain } from '../quantity/domain.ts';
import { compensatedSum } from '../quantity/sum.ts';

function requireCount(field: string, value: number, least: number): void {
  requireDomain(Number.isSafeInteger(value) && value >= least, {
    field,
    value,
    accepted: `a whole number of ${least} or more`,
  });
}

/**
 * Probability that a single plan accepts a lot from a long series made with a steady fraction
 * nonconforming: the operating characteristic for percent nonconforming.
 *
 * Formula: the binomial sum of C(n, x)·pˣ·(1 − p)ⁿ⁻ˣ over x from 0 to the acceptance number.
 *
 * @param plan sample size in pieces, 1 or more, and acceptance number, 0 or more
 * @param fractionNonconforming fraction of the pieces, closed range [0, 1]
 * @returns probability in [0, 1], not rounded
 * @throws DomainError for an argument outside its range
 * Validity: independent pieces; exact, relative accuracy about 1e-12. Shown in
 * reference/operating-characteristics.
 * Source: MIL-STD-105E (1989), 4.13 and Table X; the binomial distribution
 * @example binomialAcceptance({ sampleSizePieces: 10, acceptanceNumber: 3 }, 0.1) // 0.9872048016
 */
export function binomialAcceptance(
  plan: { readonly sampleSizePieces: number; readonly acceptanceNumber: number },
  fractionNonconforming: number,
): number {
  requireCount('sampleSizePieces', plan.sampleSizePieces, 1);
  requireCount('acceptanceNumber', plan.acceptanceNumber, 0);
  requireDomain(fractionNonconforming >= 0 && fractionNonconforming <= 1, {
    field: 'fractionNonconforming',
    value: fractionNonconforming,
    accepted: 'a fraction from 0 to 1',
  });
  return binomial.cdf(plan.acceptanceNumber, plan.sampleSizePieces, fractionNonconforming);
}

/**
 * Probability that a single plan accepts a lot when nonconformities are counted and one piece may
 * carry several.
 *
 * Formula: the Poisson sum of e⁻ᵐ·mˣ/x! over x from 0 to the acceptance number, with
 * m = sample size × nonconformities per piece.
 *
 * @param plan sample size in pieces, 1 or more, and acceptance number, 0 or more
 * @param nonconformitiesPerPiece mean number on one piece, 0 or more
 * @returns probability in [0, 1], not rounded
 * @throws DomainError for an argument outside its range
 * Validity: nonconformities independent of each other; exact, relative accuracy about 1e-12.
 * Source: MIL-STD-105E (1989), 4.13 and Table X; the Poisson distribution
 * @example poissonAcceptance({ sampleSizePieces: 180, acceptanceNumber: 9 }, 0.03) // 0.951
 */
export function poissonAcceptance(
  plan: { readonly sampleSizePieces: number; readonly acceptanceNumber: number },
  nonconformitiesPerPiece: number,
): number {
  requireCount('sampleSizePieces', plan.sampleSizePieces, 1);
  requireCount('acceptanceNumber', plan.acceptanceNumber, 0);
  requireDomain(nonconformitiesPerPiece >= 0 && Number.isFinite(nonconformitiesPerPiece), {
    field: 'nonconformitiesPerPiece',
    value: nonconformitiesPerPiece,
    accepted: 'a finite number of 0 or more',
  });
  if (nonconformitiesPerPiece === 0) return 1;
  return poisson.cdf(plan.acceptanceNumber, plan.sampleSizePieces * nonconformitiesPerPiece);
}

/**
 * Probability that a single plan accepts one particular lot with a known number of nonconforming
 * pieces in it: the exact risk of an isolated or small lot.
 *
 * Formula: the hypergeometric sum of C(D, x)·C(N − D, n − x)/C(N, n) over x from 0 to the acceptance
 * number, with N pieces in the lot, D of them nonconforming, n in the sample.
 *
 * @param plan sample size in pieces, 1 to the lot size, and acceptance number, 0 or more
 * @param lot lot size in pieces, 1 or more, and the nonconforming ones among them, 0 to the lot size
 * @returns probability in [0, 1], not rounded
 * @throws DomainError for an argument outside its range
 * Validity: sample drawn at random without replacement; exact. The terms are built from the
 * largest one outward and divided by their sum, so that no factorial is formed; relative
 * accuracy about 1e-12, held against exact integers in the tests.
 * Source: the hypergeometric distribution; MIL-STD-105E (1989), 4.13 names small lots
 * @example hypergeometricAcceptance({ sampleSizePieces: 5, acceptanceNumber: 0 },
 *   { lotSizePieces: 50, nonconformingPieces: 5 }) // 0.5766
 */
export function hypergeometricAcceptance(
  plan: { readonly sampleSizePieces: number; readonly acceptanceNumber: number },
  lot: { readonly lotSizePieces: number; readonly nonconformingPieces: number },
): number {
  const { sampleSizePieces: sample, acceptanceNumber } = plan;
  const { lotSizePieces, nonconformingPieces: bad } = lot;
  requireCount('lotSizePieces', lotSizePieces, 1);
  requireCount('sampleSizePieces', sample, 1);
  requireCount('acceptanceNumber', acceptanceNumber, 0);
  requireCount('nonconformingPieces', bad, 0);
  requireDomain(sample <= lotSizePieces, {
    field: 'sampleSizePieces',
    value: sample,
    accepted: `at most the ${lotSizePieces} pieces of the lot`,
  });
  requireDomain(bad <= lotSizePieces, {
    field: 'nonconformingPieces',
    value: bad,
    accepted: `at most the ${lotSizePieces} pieces of the lot`,
  });
  const least = Math.max(0, sample + bad - lotSizePieces);
  const most = Math.min(sample, bad);
  if (acceptanceNumber >= most) return 1;
  if (acceptanceNumber < least) return 0;
  const terms = relativeTerms({ sample, bad, lotSizePieces, least, most });
  const accepted = compensatedSum(terms.slice(0, acceptanceNumber - least + 1));
  return accepted / compensatedSum(terms);
}

/** Hypergeometric terms for x from least to most, as multiples of the largest one. */
function relativeTerms(range: {
  readonly sample: number;
  readonly bad: number;
  readonly lotSizePieces: number;
  readonly least: number;
  readonly most: number;
}): number[] {
  const { sample, bad, lotSizePieces, least, most } = range;
  const ratio = (x: number): number =>
    ((bad - x) * (sample - x)) / ((x + 1) * (lotSizePieces - bad - sample + x + 1));
  const mode = Math.min(
    most,
    Math.max(least, Math.floor(((sample + 1) * (bad + 1)) / (lotSizePieces + 2))),
  );
  const terms = new Array<number>(most - least + 1).fill(0);
  terms[mode - least] = 1;
  for (let x = mode, term = 1; x < most; x += 1) {
    term *= ratio(x);
    terms[x + 1 - least] = term;
  }
  for (let x = mode - 1, term = 1; x >= least; x -= 1) {
    term /= ratio(x);
    terms[x - least] = term;
  }
  return terms;
}
