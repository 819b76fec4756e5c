import { requireDomain } from '../../quantity/domain.ts';
import { normalDistribution, normalQuantile } from '../../quantity/normal.ts';

/** How much a disagreement counts against agreement. */
export type KappaWeights = 'none' | 'linear' | 'quadratic';

/** Kappa of two raters; every field is null where chance alone would make them agree. */
export interface CohenKappa {
  readonly kappa: number | null;
  readonly standardError: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly standardErrorNull: number | null;
  readonly z: number | null;
  readonly probability: number | null;
}

/** Kappa of many raters, of one category or of all. */
export interface FleissKappa {
  readonly kappa: number | null;
  readonly standardErrorNull: number | null;
  readonly z: number | null;
  readonly probability: number | null;
}

const noCohen: CohenKappa = {
  kappa: null,
  standardError: null,
  lower: null,
  upper: null,
  standardErrorNull: null,
  z: null,
  probability: null,
};
const noFleiss: FleissKappa = {
  kappa: null,
  standardErrorNull: null,
  z: null,
  probability: null,
};

const sum = (values: readonly number[]): number => values.reduce((total, one) => total + one, 0);
const twoSided = (z: number): number => Math.min(1, 2 * normalDistribution(-Math.abs(z), 0, 1));

/** Credit of a pair of categories: 1 for agreement, 0 for the farthest apart. */
function credit(weights: KappaWeights, i: number, j: number, categories: number): number {
  if (weights === 'none') return i === j ? 1 : 0;
  const distance = Math.abs(i - j) / (categories - 1);
  return 1 - (weights === 'linear' ? distance : distance ** 2);
}

/** Shares of a table, its margins, and the mean credit that each category earns with either margin. */
interface Credits {
  readonly shares: readonly (readonly number[])[];
  readonly credits: readonly (readonly number[])[];
  readonly first: readonly number[];
  readonly second: readonly number[];
  readonly meanOfFirst: readonly number[];
  readonly meanOfSecond: readonly number[];
  readonly observed: number;
  readonly expected: number;
}

function creditsOf(
  table: readonly (readonly number[])[],
  total: number,
  weights: KappaWeights,
): Credits {
  const shares = table.map((row) => row.map((count) => count / total));
  const credits = table.map((row, i) => row.map((_, j) => credit(weights, i, j, table.length)));
  const first = shares.map(sum);
  const second = shares.map((_, j) => sum(shares.map((row) => row[j] ?? 0)));
  const at = (i: number, j: number): number => credits[i]?.[j] ?? 0;
  const meanOfFirst = first.map((_, i) => sum(second.map((share, j) => share * at(i, j))));
  const meanOfSecond = second.map((_, j) => sum(first.map((share, i) => share * at(i, j))));
  const observed = sum(shares.flatMap((row, i) => row.map((share, j) => share * at(i, j))));
  const expected = sum(first.map((share, i) => share * (meanOfFirst[i] ?? 0)));
  return { shares, credits, first, second, meanOfFirst, meanOfSecond, observed, expected };
}

/** Large-sample variances of kappa times the number of items: as found, and without agreement. */
function variances(c: Credits): { found: number; none: number } {
  const { observed, expected } = c;
  const free = 1 - expected;
  // Means of the two terms below, taken off before squaring so that full agreement gives exactly 0.
  const mean = observed * expected - 2 * expected + observed;
  let found = 0;
  let none = 0;
  c.shares.forEach((row, i) => {
    row.forEach((share, j) => {
      const own = c.credits[i]?.[j] ?? 0;
      const means = (c.meanOfFirst[i] ?? 0) + (c.meanOfSecond[j] ?? 0);
      found += share * (own * free - means * (1 - observed) - mean) ** 2;
      none += (c.first[i] ?? 0) * (c.second[j] ?? 0) * (own - means + expected) ** 2;
    });
  });
  return { found: found / free ** 4, none: none / free ** 2 };
}

/**
 * Agreement of two raters beyond chance.
 *
 * Formula: κ = (p_o − p_e)/(1 − p_e), with agreements p_o seen and p_e expected from the margins, each pair of
 * categories credited by its weight: 1 − |i − j|/(k − 1), or the same with squares, or 1 and 0. Standard
 * errors for large samples, as found and without agreement.
 *
 * @param table counts by category of the first rater, then of the second; square, 2 categories or more
 * @param weights of disagreements; ordered categories for linear and quadratic
 * @param confidence two-sided, open range (0, 1)
 * @returns kappa, its standard errors, interval and test, not rounded; null where chance alone would
 *   make everyone agree
 * @throws DomainError for a table that is not square or is empty
 * Validity: standard errors from about 3k² items on. See reference/kappa.
 * Source: J. Cohen (1960), Educational and Psychological Measurement 20, 37-46, (1968) for weights; J. L.
 * Fleiss, J. Cohen and B. S. Everitt (1969), Psychological Bulletin 72, 323-327
 * @example cohenKappa([[20, 5], [10, 15]], 'none', 0.95).kappa // 0.4
 */
