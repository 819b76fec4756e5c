import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import {
  type CombineResultsInput,
  type CombineResultsOutput,
  combineResultsInput,
  combineResultsOutput,
} from './combine-results-schema.ts';
import { coverageFactor, welchSatterthwaite } from './coverage.ts';
import { percentText, significantText, textToUncertainty } from './figures.ts';
import { propagate } from './propagation.ts';
import {
  independentParts,
  type SharedSources,
  sharedSources,
  sourceCovariance,
} from './shared-sources.ts';
import { textModel } from './text-model.ts';
import type { Contribution } from './uncertainty-budget-schema.ts';

export {
  type CombineResultsInput,
  type CombineResultsOutput,
  combineResultsInput,
  combineResultsOutput,
} from './combine-results-schema.ts';

function sensitivitiesOf(input: CombineResultsInput): { value: number; by: readonly number[] } {
  const names = input.results.map(({ name }) => name);
  const model = textModel(input.model, names, 'results');
  const exact = input.results.map(({ name, value }) => ({
    name,
    estimate: value,
    standardUncertainty: 0,
    degreesOfFreedom: null,
  }));
  const { value, sensitivities } = propagate(model, exact);
  return { value, by: sensitivities };
}

function pairCorrelations(
  input: CombineResultsInput,
  sources: SharedSources,
  deviations: readonly number[],
): CombineResultsOutput['correlations'] {
  return input.results.flatMap((one, i) =>
    input.results.slice(i + 1).map((other, offset) => {
      const j = i + 1 + offset;
      const product = (deviations[i] as number) * (deviations[j] as number);
      const covariance = sourceCovariance(
        sources,
        sources.effects[i] as readonly number[],
        sources.effects[j] as readonly number[],
      );
      return {
        first: one.name,
        second: other.name,
        coefficient: product > 0 ? covariance / product : null,
      };
    }),
  );
}

/** What belongs to single results, each contribution times the sensitivity of its result. */
function ownContributions(input: CombineResultsInput, by: readonly number[]): Contribution[] {
  return input.results.flatMap(({ contributions }, index) =>
    contributions
      .filter(({ source }) => source === null)
      .map(({ effect, degreesOfFreedom }) => ({
        source: null,
        effect: (by[index] as number) * effect,
        degreesOfFreedom,
      })),
  );
}

function combineWords(
  output: Omit<CombineResultsOutput, 'words'>,
  input: CombineResultsInput,
): string {
  const unit = input.resultUnit ? ` ${input.resultUnit}` : '';
  const print = (value: number) => `${significantText(value, 2)}${unit}`;
  const u = output.standardUncertainty;
  const shared = output.sources.filter(
    ({ source, resultCount }) => source !== null && resultCount > 1,
  );
  const what =
    shared.length === 0
      ? 'The results share no source.'
      : `Shared by the results: ${shared.map(({ source }) => source).join(', ')}; that part, ${print(output.sharedStandardUncertainty)}, does not average out. Taken as independent the standard uncertainty would read ${print(output.standardUncertaintyIfIndependent)}.`;
  return `${textToUncertainty(output.value, u)}${unit} with standard uncertainty ${print(u)}; expanded ${print(output.expandedUncertainty)} with k = ${significantText(output.coverageFactor, 3)} for a coverage of ${percentText(input.coverageProbability)} %. ${what}`;
}

/** Effect of every source on the combined result, and how many results have it. */
function combinedSources(sources: SharedSources, by: readonly number[]) {
  return sources.names.map((source, s) => ({
    source,
    resultCount: sources.effects.filter((effects) => effects[s] !== 0).length,
    effect: sources.effects.reduce(
      (sum, effects, r) => sum + (by[r] as number) * (effects[s] as number),
      0,
    ),
  }));
}

/**
 * Combines results that were kept with their contributions, so that what they share (an instrument,
 * a reference material, a titrant) stays correlated: the mean of ten assays against one
 * reference is no better than the reference.
 *
 * Formula: with a_r the sensitivity of the combining model to result r and e_rs the effect of source
 * s on it, the effect of s is E_s = Σᵣ a_r·e_rs; u² = ΣₛΣₜ r_st·E_s·E_t + Σ (a_r·e)² over what
 * belongs to single results. Correlation of two results: Σₛₜ r_st·e_1s·e_2t/(u₁u₂).
 *
 * @param input model in the names of 1 to 100 results; each with value and contributions (source or
 *   none, signed effect, degrees of freedom or null), a source once per result; correlation
 *   coefficients between sources; coverage probability from 0.5 to 0.9999
 * @returns value, uncertainties with the shared and the own part, correlations of the results, effects
 *   by source, and contributions for combining again; nothing rounded but the words
 * @throws DomainError for a model that cannot be read or has no value or derivative, a source that
 *   repeats inside a result or differs in degrees of freedom, an unknown source, coefficients that
 *   cannot hold together
 * Validity: first order. The shared part is what two or more results have in common, its correlation
 * with other sources counted to it.
 * Source: JCGM 100:2008, 5.2.2 and F.1.2.3
 * @example combineResults(combineResultsCalculation.example).sharedStandardUncertainty // 0.08
 */
