import gammainc from '@stdlib/math-base-special-gammainc';
import gammaln from '@stdlib/math-base-special-gammaln';
import { requireDomain } from '../quantity/domain.ts';

/** What is believed of the onset before any look. */
export type OnsetPrior =
  | { readonly kind: 'uniform'; readonly faultProbability: number }
  | { readonly kind: 'weibull'; readonly scaleStrikes: number; readonly shape: number };

/** Looks at pieces struck at one strike, each look good or bad. */
export interface OnsetLook {
  readonly strike: number;
  readonly looks: number;
  readonly badLooks: number;
  readonly missProbability: number;
  readonly falseAlarmProbability: number;
}

/** Strikes between two looks, the end included: no look can tell its onsets apart. */
interface OnsetInterval {
  readonly fromStrike: number;
  readonly toStrike: number;
  readonly priorProbability: number;
  readonly probability: number;
}

export interface OnsetPosterior {
  readonly intervals: readonly OnsetInterval[];
  /** Probability that the fault had not begun by the last strike. */
  readonly soundProbability: number;
  /** Probability that the fault began at or before a strike. */
  readonly beganBy: (strike: number) => number;
  /** Sum of that probability over all strikes from the first to a strike: faulty pieces expected. */
  readonly faultyBy: (strike: number) => number;
}

/** count·ln(probability), nothing for a count of zero even where the probability is zero too. */
const times = (count: number, logProbability: number): number =>
  count === 0 ? 0 : count * logProbability;

/** ln of the probability of a look when the fault is there, and when it is not. */
function logLikelihoods(look: OnsetLook): { readonly faulty: number; readonly sound: number } {
  const { looks, badLooks, missProbability: miss, falseAlarmProbability: alarm } = look;
  const good = looks - badLooks;
  return {
    faulty: times(badLooks, Math.log1p(-miss)) + times(good, Math.log(miss)),
    sound: times(badLooks, Math.log(alarm)) + times(good, Math.log1p(-alarm)),
  };
}

interface PriorMass {
  /** Probability of an onset in (after, to], strikes. */
  readonly between: (after: number, to: number) => number;
  readonly soundAfter: (last: number) => number;
  /** Σ of between(after, t) over t = after + 1 … to. */
  readonly summed: (after: number, to: number) => number;
}

/** Fewer strikes than this are summed one by one. */
const fewStrikes = 1000;
/** A life must be so much longer than a strike for the sum to be taken from the integral. */
const smoothStrikes = 2000;

/**
 * Σ of the probability of an onset in (after, t] over t = after + 1 … to: the integral of the
 * distribution with the ends of Euler and Maclaurin, or strike by strike where that is not smooth.
 */
function weibullSum(
  life: { readonly scaleStrikes: number; readonly shape: number },
  start: number,
  after: number,
  to: number,
): number {
  const { scaleStrikes: scale, shape } = life;
  const hazard = (strike: number) => (strike / scale) ** shape;
  const base = hazard(after);
  const isSmooth = scale / Math.max(1, shape) >= smoothStrikes && start < 30;
  const direct = isSmooth && to - after > fewStrikes ? Math.max(after, fewStrikes) : to;
  let sum = 0;
  for (let strike = after + 1; strike <= direct; strike += 1)
    sum -= Math.expm1(base - hazard(strike));
  sum *= Math.exp(start - base);
  if (direct >= to) return sum;
  const begun = (strike: number) => -Math.expm1(-hazard(strike));
  // ∫ F dt = t·F − ∫ t dF, without the difference of two long times.
  const area = (strike: number) =>
    strike * begun(strike) -
    scale * Math.exp(gammaln(1 + 1 / shape)) * gammainc(hazard(strike), 1 + 1 / shape);
  const density = (strike: number) =>
    ((shape * hazard(strike)) / strike) * Math.exp(-hazard(strike));
  const integral = area(to) - area(direct);
  const ends = (begun(to) - begun(direct)) / 2 + (density(to) - density(direct)) / 12;
  return sum + Math.exp(start) * (integral + ends - (to - direct) * begun(after));
}

function priorMass(prior: OnsetPrior, first: number, last: number): PriorMass {
  if (prior.kind === 'uniform') {
    const each = prior.faultProbability / (last - first + 1);
    return {
      between: (after, to) => (to - after) * each,
      soundAfter: () => 1 - prior.faultProbability,
      summed: (after, to) => (((to - after) * (to - after + 1)) / 2) * each,
    };
  }
  const hazard = (strike: number) => (strike / prior.scaleStrikes) ** prior.shape;
  const start = hazard(first - 1);
  const between = (after: number, to: number) =>
    Math.exp(start - hazard(after)) * -Math.expm1(hazard(after) - hazard(to));
  return {
    between,
    soundAfter: (strike) => Math.exp(start - hazard(strike)),
    summed: (after, to) => weibullSum(prior, start, after, to),
  };
}

