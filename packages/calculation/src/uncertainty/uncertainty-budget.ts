import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { contributionsOf } from './contributions.ts';
import { coverageFactor } from './coverage.ts';
import { percentText, significantText, textToUncertainty } from './figures.ts';
import { momentsOf } from './input-moments.ts';
import type { InputQuantity } from './input-quantity-schema.ts';
import { numericalTolerance } from './numerical-tolerance.ts';
import { type NamedInput, type Propagation, propagate } from './propagation.ts';
import { textModel } from './text-model.ts';
import {
  type Contribution,
  type UncertaintyBudgetInput,
  type UncertaintyBudgetOutput,
  uncertaintyBudgetInput,
  uncertaintyBudgetOutput,
} from './uncertainty-budget-schema.ts';

export {
  type Contribution,
  contributionSchema,
  type UncertaintyBudgetInput,
  type UncertaintyBudgetOutput,
  uncertaintyBudgetInput,
  uncertaintyBudgetOutput,
} from './uncertainty-budget-schema.ts';

/** Inputs of a text model as the law of propagation takes them. */
export function namedInputs(inputs: readonly InputQuantity[]): NamedInput[] {
  return inputs.map(({ name, distribution }) => ({ name, ...momentsOf(distribution) }));
}

/** Whether the second-order terms change the second significant digit of the standard uncertainty. */
function areSecondOrderTermsNeeded(first: number, second: number): boolean {
  if (first === second) return false;
  return first === 0 || Math.abs(second - first) > numericalTolerance(first, 2);
}

function chooseTerms(propagation: Propagation, rule: UncertaintyBudgetInput['terms']) {
  const first = Math.sqrt(propagation.firstOrderVariance);
  const { secondOrderVariance } = propagation;
  const second = secondOrderVariance === null ? null : Math.sqrt(secondOrderVariance);
  const isSecond =
    second !== null &&
    (rule === 'second order' ||
      (rule !== 'first order' && areSecondOrderTermsNeeded(first, second)));
  return { first, second, used: isSecond ? second : first, isSecond };
}

/** What the second-order terms add is the result's own: no source answers for it alone. */
function withRemainder(contributions: readonly Contribution[], added: number): Contribution[] {
  if (added <= 0) return [...contributions];
  return [...contributions, { source: null, effect: Math.sqrt(added), degreesOfFreedom: null }];
}

function budgetWords(
  output: Omit<UncertaintyBudgetOutput, 'words'>,
  input: UncertaintyBudgetInput,
): string {
  const unit = input.resultUnit ? ` ${input.resultUnit}` : '';
  const { standardUncertainty: u, effectiveDegreesOfFreedom: freedom } = output;
  const largest = output.budget.reduce((most, line) =>
    Math.abs(line.sharePercent) > Math.abs(most.sharePercent) ? line : most,
  );
  const free =
    freedom === null ? '' : `, ${significantText(freedom, 3)} effective degrees of freedom`;
  const share =
    u > 0
      ? ` Most comes from ${largest.name}: ${significantText(largest.sharePercent, 3)} % of the variance.`
      : '';
  const curved = {
    'first order': '',
    'second order': ` The model is curved: first order alone would give ${significantText(output.firstOrderStandardUncertainty, 2)}${unit}.`,
  }[output.termsUsed];
  const lost =
    output.secondOrderStandardUncertainty === null
      ? ' The series of the model does not hold over these uncertainties: simulate it.'
      : '';
  return `${textToUncertainty(output.value, u)}${unit} with standard uncertainty ${significantText(u, 2)}${unit}; expanded ${significantText(output.expandedUncertainty, 2)}${unit} with k = ${significantText(output.coverageFactor, 3)} for a coverage of ${percentText(input.coverageProbability)} %${free}.${share}${curved}${lost}`;
}

/**
 * Uncertainty budget of a result from its measurement model: value, combined and expanded
 * uncertainty, and what each input adds; the model is written once, as text.
 *
 * Formula: the law of propagation with exact derivatives (see `propagate`), first order, with the
 * second-order terms where they are asked for or change the second significant digit;
 * νeff by Welch and Satterthwaite; U = k·u with k the quantile of t for νeff, cut to a whole number
 * unless asked otherwise. Share of an input: cᵢuᵢ·Σⱼ cⱼuⱼrᵢⱼ over the variance used.
 *
 * @param input model of 1 to 2000 characters; 1 to 50 inputs with their distributions, each used by
 *   the model; correlations by name; coverage probability from 0.5 to 0.9999; sources optional
 * @returns value and uncertainties in the unit of the result, budget with signed contributions,
 *   shares in percent that add to 100, and contributions by source for `combineResults`
 * @throws DomainError for text that is no model (with the place), a name or source that repeats,
 *   coefficients that cannot hold together, a model without value or derivative at the estimates
 * Validity: inputs with about normal effect on the result; else see `monteCarlo`. Reproduces the
 * examples H.1 and H.2 of the guide and those of JCGM 101: reference/gum, reference/jcgm-101.
 * Source: JCGM 100:2008, 5.1.2, 5.2.2, 6.2, G.4; the second-order terms from the note of 5.1.2
 * @example uncertaintyBudget(uncertaintyBudgetCalculation.example).expandedUncertainty // 92.6
 */