export function combineResults(input: CombineResultsInput): CombineResultsOutput {
  const { value, by } = sensitivitiesOf(input);
  const sources = sharedSources(input.results, input.sourceCorrelations);
  const combined = combinedSources(sources, by);
  const effects = combined.map(({ effect }) => effect);
  const own = ownContributions(input, by);
  const ownVariance = own.reduce((sum, { effect }) => sum + effect * effect, 0);
  const named = Math.max(0, sourceCovariance(sources, effects, effects));
  const single = combined.map(({ effect, resultCount }) => (resultCount > 1 ? 0 : effect));
  const singleVariance = Math.max(0, sourceCovariance(sources, single, single));
  const variance = named + ownVariance;
  const deviations = sources.effects.map((row, r) =>
    Math.sqrt(
      Math.max(0, sourceCovariance(sources, row, row)) + (sources.ownDeviations[r] as number) ** 2,
    ),
  );
  const parts = independentParts(
    sources,
    effects,
    own.map(({ effect, degreesOfFreedom }) => ({ contribution: effect, degreesOfFreedom })),
  );
  const freedom = welchSatterthwaite(parts);
  const factor = coverageFactor(
    input.coverageProbability,
    freedom === null ? null : Math.max(1, Math.floor(freedom * (1 + 1e-12))),
  );
  const standardUncertainty = Math.sqrt(variance);
  const percent = (part: number) => (variance > 0 ? (100 * part) / variance : 0);
  const output = {
    value,
    standardUncertainty,
    sharedStandardUncertainty: Math.sqrt(Math.max(0, named - singleVariance)),
    ownStandardUncertainty: Math.sqrt(singleVariance + ownVariance),
    standardUncertaintyIfIndependent: Math.hypot(
      ...deviations.map((deviation, r) => (by[r] as number) * deviation),
    ),
    effectiveDegreesOfFreedom: freedom,
    coverageFactor: factor,
    expandedUncertainty: factor * standardUncertainty,
    intervalLower: value - factor * standardUncertainty,
    intervalUpper: value + factor * standardUncertainty,
    results: input.results.map(({ name }, r) => ({
      name,
      standardUncertainty: deviations[r] as number,
      sensitivity: by[r] as number,
    })),
    correlations: pairCorrelations(input, sources, deviations),
    sources: [
      ...combined.map((line, s) => {
        const alone = effects.map((_, index) => (index === s ? line.effect : 0));
        return { ...line, sharePercent: percent(sourceCovariance(sources, alone, effects)) };
      }),
      {
        source: null,
        resultCount: input.results.filter((_, r) => (sources.ownDeviations[r] as number) > 0)
          .length,
        effect: Math.sqrt(ownVariance),
        sharePercent: percent(ownVariance),
      },
    ],
    contributions: [
      ...combined.map(({ source, effect }, s) => ({
        source,
        effect,
        degreesOfFreedom: sources.degreesOfFreedom[s] ?? null,
      })),
      ...own,
    ],
    sourceCorrelations: input.sourceCorrelations,
  };
  return { ...output, words: combineWords(output, input) };
}

function drawCombined(input: CombineResultsInput, output: CombineResultsOutput): Chart[] {
  const unit = input.resultUnit ? `, ${input.resultUnit}` : '';
  const x = output.sources.map((_, index) => index + 1);
  return [
    {
      kind: 'chart',
      title: 'What each source adds to the combined result',
      xTitle: 'Source',
      yTitle: `Effect${unit}`,
      series: [
        {
          label: 'size',
          kind: 'bars',
          x,
          y: output.sources.map(({ effect }) => Math.abs(effect)),
        },
      ],
      levels: [{ y: output.standardUncertainty, label: 'combined' }],
      xNames: output.sources.map(({ source }, index) => ({
        x: index + 1,
        name: source ?? 'single results',
      })),
    },
  ];
}

function exampleResult(name: string, value: number): CombineResultsInput['results'][number] {
  return {
    name,
    unit: '‰',
    value,
    contributions: [
      { source: 'proof gold', effect: 0.08, degreesOfFreedom: null },
      { source: null, effect: 0.15, degreesOfFreedom: 9 },
    ],
  };
}

export const combineResultsCalculation = defineCalculation<
  CombineResultsInput,
  CombineResultsOutput
>({
  id: 'combine-results',
  version: 1,
  topic: 'uncertainty',
  title: 'Combination of results that share a source',
  purpose:
    'Combines results that were kept with their contributions: what they share, an instrument, a reference or a titrant, stays correlated and is not averaged away.',
  source: 'JCGM 100:2008 (GUM), 5.2.2 and F.1.2.3',
  input: combineResultsInput,
  output: combineResultsOutput,
  // Mean of three results on chosen figures that share the gold of their proofs.
  example: {
    model: '(first + second + third) / 3',
    resultUnit: '‰',
    results: [
      exampleResult('first', 916.84),
      exampleResult('second', 916.95),
      exampleResult('third', 916.71),
    ],
    sourceCorrelations: [],
    coverageProbability: 0.95,
  },
  compute: combineResults,
  draw: drawCombined,
});
