import { requireDomain } from '../quantity/domain.ts';

/** An error that is the same in every balance, with the effect it has on the one at hand. */
export interface PersistentEffect {
  readonly source: string;
  /** Change of the difference when the error is one standard uncertainty; signed, in g. */
  readonly effectGrams: number;
}

/** The balance of one period, and the errors that it shares with other periods. */
export interface BalancePeriod {
  /** Positive is missing. */
  readonly differenceGrams: number;
  /** Of the stock at the beginning; null when it is the ending stock of the period before. */
  readonly openingStandardUncertaintyGrams: number | null;
  readonly endingStandardUncertaintyGrams: number;
  readonly transferStandardUncertaintyGrams: number;
  readonly persistent: readonly PersistentEffect[];
}

/** A balance after everything that the balances before it say of its errors is taken away. */
export interface BalanceResidual {
  /** In its own standard uncertainties: independent of those before, standard normal without a loss. */
  readonly residual: number;
  readonly residualStandardUncertaintyGrams: number;
  /** What each error most likely is, if nothing was lost; the parts add to the difference. */
  readonly expectedPartsGrams: () => ReadonlyMap<string, number>;
}

/** Names of the errors of one period; persistent ones stand under the names of their sources. */
export const periodSources = {
  opening: 'opening stock',
  ending: 'ending stock',
  transfers: 'transfers',
} as const;

/** Below this part of its whole variance a balance says nothing that those before do not say. */
const leastFreePart = 1e-12;

/** What the balances so far say of the errors that reach into the next one. */
interface SharedErrors {
  inventoryMean: number;
  inventoryVariance: number;
  /** Of the persistent errors, in standard uncertainties. */
  readonly means: Float64Array;
  readonly covariance: Float64Array;
  /** Covariance of each persistent error with the error of the last stock. */
  readonly withInventory: Float64Array;
}

/** What the errors known so far do to the balance at hand. */
interface Prediction {
  readonly mean: number;
  readonly variance: number;
  readonly fromInventory: number;
  readonly fromSources: Float64Array;
}

/** Every persistent source of a series, in the order of their first mention. */
export function persistentSources(periods: readonly BalancePeriod[]): readonly string[] {
  return [...new Set(periods.flatMap(({ persistent }) => persistent.map(({ source }) => source)))];
}

function effectsOf(period: BalancePeriod, sources: readonly string[]): Float64Array {
  const effects = new Float64Array(sources.length);
  for (const { source, effectGrams } of period.persistent) {
    const at = sources.indexOf(source);
    effects[at] = (effects[at] as number) + effectGrams;
  }
  return effects;
}

function beginStock(known: SharedErrors, openingStandardUncertaintyGrams: number): void {
  known.inventoryMean = 0;
  known.inventoryVariance = openingStandardUncertaintyGrams ** 2;
  known.withInventory.fill(0);
}

function predict(known: SharedErrors, effects: Float64Array): Prediction {
  const { means, covariance, withInventory } = known;
  const count = effects.length;
  const fromSources = new Float64Array(count);
  let mean = known.inventoryMean;
  let fromInventory = known.inventoryVariance;
  for (let at = 0; at < count; at += 1) {
    const effect = effects[at] as number;
    mean += effect * (means[at] as number);
    fromInventory += effect * (withInventory[at] as number);
    let sum = withInventory[at] as number;
    for (let other = 0; other < count; other += 1) {
      sum += (covariance[at * count + other] as number) * (effects[other] as number);
    }
    fromSources[at] = sum;
  }
  let variance = fromInventory;
  for (let at = 0; at < count; at += 1) {
    variance += (effects[at] as number) * (fromSources[at] as number);
  }
  return { mean, variance, fromInventory, fromSources };
}

/** Takes in what a balance says of the shared errors, and passes its ending stock on. */
function learn(
  known: SharedErrors,
  prediction: Prediction,
  balance: {
    readonly surprise: number;
    readonly variance: number;
    readonly endingVariance: number;
  },
): void {
  const { surprise, variance, endingVariance } = balance;
  const { fromSources } = prediction;
  const count = fromSources.length;
  for (let at = 0; at < count; at += 1) {
    const from = fromSources[at] as number;
    known.means[at] = (known.means[at] as number) + (from * surprise) / variance;
    known.withInventory[at] = (endingVariance * from) / variance;
    for (let other = 0; other < count; other += 1) {
      const place = at * count + other;
      const before = known.covariance[place] as number;
      known.covariance[place] = before - (from * (fromSources[other] as number)) / variance;
    }
  }
  // Metal counted too much at the end is missing less now, and more in the next period.
  known.inventoryMean = (-endingVariance * surprise) / variance;
  known.inventoryVariance = endingVariance - endingVariance ** 2 / variance;
}

