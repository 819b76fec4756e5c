import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import {
  byPolicyOutput,
  elementField,
  listField,
  numberField,
  outputNumber,
  wordsField,
} from './fields.ts';
import { finenessByDifference, finenessByDifferenceCalculation } from './fineness-by-difference.ts';
import {
  type DetectionLimitPolicy,
  detectionLimitPolicies,
  wholeMilligramsPerKilogram,
} from './fineness-by-difference-schema.ts';

const unit = 'mg/kg';
const perKilogramField = (what: string) => numberField(what, 0, wholeMilligramsPerKilogram, unit);

const part = (title: string) =>
  z
    .strictObject({
      contentMilligramsPerKilogram: perKilogramField('a content').nullable().meta({
        title: 'Content found',
        description: 'Of the whole sample; null when not detected',
        unit,
      }),
      standardUncertaintyMilligramsPerKilogram: perKilogramField('a standard uncertainty').meta({
        title: 'Standard uncertainty',
        unit,
      }),
      detectionLimitMilligramsPerKilogram: numberField(
        'a detection limit',
        1e-9,
        wholeMilligramsPerKilogram,
        unit,
      ).meta({ title: 'Detection limit', unit }),
    })
    .meta({ title });

export const twoSolutionSumInput = z
  .strictObject({
    metal: z.enum(['gold', 'silver'], { error: 'gold or silver' }).meta({ title: 'Base metal' }),
    elements: listField(
      z.strictObject({
        element: elementField(),
        solution: part('In the nitric acid solution'),
        residue: part('In the residue, dissolved in aqua regia'),
        correlation: numberField('a correlation', -1, 1).meta({
          title: 'Correlation of the two errors',
          description:
            '1 where one standard and one sample mass rule both; 0 where nothing is shared',
        }),
      }),
      'elements',
      1,
      117,
    ).meta({ title: 'Elements', description: 'Each once' }),
    policy: z
      .enum(detectionLimitPolicies, { error: `one of ${detectionLimitPolicies.join(', ')}` })
      .meta({ title: 'Detection-limit policy', description: 'For each part below its own limit' }),
  })
  .superRefine((input, context) => {
    const base = input.metal === 'gold' ? 'Au' : 'Ag';
    const seen = new Set<string>([base]);
    for (const [index, { element }] of input.elements.entries()) {
      if (seen.has(element)) {
        const message = `each element once, and not the base metal ${base}`;
        context.addIssue({ code: 'custom', path: ['elements', index, 'element'], message });
      }
      seen.add(element);
    }
  });

export type TwoSolutionSumInput = z.infer<typeof twoSolutionSumInput>;
type Element = TwoSolutionSumInput['elements'][number];
type Part = Element['solution'];

const perKilogram = (title: string) => outputNumber(title, unit);
const perMille = (title: string, description?: string) => outputNumber(title, '‰', description);

export const twoSolutionSumOutput = z.strictObject({
  elements: z
    .array(
      z.strictObject({
        element: z.string().meta({ title: 'Element' }),
        found: z.enum(['both', 'solution', 'residue', 'neither']).meta({ title: 'Found in' }),
        sumMilligramsPerKilogram: perKilogram('Sum under the policy'),
        lowestMilligramsPerKilogram: perKilogram('Sum, below limits as zero'),
        highestMilligramsPerKilogram: perKilogram('Sum, below limits at the limits'),
        standardUncertaintyMilligramsPerKilogram: perKilogram('Standard uncertainty'),
      }),
    )
    .meta({ title: 'Elements' }),
  byPolicy: byPolicyOutput,
  finenessPerMille: perMille('Fineness', 'Under the chosen policy'),
  standardUncertaintyPerMille: perMille('Standard uncertainty'),
  scope: z.enum(['inside', 'outside']).meta({ title: 'Scope of the method' }),
  words: wordsField(),
});

export type TwoSolutionSumOutput = z.infer<typeof twoSolutionSumOutput>;

const isFound = (one: Part): boolean =>
  one.contentMilligramsPerKilogram !== null &&
  one.contentMilligramsPerKilogram >= one.detectionLimitMilligramsPerKilogram;

function counted(one: Part, policy: DetectionLimitPolicy): number {
  if (isFound(one)) return one.contentMilligramsPerKilogram ?? 0;
  return one.detectionLimitMilligramsPerKilogram * { zero: 0, half: 0.5, limit: 1 }[policy];
}

/** Below the limit: root mean square distance of an even spread from the counted value. */
function uncertaintyOf(one: Part, policy: DetectionLimitPolicy): number {
  if (isFound(one)) return one.standardUncertaintyMilligramsPerKilogram;
  return one.detectionLimitMilligramsPerKilogram / Math.sqrt(policy === 'half' ? 12 : 3);
}

function sumOf(one: Element, policy: DetectionLimitPolicy) {
  const [first, second] = [uncertaintyOf(one.solution, policy), uncertaintyOf(one.residue, policy)];
  // Only errors of measurement go together; that of a part not found is its own.
  const correlation = isFound(one.solution) && isFound(one.residue) ? one.correlation : 0;
  return {
    sum: counted(one.solution, policy) + counted(one.residue, policy),
    uncertainty: Math.sqrt(first ** 2 + second ** 2 + 2 * correlation * first * second),
  };
}

