import { requireDomain } from '../quantity/domain.ts';
import {
  type Correlation,
  correlatedSets,
  correlationFactor,
  correlationMatrix,
} from './correlation.ts';
import type { UncertaintyPart } from './coverage.ts';
import type { Contribution } from './uncertainty-budget-schema.ts';

/** Named sources of several results with the effect of each on each result. */
export interface SharedSources {
  /** Names of the sources, each once, in the order in which they are met. */
  readonly names: readonly string[];
  /** Effect of source s on result r at `[r][s]`. */
  readonly effects: readonly (readonly number[])[];
  /** Standard uncertainty of each result from what has no named source. */
  readonly ownDeviations: readonly number[];
  readonly degreesOfFreedom: readonly (number | null)[];
  readonly correlationMatrix: Float64Array;
}

/** A source has one number of degrees of freedom, whichever result it comes with. */
function requireOneFreedom(results: readonly { contributions: readonly Contribution[] }[]): void {
  const known = new Map<string, number | null>();
  results.forEach(({ contributions }, r) => {
    const seen = new Set<string>();
    contributions.forEach(({ source, degreesOfFreedom }, c) => {
      if (source === null) return;
      const field = `results.${r}.contributions.${c}`;
      requireDomain(!seen.has(source), {
        field: `${field}.source`,
        value: source,
        accepted: 'each source once in a result',
      });
      seen.add(source);
      const before = known.get(source);
      requireDomain(before === undefined || before === degreesOfFreedom, {
        field: `${field}.degreesOfFreedom`,
        value: degreesOfFreedom,
        accepted: `${before}, as another result states for ${source}`,
      });
      known.set(source, degreesOfFreedom);
    });
  });
}

/**
 * Sorts the contributions of several results by their sources.
 *
 * @param results contributions of each result, each source once per result and with the same
 *   degrees of freedom everywhere
 * @param correlations correlation coefficients between named sources
 * @returns effects by source, own parts, correlation matrix of the sources
 * @throws DomainError for a source that repeats inside a result, degrees of freedom that differ,
 *   an unknown source or coefficients that cannot hold together
 * Source: JCGM 100:2008, F.1.2.3
 * @example sharedSources([{ contributions: [{ source: 'a', effect: 1, degreesOfFreedom: null }] }],
 *   []).names.length // 1
 */
export function sharedSources(
  results: readonly { readonly contributions: readonly Contribution[] }[],
  correlations: readonly Correlation[],
): SharedSources {
  requireOneFreedom(results);
  const freedomBySource = new Map(
    results.flatMap(({ contributions }) =>
      contributions.flatMap(({ source, degreesOfFreedom }) =>
        source === null ? [] : [[source, degreesOfFreedom] as const],
      ),
    ),
  );
  const names = [...freedomBySource.keys()];
  const matrix = correlationMatrix(names, correlations, 'sourceCorrelations');
  correlationFactor(matrix, names, 'sourceCorrelations');
  return {
    names,
    effects: results.map(({ contributions }) => {
      const bySource = new Map(contributions.map(({ source, effect }) => [source, effect]));
      return names.map((name) => bySource.get(name) ?? 0);
    }),
    ownDeviations: results.map(({ contributions }) =>
      Math.hypot(...contributions.map(({ source, effect }) => (source === null ? effect : 0))),
    ),
    degreesOfFreedom: [...freedomBySource.values()],
    correlationMatrix: matrix,
  };
}

/** Covariance of two results, or of two sets of effects, from the named sources. */
export function sourceCovariance(
  sources: SharedSources,
  first: readonly number[],
  second: readonly number[],
): number {
  const n = sources.names.length;
  let sum = 0;
  for (let s = 0; s < n; s += 1) {
    for (let t = 0; t < n; t += 1) {
      const r = sources.correlationMatrix[s * n + t] as number;
      sum += r * (first[s] as number) * (second[t] as number);
    }
  }
  return sum;
}

/** Independent parts of a combined result, for its degrees of freedom. */
export function independentParts(
  sources: SharedSources,
  combinedEffects: readonly number[],
  own: readonly UncertaintyPart[],
): UncertaintyPart[] {
  const n = sources.names.length;
  const named = correlatedSets(sources.correlationMatrix, n).map((set) => {
    const effects = combinedEffects.map((effect, index) => (set.includes(index) ? effect : 0));
    const known = set.flatMap((index) => sources.degreesOfFreedom[index] ?? []);
    return {
      contribution: Math.sqrt(Math.max(0, sourceCovariance(sources, effects, effects))),
      degreesOfFreedom: known.length > 0 ? Math.min(...known) : null,
    };
  });
  return [...named, ...own];
}