function noErrors(count: number): SharedErrors {
  const covariance = new Float64Array(count * count);
  for (let at = 0; at < count; at += 1) covariance[at * count + at] = 1;
  return {
    inventoryMean: 0,
    inventoryVariance: 0,
    means: new Float64Array(count),
    covariance,
    withInventory: new Float64Array(count),
  };
}

function wholeVariance(period: BalancePeriod, effects: Float64Array, opening: number): number {
  const shared = effects.reduce((sum, effect) => sum + effect ** 2, 0);
  const own =
    period.endingStandardUncertaintyGrams ** 2 + period.transferStandardUncertaintyGrams ** 2;
  return shared + own + opening ** 2;
}

/**
 * Follows consecutive balances of one place: each call takes the next and answers its residual.
 *
 * @param sources every persistent source that a balance will name, each once
 * @returns a function that takes the balances in the order of time
 * @throws DomainError, at a call, for a balance whose error the balances before determine wholly, and
 *   for a first balance without the uncertainty of its opening stock
 * Validity: as `balanceResiduals`.
 * Source: as `balanceResiduals`
 * @example followBalances([])({ differenceGrams: 8, openingStandardUncertaintyGrams: 0,
 *   endingStandardUncertaintyGrams: 0, transferStandardUncertaintyGrams: 4, persistent: [] }).residual // 2
 */
export function followBalances(
  sources: readonly string[],
): (period: BalancePeriod) => BalanceResidual {
  const known = noErrors(sources.length);
  let endingBefore: number | null = null;
  let number = 0;
  return (period) => {
    number += 1;
    const opening = period.openingStandardUncertaintyGrams ?? endingBefore;
    requireDomain(opening !== null, {
      field: 'periods.0.openingStandardUncertaintyGrams',
      value: null,
      accepted: 'a standard uncertainty of 0 g or more, since no period stands before',
    });
    if (period.openingStandardUncertaintyGrams !== null) beginStock(known, opening);
    endingBefore = period.endingStandardUncertaintyGrams;
    const effects = effectsOf(period, sources);
    const prediction = predict(known, effects);
    const endingVariance = period.endingStandardUncertaintyGrams ** 2;
    const transferVariance = period.transferStandardUncertaintyGrams ** 2;
    const variance = prediction.variance + endingVariance + transferVariance;
    requireDomain(variance > leastFreePart * wholeVariance(period, effects, opening), {
      field: `periods.${number - 1}`,
      value: `balance ${number}`,
      accepted: 'a balance with an error of its own: of its transfers or its ending stock',
    });
    const surprise = period.differenceGrams - prediction.mean;
    const pull = surprise / variance;
    const openingPart = known.inventoryMean + prediction.fromInventory * pull;
    learn(known, prediction, { surprise, variance, endingVariance });
    const means = known.means.slice();
    return {
      residual: surprise / Math.sqrt(variance),
      residualStandardUncertaintyGrams: Math.sqrt(variance),
      expectedPartsGrams: () =>
        new Map([
          [periodSources.opening, openingPart],
          [periodSources.ending, endingVariance * pull],
          [periodSources.transfers, transferVariance * pull],
          ...sources.map(
            (source, at) => [source, (effects[at] as number) * (means[at] as number)] as const,
          ),
        ]),
    };
  };
}

/**
 * Standardised independent residuals of consecutive balances of one place. The ending stock of one
 * period is the opening stock of the next, so that neighbours err in opposite directions; a
 * calibration error comes back in every period. Each balance is compared with what those before it
 * let expect; earlier residuals never change when a period is added.
 *
 * Formula: z = L⁻¹·d with V = L·Lᵀ, V the covariance of `balanceCovariance`. The rows of L are found
 * one by one from the mean and covariance of the shared errors given the balances so far (the last
 * stock and the persistent sources), which takes n·p² steps instead of n³.
 *
 * @param periods 1 or more, in the order of time; masses in g; standard uncertainties 0 or more; the
 *   first states its opening stock
 * @returns one residual per period: without a loss independent, mean 0, standard deviation 1
 * @throws DomainError for a balance whose error the balances before determine wholly, and for a first
 *   balance without the uncertainty of its opening stock
 * Validity: normal errors with the stated uncertainties; persistent errors stay the same over all
 * periods. Agrees with the factorisation of the whole matrix to about 1e-9. See
 * reference/balance-series.
 * Source: D. J. Pike and A. J. Woods, standardised independent balances of material accountancy,
 * from memory; R. E. Kalman (1960), Journal of Basic Engineering 82, 35-45 (the recursion)
 * @example balanceResiduals([2, -5].map((differenceGrams, index) => ({ differenceGrams,
 *   openingStandardUncertaintyGrams: index === 0 ? 4 : null, endingStandardUncertaintyGrams: 4,
 *   transferStandardUncertaintyGrams: 3, persistent: [] })))[1].residual // -0.7157259
 */
export function balanceResiduals(periods: readonly BalancePeriod[]): BalanceResidual[] {
  return periods.map(followBalances(persistentSources(periods)));
}