export function uncertaintyBudget(input: UncertaintyBudgetInput): UncertaintyBudgetOutput {
  const names = input.inputs.map(({ name }) => name);
  const model = textModel(input.model, names);
  const inputs = namedInputs(input.inputs);
  const propagation = propagate(model, inputs, input.correlations);
  const terms = chooseTerms(propagation, input.terms);
  const variance = terms.used ** 2;
  const freedom = propagation.effectiveDegreesOfFreedom;
  const usedFreedom =
    freedom === null || input.degreesOfFreedomUse === 'fractional'
      ? freedom
      : wholeFreedom(freedom);
  const factor = coverageFactor(input.coverageProbability, usedFreedom);
  const expandedUncertainty = factor * terms.used;
  const percent = (part: number) => (variance > 0 ? (100 * part) / variance : 0);
  const added = terms.isSecond ? variance - propagation.firstOrderVariance : 0;
  const kept = contributionsOf(input.inputs, input.correlations, propagation);
  const output = {
    value: propagation.value,
    standardUncertainty: terms.used,
    termsUsed: terms.isSecond ? ('second order' as const) : ('first order' as const),
    firstOrderStandardUncertainty: terms.first,
    secondOrderStandardUncertainty: terms.second,
    meanShift: propagation.meanShift,
    effectiveDegreesOfFreedom: freedom,
    coverageFactor: factor,
    expandedUncertainty,
    intervalLower: propagation.value - expandedUncertainty,
    intervalUpper: propagation.value + expandedUncertainty,
    relativeStandardUncertaintyPercent:
      propagation.value === 0 ? null : Math.abs((100 * terms.used) / propagation.value),
    budget: inputs.map((one, index) => ({
      ...one,
      sensitivity: propagation.sensitivities[index] as number,
      contribution: propagation.contributions[index] as number,
      sharePercent: percent(propagation.varianceShares[index] as number),
    })),
    secondOrderSharePercent: percent(added),
    contributions: withRemainder(kept.contributions, added),
    sourceCorrelations: kept.sourceCorrelations,
  };
  return { ...output, words: budgetWords(output, input) };
}

/** A sum that is a whole number but for rounding counts as that number. */
function wholeFreedom(freedom: number): number {
  return Math.max(1, Math.floor(freedom * (1 + 1e-12)));
}

function drawBudget(input: UncertaintyBudgetInput, output: UncertaintyBudgetOutput): Chart[] {
  const unit = input.resultUnit ? `, ${input.resultUnit}` : '';
  const x = output.budget.map((_, index) => index + 1);
  const xNames = output.budget.map(({ name }, index) => ({ x: index + 1, name }));
  return [
    {
      kind: 'chart',
      title: 'What each input adds to the standard uncertainty',
      xTitle: 'Input',
      yTitle: `Contribution${unit}`,
      series: [
        {
          label: 'size',
          kind: 'bars',
          x,
          y: output.budget.map(({ contribution }) => Math.abs(contribution)),
        },
      ],
      levels: [{ y: output.standardUncertainty, label: 'combined' }],
      xNames,
    },
  ];
}

export const uncertaintyBudgetCalculation = defineCalculation<
  UncertaintyBudgetInput,
  UncertaintyBudgetOutput
>({
  id: 'uncertainty-budget',
  version: 1,
  topic: 'uncertainty',
  title: 'Uncertainty budget',
  purpose:
    'Writes a measurement model once and gets value, standard and expanded uncertainty, and the share of every input; contributions are kept so that results with a common source stay correlated.',
  source:
    'JCGM 100:2008 (GUM), 5.1.2 with its note, 5.2.2, 6.2, G.4; distributions of JCGM 101:2008, Table 1',
  input: uncertaintyBudgetInput,
  output: uncertaintyBudgetOutput,
  // Calibration of an end gauge, JCGM 100:2008, H.1: length less 50 mm in nanometres.
  example: {
    model:
      'reference + difference - reference * (expansionDifference * temperature + expansion * temperatureDifference) - 50000000',
    resultUnit: 'nm',
    inputs: [
      normalInput('reference', 'nm', 50_000_623, 25, 18),
      normalInput('difference', 'nm', 215, 9.7, 25.6),
      normalInput('expansion', '1/°C', 11.5e-6, 1.2e-6, null),
      normalInput('temperature', '°C', -0.1, 0.41, null),
      normalInput('expansionDifference', '1/°C', 0, 0.58e-6, 50),
      normalInput('temperatureDifference', '°C', 0, 0.029, 2),
    ],
    correlations: [],
    coverageProbability: 0.99,
    terms: 'first order',
  },
  compute: uncertaintyBudget,
  draw: drawBudget,
});

function normalInput(
  name: string,
  unit: string,
  estimate: number,
  standardUncertainty: number,
  degreesOfFreedom: number | null,
): InputQuantity {
  return {
    name,
    unit,
    distribution: { kind: 'normal', estimate, standardUncertainty, degreesOfFreedom },
  };
}
