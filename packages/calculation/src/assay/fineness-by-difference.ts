import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import {
  type Decimal,
  decimalOfInteger,
  decimalOfNumber,
  numberOfDecimal,
  subtractDecimals,
  sumDecimals,
} from '../quantity/decimal.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { compensatedSum } from '../quantity/sum.ts';
import {
  type DetectionLimitPolicy,
  type FinenessByDifferenceInput,
  type FinenessByDifferenceOutput,
  finenessByDifferenceInputSchema,
  finenessByDifferenceOutputSchema,
  wholeMilligramsPerKilogram,
} from './fineness-by-difference-schema.ts';

export {
  type DetectionLimitPolicy,
  detectionLimitPolicies,
  type FinenessByDifferenceInput,
  type FinenessByDifferenceOutput,
  finenessByDifferenceInputSchema,
  finenessByDifferenceOutputSchema,
} from './fineness-by-difference-schema.ts';

type Impurity = FinenessByDifferenceInput['impurities'][number];

/** Whether an element was not detected, or found with less than its own detection limit. */
function isBelowLimit(one: Impurity): boolean {
  const { contentMilligramsPerKilogram: found } = one;
  return found === null || found < one.detectionLimitMilligramsPerKilogram;
}

/** Content of one element in the sum, exact in the decimals that were given. */
function countedContent(one: Impurity, policy: DetectionLimitPolicy): Decimal {
  if (!isBelowLimit(one)) {
    return decimalOfNumber(one.contentMilligramsPerKilogram ?? 0, 'contentMilligramsPerKilogram');
  }
  const detectionLimit = decimalOfNumber(
    one.detectionLimitMilligramsPerKilogram,
    'detectionLimitMilligramsPerKilogram',
  );
  if (policy === 'limit') return detectionLimit;
  if (policy === 'zero') return decimalOfInteger(0n);
  return { coefficient: detectionLimit.coefficient * 5n, places: detectionLimit.places + 1 };
}

/**
 * Standard uncertainty of the content that is counted for one element. Below the limit the true
 * content is taken as spread evenly from 0 to the limit: its root mean square distance from the
 * counted value is limit/√12 for the middle and limit/√3 for either end.
 */
function countedUncertainty(one: Impurity, policy: DetectionLimitPolicy): number {
  if (!isBelowLimit(one)) return one.standardUncertaintyMilligramsPerKilogram;
  return one.detectionLimitMilligramsPerKilogram / Math.sqrt(policy === 'half' ? 12 : 3);
}

function sumOfImpurities(input: FinenessByDifferenceInput, policy: DetectionLimitPolicy): Decimal {
  return sumDecimals(input.impurities.map((one) => countedContent(one, policy)));
}

function finenessUnder(input: FinenessByDifferenceInput, policy: DetectionLimitPolicy): number {
  const sum = sumOfImpurities(input, policy);
  const remainder = subtractDecimals(decimalOfInteger(BigInt(wholeMilligramsPerKilogram)), sum);
  requireDomain(remainder.coefficient >= 0n, {
    field: 'impurities',
    value: `${numberOfDecimal(sum)} mg/kg`,
    accepted: `impurities that together, counted by the policy ${policy}, do not exceed ${wholeMilligramsPerKilogram} mg/kg`,
  });
  return numberOfDecimal({ coefficient: remainder.coefficient, places: remainder.places + 3 });
}

function differenceWords(
  input: FinenessByDifferenceInput,
  output: Omit<FinenessByDifferenceOutput, 'words'>,
): string {
  const print = (value: number) => roundNumberText(value, 4, 'half-even');
  const below = input.impurities.filter(isBelowLimit).map((one) => one.element);
  const counted = {
    zero: 'as zero',
    half: 'as half their detection limits',
    limit: 'at their detection limits',
  }[input.policy];
  const handled =
    below.length === 0
      ? 'Every element was found at or above its detection limit.'
      : `Below their detection limits and counted ${counted}: ${below.join(', ')}.`;
  const scope =
    output.scope === 'inside' ? '' : ' Below 999 ‰ the difference method is outside its scope.';
  return `Fineness ${print(output.finenessPerMille)} ‰ with standard uncertainty ${print(output.standardUncertaintyPerMille)} ‰. ${handled}${scope}`;
}

/**
 * Fineness of high-purity metal by difference: what is left of 1000 ‰ after the impurities found.
 *
 * Formula: fineness = 1000 ‰ − sum of contents / 1000, contents in mg/kg. An element that was not
 * detected, or found below its own detection limit, counts as zero, half its limit or its limit, as
 * the policy says. Standard uncertainty: root sum of squares; such an element contributes the root
 * mean square distance of an even spread from 0 to its limit, limit/√12 under 'half' and limit/√3
 * under 'zero' and 'limit'.
 *
 * @param input at least one impurity, each element once; contents in mg/kg from 0, or null when not
 *   detected (its detection limit must then be above 0); standard uncertainties and detection limits
 *   in mg/kg from 0; a content equal to its limit counts as found
 * @returns sums in mg/kg, fineness in ‰ under all three policies and the chosen one, standard
 *   uncertainty in ‰, budget whose shares add to 100 %; nothing rounded but the words
 * @throws DomainError when the impurities exceed the whole, or an element that was not detected has
 *   a detection limit of 0
 * Validity: every element that may be present was sought; contents independent of one another.
 * Preferred from 999 ‰. Sums are exact in the decimals given. See reference/iso-15093.
 * Source: ISO 15093:2020, clauses 1 and 4 (gold, platinum, palladium); ISO 15096:2020 (silver);
 * detection-limit policies: common practice; JCGM 100:2008, 4.3.7 (rectangular spread)
 * @example finenessByDifference({ policy: 'zero', impurities: [{ element: 'Ag',
 *   contentMilligramsPerKilogram: 82, standardUncertaintyMilligramsPerKilogram: 4,
 *   detectionLimitMilligramsPerKilogram: 1 }] }).finenessPerMille // 999.918
 */
