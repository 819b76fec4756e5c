import { panelRule } from '../quantity/gauss-legendre.ts';
import { mixtureDensity, type ReadingMixture } from './reading-mixture.ts';

/** Bits that are open while options have these probabilities. */
export const entropyBits = (probabilities: readonly number[]): number =>
  probabilities.reduce((sum, part) => (part > 0 ? sum - part * Math.log2(part) : sum), 0);

/**
 * Bits that one result of a table tells on average: rows are what is true, columns what is shown.
 */
export function bitsOfTable(
  priors: readonly number[],
  table: readonly (readonly number[])[],
): number {
  const columns = table[0]?.map((_, at) =>
    priors.reduce((sum, prior, row) => sum + prior * (table[row]?.[at] ?? 0), 0),
  );
  return priors.reduce(
    (sum, prior, row) =>
      sum +
      (table[row] ?? []).reduce(
        (inner, shown, at) =>
          prior > 0 && shown > 0
            ? inner + prior * shown * Math.log2(shown / (columns?.[at] ?? 1))
            : inner,
        0,
      ),
    0,
  );
}

/** Panels of one standard deviation reach so far on either side of each part. */
const reachDeviations = 10;

function boundsOf(mixtures: readonly ReadingMixture[]): number[] {
  const bounds = mixtures
    .flat()
    .flatMap(({ meanGrams, standardDeviationGrams }) =>
      Array.from(
        { length: 2 * reachDeviations + 1 },
        (_, at) => meanGrams + (at - reachDeviations) * standardDeviationGrams,
      ),
    );
  return [...new Set(bounds)].sort((a, b) => a - b);
}

/**
 * Bits that one reading tells on average of which mixture it comes from.
 *
 * Formula: Σ πₓ ∫ fₓ log₂(fₓ/f̄), f̄ = Σ πₓ fₓ, by Gauss and Legendre in panels of one standard deviation of each part.
 */
export function bitsOfReading(
  priors: readonly number[],
  mixtures: readonly ReadingMixture[],
): number {
  const possible = mixtures.filter((_, at) => (priors[at] ?? 0) > 0);
  const weights = priors.filter((prior) => prior > 0);
  if (possible.length < 2) return 0;
  const rule = panelRule(boundsOf(possible));
  let bits = 0;
  for (const [at, grams] of rule.nodes.entries()) {
    const densities = possible.map((mixture) => mixtureDensity(mixture, grams));
    const mean = densities.reduce((sum, density, one) => sum + density * (weights[one] ?? 0), 0);
    if (mean === 0) continue;
    const told = densities.reduce(
      (sum, density, one) =>
        density > 0 ? sum + (weights[one] ?? 0) * density * Math.log2(density / mean) : sum,
      0,
    );
    bits += (rule.weights[at] ?? 0) * told;
  }
  return Math.max(0, bits);
}