/** Looks at one strike taken together, ascending. */
function byStrike(looks: readonly OnsetLook[]) {
  const found = new Map<number, { faulty: number; sound: number }>();
  for (const look of looks) {
    const { faulty, sound } = logLikelihoods(look);
    const before = found.get(look.strike) ?? { faulty: 0, sound: 0 };
    found.set(look.strike, { faulty: before.faulty + faulty, sound: before.sound + sound });
  }
  return [...found].sort(([one], [other]) => one - other);
}

/** ln-likelihood of an onset in each interval, and last of none at all. */
function intervalLikelihoods(strikes: ReturnType<typeof byStrike>): number[] {
  const sound = [0];
  for (const [, look] of strikes) sound.push((sound.at(-1) ?? 0) + look.sound);
  const result: number[] = new Array<number>(strikes.length + 1).fill(0);
  let faulty = 0;
  for (let index = strikes.length; index >= 0; index -= 1) {
    faulty += strikes[index]?.[1].faulty ?? 0;
    result[index] = (sound[index] ?? 0) + faulty;
  }
  return result;
}

/**
 * Exact posterior of the strike at which a fault of a die began: from then on every piece shows it.
 *
 * Formula: an onset t is weighed by its prior and by (1 − miss)^bad·miss^good for looks at strikes
 * from t on, alarm^bad·(1 − alarm)^good for looks before t. The weight is the same for all onsets
 * between two looks, so that sums over strikes are differences of the prior's distribution.
 *
 * @param looks 1 or more, in any order, at strikes from first to last
 * @param prior uniform over the strikes with a probability that the fault began at all, or Weibull life
 *   given that the fault was not there before the first strike
 * @param range first and last strike, whole numbers, 1 or more
 * @returns intervals between looks with their probabilities, probability of no onset, distribution
 * @throws DomainError when no onset at all can explain the looks
 * Validity: looks independent given the onset; exact but for rounding, about 1e-14; expected faulty
 * pieces with a Weibull prior to 1e-10.
 * Source: Bayes' theorem; T. Bayes (1763), Philosophical Transactions 53, 370-418
 * @example onsetPosterior([{ strike: 100, looks: 1, badLooks: 0, missProbability: 0.5,
 *   falseAlarmProbability: 0 }], { kind: 'uniform', faultProbability: 1 },
 *   { firstStrike: 1, lastStrike: 200 }).beganBy(100) // 0.3333333
 */
export function onsetPosterior(
  looks: readonly OnsetLook[],
  prior: OnsetPrior,
  range: { readonly firstStrike: number; readonly lastStrike: number },
): OnsetPosterior {
  const { firstStrike: first, lastStrike: last } = range;
  const mass = priorMass(prior, first, last);
  const strikes = byStrike(looks);
  const logLikelihoods = intervalLikelihoods(strikes);
  const edges = [first - 1, ...strikes.map(([strike]) => strike), last];
  const priors = logLikelihoods.map((_, index) =>
    mass.between(edges[index] ?? 0, edges[index + 1] ?? 0),
  );
  const soundPrior = mass.soundAfter(last);
  const soundLog = logLikelihoods.at(-1) ?? 0;
  // No onset at all leaves every look before the onset, as an onset after the last look does.
  const greatest = Math.max(
    ...logLikelihoods.map((log, index) => ((priors[index] ?? 0) > 0 ? log : -Infinity)),
    soundPrior > 0 ? soundLog : -Infinity,
  );
  requireDomain(greatest > -Infinity, {
    field: 'evidence',
    value: 'looks that contradict one another',
    accepted: 'a miss or false alarm probability above 0 where findings contradict one another',
  });
  const weights = logLikelihoods.map(
    (log, index) => (priors[index] ?? 0) * Math.exp(log - greatest),
  );
  const sound = soundPrior * Math.exp(soundLog - greatest);
  const total = weights.reduce((sum, weight) => sum + weight, sound);
  const intervals = weights.map((weight, index) => ({
    fromStrike: (edges[index] ?? 0) + 1,
    toStrike: edges[index + 1] ?? last,
    priorProbability: priors[index] ?? 0,
    probability: weight / total,
  }));
  return { intervals, soundProbability: sound / total, ...distribution(intervals, mass) };
}

/** The distribution over the strikes, from the probabilities of the intervals. */
function distribution(intervals: readonly OnsetInterval[], mass: PriorMass) {
  const real = intervals.filter((one) => one.toStrike >= one.fromStrike);
  const beganBy = (strike: number): number => {
    let sum = 0;
    for (const { fromStrike, toStrike, priorProbability, probability } of real) {
      if (strike >= toStrike) sum += probability;
      else if (strike >= fromStrike && priorProbability > 0) {
        return sum + probability * (mass.between(fromStrike - 1, strike) / priorProbability);
      }
    }
    return sum;
  };
  const faultyBy = (strike: number): number => {
    let sum = 0;
    let before = 0;
    for (const { fromStrike, toStrike, priorProbability, probability } of real) {
      if (strike < fromStrike) break;
      const to = Math.min(strike, toStrike);
      sum += before * (to - fromStrike + 1);
      if (priorProbability > 0) {
        sum += probability * (mass.summed(fromStrike - 1, to) / priorProbability);
      }
      before += probability;
    }
    return sum;
  };
  return { beganBy, faultyBy };
}