export function finenessByDifference(input: FinenessByDifferenceInput): FinenessByDifferenceOutput {
  for (const [index, one] of input.impurities.entries()) {
    const isKnown =
      one.contentMilligramsPerKilogram !== null || one.detectionLimitMilligramsPerKilogram > 0;
    requireDomain(isKnown, {
      field: `impurities.${index}.detectionLimitMilligramsPerKilogram`,
      value: one.detectionLimitMilligramsPerKilogram,
      accepted: `a detection limit above 0 mg/kg, since ${one.element} was not detected`,
    });
  }
  const { policy } = input;
  const parts = input.impurities.map((one) => countedUncertainty(one, policy) / 1000);
  const variance = compensatedSum(parts.map((part) => part * part));
  const found = { ...input, impurities: input.impurities.filter((one) => !isBelowLimit(one)) };
  const byPolicy = {
    zero: finenessUnder(input, 'zero'),
    half: finenessUnder(input, 'half'),
    limit: finenessUnder(input, 'limit'),
  };
  const output = {
    sumMilligramsPerKilogram: numberOfDecimal(sumOfImpurities(input, policy)),
    sumFoundMilligramsPerKilogram: numberOfDecimal(sumOfImpurities(found, 'zero')),
    finenessPerMille: byPolicy[policy],
    standardUncertaintyPerMille: Math.sqrt(variance),
    byPolicy,
    budget: input.impurities.map((one, index) => {
      const part = parts[index] ?? 0;
      return {
        contribution: one.element,
        handling: isBelowLimit(one) ? ('below detection limit' as const) : ('found' as const),
        usedMilligramsPerKilogram: numberOfDecimal(countedContent(one, policy)),
        standardUncertaintyPerMille: part,
        sharePercent: variance === 0 ? 0 : (100 * part * part) / variance,
      };
    }),
    scope: byPolicy[policy] >= 999 ? ('inside' as const) : ('outside' as const),
  };
  return { ...output, words: differenceWords(input, output) };
}

function drawImpurities(
  _input: FinenessByDifferenceInput,
  output: FinenessByDifferenceOutput,
): Chart[] {
  return [
    {
      kind: 'chart',
      title: 'Impurities as counted',
      xTitle: 'Element',
      yTitle: 'Content, mg/kg',
      series: output.budget.map((line, index) => ({
        label: line.contribution,
        kind: 'bars',
        x: [index + 1],
        y: [line.usedMilligramsPerKilogram],
      })),
    },
  ];
}

const example = (
  element: string,
  found: number | null,
  standardUncertainty: number,
  detectionLimit: number,
) => ({
  element,
  contentMilligramsPerKilogram: found,
  standardUncertaintyMilligramsPerKilogram: standardUncertainty,
  detectionLimitMilligramsPerKilogram: detectionLimit,
});

export const finenessByDifferenceCalculation = defineCalculation<
  FinenessByDifferenceInput,
  FinenessByDifferenceOutput
>({
  id: 'fineness-by-difference',
  version: 1,
  topic: 'assay',
  title: 'Fineness by difference',
  purpose:
    'Finds the fineness of metal of 999 ‰ and above as what is left after its impurities, under each of three policies for elements below their detection limits.',
  source:
    'ISO 15093:2020, clauses 1 and 4; ISO 15096:2020; detection-limit policies: common practice; JCGM 100:2008, 4.3.7',
  cautions: [
    'Aqua regia and nitric acid attack skin, eyes and lungs and give off chlorine and nitrogen oxides: fume cupboard, gloves, face protection; never close a warm vessel.',
    "The site's rules, local law and licensed practice come first.",
  ],
  input: finenessByDifferenceInputSchema,
  output: finenessByDifferenceOutputSchema,
  // Principle of ISO 15093 on chosen contents, see reference/iso-15093: 999.865 and 999.860 ‰.
  example: {
    metal: 'gold',
    impurities: [
      example('Ag', 82, 4, 1),
      example('Cu', 31, 2, 1),
      example('Fe', 12, 1, 1),
      example('Pd', 6, 0.5, 1),
      example('Pb', 4, 0.5, 1),
      example('Pt', null, 0, 2),
      example('Ni', null, 0, 2),
      example('Zn', null, 0, 1),
    ],
    policy: 'half',
  },
  compute: finenessByDifference,
  draw: drawImpurities,
});
