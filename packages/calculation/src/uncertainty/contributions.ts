import { DomainError, requireDomain } from '../quantity/domain.ts';
import { type Correlation, correlatedSets, correlationMatrix } from './correlation.ts';
import type { InputQuantity } from './input-quantity-schema.ts';
import type { Propagation } from './propagation.ts';
import type { Contribution } from './uncertainty-budget-schema.ts';

/** Refuses a source named by two inputs, and a set of correlated inputs that names only some. */
function requireSources(inputs: readonly InputQuantity[], sets: readonly (readonly number[])[]) {
  const sources = inputs.map(({ source }) => source ?? null);
  sources.forEach((source, index) => {
    requireDomain(source === null || sources.indexOf(source) === index, {
      field: `inputs.${index}.source`,
      value: source,
      accepted: 'one input per source: what two inputs share is an input of its own',
    });
  });
  for (const set of sets) {
    const without = set.find((index) => sources[index] === null);
    if (without === undefined || set.every((index) => sources[index] === null)) continue;
    throw new DomainError({
      field: `inputs.${without}.source`,
      value: 'none',
      accepted: 'a source for every input of a correlated set, or for none of them',
    });
  }
}

/**
 * What each source does to a result, to be kept with it: inputs with a source by that source,
 * inputs without one as the result's own; correlated inputs without sources as one part.
 *
 * Formula: effect = sensitivity × standard uncertainty; for a set without sources the root of its
 * share of the variance.
 *
 * @param inputs inputs of the model
 * @param correlations correlations of the inputs by name
 * @param propagation result of the law of propagation over the same inputs
 * @returns contributions whose squares, with the correlations of the sources, add to the
 *   first-order variance; those correlations
 * @throws DomainError for a source named twice or a correlated set with sources for some only
 * Source: JCGM 100:2008, 5.2 and F.1.2.3
 * @example contributionsOf([], [], propagate((a) => a.constant(1), [])).contributions.length // 0
 */
export function contributionsOf(
  inputs: readonly InputQuantity[],
  correlations: readonly Correlation[],
  propagation: Propagation,
): { contributions: Contribution[]; sourceCorrelations: Correlation[] } {
  const names = inputs.map(({ name }) => name);
  const sets = correlatedSets(correlationMatrix(names, correlations), names.length);
  requireSources(inputs, sets);
  const contributions = sets.flatMap((set): Contribution[] => {
    const own = set.every((index) => (inputs[index]?.source ?? null) === null);
    if (own && set.length > 1) return [joined(set, propagation)];
    return set.map((index) => ({
      source: inputs[index]?.source ?? null,
      effect: propagation.contributions[index] as number,
      degreesOfFreedom: propagation.degreesOfFreedom[index] ?? null,
    }));
  });
  const sourceOf = new Map(inputs.map(({ name, source }) => [name, source ?? null]));
  const sourceCorrelations = correlations.flatMap(({ first, second, coefficient }) => {
    const [a, b] = [sourceOf.get(first) ?? null, sourceOf.get(second) ?? null];
    return a === null || b === null ? [] : [{ first: a, second: b, coefficient }];
  });
  return { contributions, sourceCorrelations };
}

function joined(set: readonly number[], propagation: Propagation): Contribution {
  const variance = set.reduce(
    (sum, index) => sum + (propagation.varianceShares[index] as number),
    0,
  );
  const known = set.flatMap((index) => propagation.degreesOfFreedom[index] ?? []);
  return {
    source: null,
    effect: Math.sqrt(Math.max(0, variance)),
    degreesOfFreedom: known.length > 0 ? Math.min(...known) : null,
  };
}