function finenessUnder(input: TwoSolutionSumInput, policy: DetectionLimitPolicy) {
  return finenessByDifference({
    metal: input.metal,
    policy,
    impurities: input.elements.map((one) => {
      const { sum, uncertainty } = sumOf(one, policy);
      return {
        element: one.element,
        contentMilligramsPerKilogram: sum,
        standardUncertaintyMilligramsPerKilogram: uncertainty,
        // Counted already: what is handed on has no limit of its own any more.
        detectionLimitMilligramsPerKilogram: 0,
      };
    }),
  });
}

/**
 * Impurities of metal that dissolves in two acids: nitric acid leaves a residue that aqua regia
 * takes; both solutions are read and each element is added up, for the fineness of silver by
 * difference.
 *
 * Formula: content = solution + residue, both referred to the whole sample; a part below its own
 * detection limit counts as the policy says. u² = u₁² + u₂² + 2·r·u₁·u₂; a part not found has the
 * root mean square distance of an even spread from 0 to its limit, and no correlation. Fineness as
 * `finenessByDifference`.
 *
 * @param input elements once each, contents in mg/kg of the sample or null, limits above 0
 * @returns sums in mg/kg with their two bounds, fineness in ‰ under all policies; nothing rounded
 * @throws DomainError when the impurities exceed the whole
 * Validity: nothing is lost between the two acids; elements are independent of each other.
 * Source: ISO 15096:2020, clause 4 (two solutions, as quoted on a public page); JCGM 100:2008,
 * 5.2.2 (correlation) and 4.3.7
 * @example twoSolutionSum(twoSolutionSumCalculation.example).finenessPerMille // 999.9525
 */
export function twoSolutionSum(input: TwoSolutionSumInput): TwoSolutionSumOutput {
  const chosen = finenessUnder(input, input.policy);
  const elements = input.elements.map((one) => {
    const { sum, uncertainty } = sumOf(one, input.policy);
    const [solution, residue] = [isFound(one.solution), isFound(one.residue)];
    const found = solution ? (residue ? 'both' : 'solution') : residue ? 'residue' : 'neither';
    return {
      element: one.element,
      found: found as 'both' | 'solution' | 'residue' | 'neither',
      sumMilligramsPerKilogram: sum,
      lowestMilligramsPerKilogram: sumOf(one, 'zero').sum,
      highestMilligramsPerKilogram: sumOf(one, 'limit').sum,
      standardUncertaintyMilligramsPerKilogram: uncertainty,
    };
  });
  const print = (value: number) => roundNumberText(value, 4, 'half-even');
  const missing = elements.filter((one) => one.found === 'neither').map((one) => one.element);
  const neither = missing.length === 0 ? '' : ` Found in neither solution: ${missing.join(', ')}.`;
  return {
    elements,
    byPolicy: {
      zero: finenessUnder(input, 'zero').finenessPerMille,
      half: finenessUnder(input, 'half').finenessPerMille,
      limit: finenessUnder(input, 'limit').finenessPerMille,
    },
    finenessPerMille: chosen.finenessPerMille,
    standardUncertaintyPerMille: chosen.standardUncertaintyPerMille,
    scope: chosen.scope,
    words: `Fineness ${print(chosen.finenessPerMille)} ‰ with standard uncertainty ${print(chosen.standardUncertaintyPerMille)} ‰, both solutions added, parts below their limits counted as ${input.policy}.${neither}`,
  };
}

function drawSums(input: TwoSolutionSumInput, output: TwoSolutionSumOutput): Chart[] {
  const x = output.elements.map((_, i) => i + 1);
  return [
    {
      kind: 'chart',
      title: 'Sums of both solutions, from zero to the limits where not found',
      xTitle: 'Element',
      yTitle: 'Content, mg/kg',
      series: [
        {
          label: input.policy,
          kind: 'bars',
          x,
          y: output.elements.map((one) => one.sumMilligramsPerKilogram),
          lower: output.elements.map((one) => one.lowestMilligramsPerKilogram),
          upper: output.elements.map((one) => one.highestMilligramsPerKilogram),
        },
      ],
      xNames: output.elements.map((one, i) => ({ x: i + 1, name: one.element })),
    },
  ];
}

const exampleElement = (
  element: string,
  solution: number | null,
  residue: number | null,
  limit: number,
) => {
  const one = (found: number | null): Part => ({
    contentMilligramsPerKilogram: found,
    standardUncertaintyMilligramsPerKilogram: 0.05 * (found ?? 0),
    detectionLimitMilligramsPerKilogram: limit,
  });
  return { element, solution: one(solution), residue: one(residue), correlation: 0.5 };
};

export const twoSolutionSumCalculation = defineCalculation<
  TwoSolutionSumInput,
  TwoSolutionSumOutput
>({
  id: 'two-solution-sum',
  version: 1,
  topic: 'assay',
  title: 'Impurities from two solutions',
  purpose:
    'Adds up the impurities of silver that dissolves in nitric acid but for a residue in aqua regia, element by element, and gives the fineness that is left.',
  source:
    'ISO 15096:2020, clause 4 (two solutions, as quoted on a public page); JCGM 100:2008, 5.2.2 and 4.3.7',
  cautions: finenessByDifferenceCalculation.cautions ?? [],
  input: twoSolutionSumInput,
  output: twoSolutionSumOutput,
  example: {
    metal: 'silver',
    elements: [
      exampleElement('Cu', 30, null, 1),
      exampleElement('Au', null, 12, 1),
      exampleElement('Pd', 2, 1.5, 1),
      exampleElement('Fe', null, null, 1),
    ],
    policy: 'half',
  },
  compute: twoSolutionSum,
  draw: drawSums,
});
