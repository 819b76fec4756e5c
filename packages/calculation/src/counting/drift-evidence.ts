import { equalPanels, panelRule } from '../quantity/gauss-legendre.ts';
import { logOfSum } from '../quantity/log-sum.ts';

/** One tube: net reading less booked count times reference mean, with its own variance. */
export interface DriftTube {
  readonly pieces: number;
  readonly residual: number;
  readonly variance: number;
}

/** A further shared term of the readings: its weight in each tube, and its variance. */
export interface SharedTerm {
  readonly weights: readonly number[];
  readonly variance: number;
}

/** Logarithm of the density of the readings, and what they say about the last shared term. */
export interface SharedFit {
  readonly logEvidence: number;
  readonly estimate: number;
  readonly standardDeviation: number;
}

const logTwoPi = Math.log(2 * Math.PI);

/**
 * Density of readings with one or two shared normal terms.
 *
 * Formula: residual = Σ weight·term + own error; with G = X'D⁻¹X, b = X'D⁻¹r and the terms' variances V the
 * logarithm is −½·(Σ ln 2πs² + r'D⁻¹r + ln det(I + VG) − b'(I + VG)⁻¹Vb).
 *
 * @param tubes 1 or more; variances above 0
 * @param terms 1 or 2 shared terms with variances 0 or more
 * @returns logarithm of the density, mean and standard deviation of the last term given the readings
 * Validity: exact for normal errors. Held against quadrature in series.test.
 * Source: normal linear model, D. V. Lindley and A. F. M. Smith (1972), Journal of the Royal Statistical
 * Society B 34, 1-41
 * @example sharedFit([{ pieces: 1, residual: 1, variance: 1 }],
 *   [{ weights: [1], variance: 1 }]).estimate // 0.5
 */
export function sharedFit(
  tubes: readonly DriftTube[],
  terms: readonly [SharedTerm] | readonly [SharedTerm, SharedTerm],
): SharedFit {
  const [first, second = { weights: [], variance: 0 }] = terms;
  let plain = 0;
  let [g11, g12, g22, b1, b2] = [0, 0, 0, 0, 0];
  for (const [index, tube] of tubes.entries()) {
    const x1 = first.weights[index] as number;
    const x2 = second.weights[index] ?? 0;
    plain += logTwoPi + Math.log(tube.variance) + tube.residual ** 2 / tube.variance;
    g11 += x1 ** 2 / tube.variance;
    g12 += (x1 * x2) / tube.variance;
    g22 += x2 ** 2 / tube.variance;
    b1 += (x1 * tube.residual) / tube.variance;
    b2 += (x2 * tube.residual) / tube.variance;
  }
  const [v1, v2] = [first.variance, second.variance];
  const [m11, m12, m21, m22] = [1 + v1 * g11, v1 * g12, v2 * g12, 1 + v2 * g22];
  const determinant = m11 * m22 - m12 * m21;
  const mean1 = (m22 * v1 * b1 - m12 * v2 * b2) / determinant;
  const mean2 = (m11 * v2 * b2 - m21 * v1 * b1) / determinant;
  const hasTwo = terms.length === 2;
  return {
    logEvidence: -0.5 * (plain + Math.log(determinant) - b1 * mean1 - b2 * mean2),
    estimate: hasTwo ? mean2 : mean1,
    standardDeviation: Math.sqrt(hasTwo ? (m11 * v2) / determinant : (m22 * v1) / determinant),
  };
}

/** What single tubes may have wrong. */
export interface OddTubes {
  readonly pieceMass: number;
  readonly miscount: number;
  readonly badWeighing: number;
  readonly badVariance: number;
}

/** Evidence for odd single tubes, in logarithms, and which tubes they are. */
export interface OddEvidence {
  /** At least one count wrong. */
  readonly wrongCount: number;
  /** No count wrong, at least one bad weighing. */
  readonly badOnly: number;
  /** Neither. */
  readonly clean: number;
  /** Given that some tube is odd: probability of a wrong count, and of a bad weighing, for each. */
  readonly miscounted: readonly number[];
  readonly badlyWeighed: readonly number[];
}

/** Logarithm of 1 + eˣ. */
const softPlus = (x: number): number =>
  x > 0 ? x + Math.log1p(Math.exp(-x)) : Math.log1p(Math.exp(x));

/** Logarithms of the density of a tube that is in order, and of the odds that it is not. */
interface RatioLogs {
  readonly base: number;
  readonly count: number;
  readonly bad: number;
}