export function cohenKappa(
  table: readonly (readonly number[])[],
  weights: KappaWeights,
  confidence: number,
): CohenKappa {
  const total = sum(table.map(sum));
  requireDomain(
    table.length >= 2 && table.every((row) => row.length === table.length) && total > 0,
    { field: 'table', value: table.length, accepted: 'a square table of counts, not all 0' },
  );
  const credits = creditsOf(table, total, weights);
  if (1 - credits.expected < 1e-12) return noCohen;
  const kappa = (credits.observed - credits.expected) / (1 - credits.expected);
  const { found, none } = variances(credits);
  const standardError = Math.sqrt(found / total);
  const standardErrorNull = Math.sqrt(none / total);
  const factor = normalQuantile((1 + confidence) / 2);
  const z = standardErrorNull > 0 ? kappa / standardErrorNull : null;
  return {
    kappa,
    standardError,
    lower: Math.max(-1, kappa - factor * standardError),
    upper: Math.min(1, kappa + factor * standardError),
    standardErrorNull,
    z,
    probability: z === null ? null : twoSided(z),
  };
}

/** Sums over the items that the kappas of many raters need. */
interface FleissSums {
  readonly shares: readonly number[];
  /** Mean over items of the share of pairs of judgements that agree in the category. */
  readonly agreeing: readonly number[];
}

function fleissSums(counts: readonly (readonly number[])[], raters: number): FleissSums {
  const categories = counts[0]?.length ?? 0;
  const totals = new Float64Array(categories);
  const squares = new Float64Array(categories);
  for (const row of counts) {
    for (let j = 0; j < categories; j += 1) {
      const count = row[j] as number;
      totals[j] = (totals[j] as number) + count;
      squares[j] = (squares[j] as number) + count * (count - 1);
    }
  }
  const pairs = counts.length * raters * (raters - 1);
  return {
    shares: Array.from(totals, (total) => total / (counts.length * raters)),
    agreeing: Array.from(squares, (square) => square / pairs),
  };
}

function tested(kappa: number, standardErrorNull: number): FleissKappa {
  const z = kappa / standardErrorNull;
  return { kappa, standardErrorNull, z, probability: twoSided(z) };
}

/**
 * Agreement of many judgements on each item beyond chance, overall and by category.
 *
 * Formula: κ = (P̄ − Σp²)/(1 − Σp²), P̄ the share of pairs of judgements on the same item that agree, p
 * the share of each category; of one category, (P_j − p_j)/(1 − p_j) with P_j the share of agreeing
 * pairs in all pairs with a judgement in it. Without agreement the variance is 2·((Σpq)² − Σpq(q −
 * p))/((Σpq)²·N·m·(m − 1)), of one category 2/(N·m·(m − 1)).
 *
 * @param counts judgements of each item by category; every item has the same sum of 2 or more
 * @returns kappa of all categories and of each, with test against 0, not rounded
 * @throws DomainError for items with different numbers of judgements
 * Validity: the standard errors hold without agreement only, for many items. See reference/kappa.
 * Source: J. L. Fleiss (1971), Psychological Bulletin 76, 378-382; J. L. Fleiss, J. C. M. Nee and J. R. Landis
 * (1979), same 86, 974-977
 * @example fleissKappa([[3, 0], [0, 3], [2, 1]]).overall.kappa // 0.55
 */
export function fleissKappa(counts: readonly (readonly number[])[]): {
  readonly overall: FleissKappa;
  readonly byCategory: readonly FleissKappa[];
} {
  const raters = sum(counts[0] ?? []);
  const alike = counts.every((row) => {
    let total = 0;
    for (let j = 0; j < row.length; j += 1) total += row[j] as number;
    return total === raters;
  });
  requireDomain(alike && raters >= 2 && counts.length >= 2, {
    field: 'counts',
    value: `${counts.length} items, ${raters} judgements on the first`,
    accepted: 'at least 2 items with the same number of judgements, 2 or more',
  });
  const { shares, agreeing } = fleissSums(counts, raters);
  const trials = counts.length * raters * (raters - 1);
  const spread = sum(shares.map((p) => p * (1 - p)));
  const skew = sum(shares.map((p) => p * (1 - p) * (1 - 2 * p)));
  const categoryError = Math.sqrt(2 / trials);
  return {
    overall:
      spread < 1e-12
        ? noFleiss
        : tested(
            (sum(agreeing) - (1 - spread)) / spread,
            (Math.sqrt(2) * Math.sqrt(Math.max(0, spread ** 2 - skew))) /
              (spread * Math.sqrt(trials)),
          ),
    byCategory: shares.map((p, j) => {
      if (p <= 0 || p >= 1) return noFleiss;
      return tested(((agreeing[j] ?? 0) / p - p) / (1 - p), categoryError);
    }),
  };
}