function ratioLogs(tube: DriftTube, shift: number, odd: OddTubes): RatioLogs {
  const left = tube.residual - tube.pieces * shift;
  const normal = 1 - 2 * odd.miscount - odd.badWeighing;
  const half = (value: number): number => (-0.5 * (value ** 2 - left ** 2)) / tube.variance;
  const low = half(left + odd.pieceMass);
  const high = half(left - odd.pieceMass);
  const top = Math.max(low, high);
  const wide = odd.badVariance + tube.variance;
  return {
    base:
      -0.5 * (logTwoPi + Math.log(tube.variance) + left ** 2 / tube.variance) + Math.log(normal),
    count:
      Math.log(odd.miscount / normal) + top + Math.log(Math.exp(low - top) + Math.exp(high - top)),
    bad:
      Math.log(odd.badWeighing / normal) -
      0.5 * Math.log(wide / tube.variance) -
      0.5 * (tube.residual ** 2 / wide - left ** 2 / tube.variance),
  };
}

const reach = 8;

function shiftRule(tubes: readonly DriftTube[], variance: number) {
  if (variance === 0) return { nodes: [0], weights: [1] };
  const spread = Math.sqrt(variance);
  const information = tubes.reduce((sum, tube) => sum + tube.pieces ** 2 / tube.variance, 0);
  const narrow = 1 / Math.sqrt(1 / variance + information);
  const panels = Math.min(2000, Math.ceil((2 * reach * spread) / (2 * narrow)));
  const rule = panelRule(equalPanels(-reach * spread, reach * spread, panels));
  return {
    nodes: Array.from(rule.nodes),
    weights: Array.from(
      rule.weights,
      (weight, index) =>
        (weight * Math.exp(-0.5 * ((rule.nodes[index] as number) / spread) ** 2)) /
        (spread * Math.sqrt(2 * Math.PI)),
    ),
  };
}

/** Logarithm of eˣ − 1 for x above 0; minus infinity at 0. */
const logExpm1 = (x: number): number => (x > 40 ? x : Math.log(Math.expm1(x)));

/** Logarithm of eᵃ + eᵇ. */
function logAdd(a: number, b: number): number {
  const top = Math.max(a, b);
  return top === -Infinity ? top : top + Math.log1p(Math.exp(Math.min(a, b) - top));
}

/** Shifts this far below the most telling one do not matter for single tubes. */
const negligible = 45;

/**
 * Evidence that single tubes hold one piece less or more, or were badly weighed, while the mean piece mass
 * is steady.
 *
 * Formula: ∫ N(shift; 0, V)·Π fₜ(shift)·(1 + count oddsₜ + bad oddsₜ) d shift, by Gauss–Legendre quadrature;
 * with the count odds left out for bad weighings only, and both left out for neither.
 *
 * @param tubes 1 or more
 * @param shiftVariance of the shared deviation of the mean piece mass, 0 or more, in square grams
 * @param odd piece mass above 0; probabilities above 0
 * @returns logarithms of the evidence, and which tubes
 * Validity: a miscount of more than one piece counts as a bad weighing. Held against a sum over all cases in
 * series.test.
 * Source: total probability, elementary
 * @example oddEvidence([{ pieces: 1, residual: 0, variance: 0.01 }], 0, { pieceMass: 1, miscount: 0.01,
 *   badWeighing: 0.01, badVariance: 4 }).miscounted[0] < 0.001 // true
 */
export function oddEvidence(
  tubes: readonly DriftTube[],
  shiftVariance: number,
  odd: OddTubes,
): OddEvidence {
  const rule = shiftRule(tubes, shiftVariance);
  const rows = rule.nodes.map((shift, index) => {
    let clean = Math.log(rule.weights[index] as number);
    // Kept apart, so that a small part does not drown in the difference of two large ones.
    let [byBad, byCount] = [0, 0];
    for (const tube of tubes) {
      const one = ratioLogs(tube, shift, odd);
      const bad = softPlus(one.bad);
      clean += one.base;
      byBad += bad;
      byCount += softPlus(one.count - bad);
    }
    return { shift, clean, byBad, byCount, all: clean + byBad + byCount };
  });
  const wrongCount = logOfSum(rows.map((row) => row.clean + row.byBad + logExpm1(row.byCount)));
  const badOnly = logOfSum(rows.map((row) => row.clean + logExpm1(row.byBad)));
  const someOdd = logAdd(wrongCount, badOnly);
  const top = rows.reduce((greatest, row) => Math.max(greatest, row.all), Number.NEGATIVE_INFINITY);
  const telling = rows.filter((row) => row.all > top - negligible);
  const shareOf = (pick: (one: RatioLogs) => number, tube: DriftTube): number => {
    const logs = telling.map((row) => {
      const one = ratioLogs(tube, row.shift, odd);
      return row.all + pick(one) - softPlus(logAdd(one.count, one.bad));
    });
    return Math.min(1, Math.exp(logOfSum(logs) - someOdd));
  };
  return {
    wrongCount,
    badOnly,
    clean: logOfSum(rows.map((row) => row.clean)),
    miscounted: tubes.map((tube) => shareOf((one) => one.count, tube)),
    badlyWeighed: tubes.map((tube) => shareOf((one) => one.bad, tube)),
  };
}
