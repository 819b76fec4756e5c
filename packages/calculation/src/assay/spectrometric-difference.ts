import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { type ElementContent, elementContent } from './element-content.ts';
import { finenessByDifference, finenessByDifferenceCalculation } from './fineness-by-difference.ts';
import { wholeMilligramsPerKilogram } from './fineness-by-difference-schema.ts';
import {
  type SpectrometricDifferenceInput,
  type SpectrometricDifferenceOutput,
  spectrometricDifferenceInput,
  spectrometricDifferenceOutput,
} from './spectrometric-difference-schema.ts';

export {
  type SpectrometricDifferenceInput,
  type SpectrometricDifferenceOutput,
  spectrometricDifferenceInput,
  spectrometricDifferenceOutput,
} from './spectrometric-difference-schema.ts';

/** A sensitivity that moves by more than this over one bracket is flagged: common practice. */
const largestDriftPercent = 5;

function stateOf(
  found: ElementContent,
): SpectrometricDifferenceOutput['elements'][number]['state'] {
  if (found.content >= found.detectionLimit) return 'found';
  return found.content > found.decisionLimit ? 'present, below detection limit' : 'not found';
}

function flagsOf(
  input: SpectrometricDifferenceInput,
  one: SpectrometricDifferenceInput['elements'][number],
  found: ElementContent,
): string[] {
  const flags: string[] = [];
  const least = input.interferenceFlagShare * found.detectionLimit;
  if (one.interferences.length > 0 && Math.abs(found.interference) > least) {
    flags.push(`interference of ${one.interferences.map((other) => other.element).join(', ')}`);
  }
  if (Math.abs(found.driftPercent) > largestDriftPercent) flags.push('drift over the bracket');
  if (found.content < -found.decisionLimit)
    flags.push('below the blank: look for contamination of it');
  return flags;
}

/** The final step under all policies, from contents that are found or stand below their limits. */
function differenceOf(input: SpectrometricDifferenceInput, found: readonly ElementContent[]) {
  return finenessByDifference({
    metal: input.metal,
    policy: input.policy,
    impurities: input.elements.map((one, i) => {
      const { content, detectionLimit, ownUncertainty } = found[i] as ElementContent;
      requireDomain(detectionLimit > 0 || content > 0, {
        field: `elements.${i}.blankSignals`,
        value: 'blanks without spread, beside an element that was not found',
        accepted: 'blank signals read with enough digits to differ',
      });
      const isFound = content >= detectionLimit;
      return {
        element: one.element,
        contentMilligramsPerKilogram: isFound ? content : null,
        standardUncertaintyMilligramsPerKilogram: ownUncertainty,
        detectionLimitMilligramsPerKilogram: detectionLimit,
      };
    }),
  });
}

/**
 * Fineness of high-purity metal by difference, from the signals of a spectrometer: each impurity
 * with blank, drift between check standards, internal standard, dilution, limits and flags, and
 * what is left of 1000 ‰ under the three detection-limit policies.
 *
 * Formula: r the signal, or its ratio to the internal standard; sensitivity of a check (r − blank)/
 * content, linear in time between the check before and the one after; content in the metal
 * (r − blank)/sensitivity × volume × dilution/mass, mg/kg. Own uncertainty: spread of the blanks
 * √(1/m + 1/n), repeatability of sample and checks, the checks' contents. Limits: Student's
 * quantiles on the spread of the blanks, see `detectionLimit`. Fineness as `finenessByDifference`,
 * a content below its detection limit counting as not found; the relative uncertainty of mass,
 * volume and dilution acts on the whole sum and is added once.
 *
 * @param input elements once each, two blanks and two check standards at least that bracket the
 *   reading in time; an internal standard in all readings of an element or in none
 * @returns contents in mg/kg with limits, state and flags; fineness in ‰; nothing rounded
 * @throws DomainError for a reading outside its brackets, a check not above the blank, an internal
 *   standard in some readings only, the base metal among the elements, or impurities above the whole
 * Validity: every element that may be present was sought; response linear to the check standard;
 * interferences are flagged from stated coefficients, never corrected. See reference/spectrometry.
 * Source: ISO 15093:2020 and ISO 15096:2020, clauses 1 and 4 (as quoted on public pages);
 * bracketing after ISO 11494:2008 (principle); L. A. Currie (1968), Analytical Chemistry 40, 586;
 * JCGM 100:2008, 5.1.2 and 5.2.2
 * @example spectrometricDifference(spectrometricDifferenceCalculation.example).elements[0].contentMilligramsPerKilogram // 82.2078
 */
export function spectrometricDifference(
  input: SpectrometricDifferenceInput,
): SpectrometricDifferenceOutput {
  const base = input.metal === 'gold' ? 'Au' : 'Ag';
  const own = input.elements.findIndex((one) => one.element === base);
  requireDomain(own < 0, {
    field: `elements.${own}.element`,
    value: base,
    accepted: `an element other than the base metal ${base}`,
  });
  const found = input.elements.map((one, index) => elementContent(input, one, index));
  const difference = differenceOf(input, found);
  const relativeShared = Math.hypot(
    input.sampleMassStandardUncertaintyGrams / input.sampleMassGrams,
    input.solutionRelativeUncertaintyPercent / 100,
  );
  const shared = (relativeShared * difference.sumFoundMilligramsPerKilogram) / 1000;
  const elements = input.elements.map((one, i) => {
    const here = found[i] as ElementContent;
    return {
      element: one.element,
      line: one.line,
      contentMilligramsPerKilogram: here.content,
      standardUncertaintyMilligramsPerKilogram: Math.hypot(
        here.ownUncertainty,
        relativeShared * here.content,
      ),
      decisionLimitMilligramsPerKilogram: here.decisionLimit,
      detectionLimitMilligramsPerKilogram: here.detectionLimit,
      state: stateOf(here),
      driftPercent: here.driftPercent,
      interferenceMilligramsPerKilogram: here.interference,
      flags: flagsOf(input, one, here),
    };
  });
  const output = {
    elements,
    byPolicy: difference.byPolicy,
    finenessPerMille: difference.finenessPerMille,
    ownStandardUncertaintyPerMille: difference.standardUncertaintyPerMille,
    sharedStandardUncertaintyPerMille: shared,
    standardUncertaintyPerMille: Math.hypot(difference.standardUncertaintyPerMille, shared),
    scope: difference.scope,
  };
  return { ...output, words: differenceWords(input, output) };
}

function differenceWords(
  input: SpectrometricDifferenceInput,
  output: Omit<SpectrometricDifferenceOutput, 'words'>,
): string {
  const print = (value: number) => roundNumberText(value, 4, 'half-even');
  const list = (some: readonly { readonly element: string }[]) =>
    some.map((one) => one.element).join(', ');
  const below = output.elements.filter((one) => one.state !== 'found');
  const counted =
    below.length === 0
      ? ''
      : ` Below their detection limits and counted by the policy ${input.policy}: ${list(below)}.`;
  const flagged = output.elements.filter((one) => one.flags.length > 0);
  const flags =
    flagged.length === 0
      ? ''
      : ` Flagged: ${flagged.map((one) => `${one.element} (${one.flags.join(', ')})`).join('; ')}.`;
  const scope =
    output.scope === 'inside' ? '' : ' Below 999 ‰ the difference method is outside its scope.';
  return `Fineness ${print(output.finenessPerMille)} ‰ with standard uncertainty ${print(output.standardUncertaintyPerMille)} ‰; from ${print(output.byPolicy.limit)} to ${print(output.byPolicy.zero)} ‰ by the policy.${counted}${flags}${scope}`;
}

function drawElements(
  _input: SpectrometricDifferenceInput,
  output: SpectrometricDifferenceOutput,
): Chart[] {
  const x = output.elements.map((_, i) => i + 1);
  const y = output.elements.map((one) => one.contentMilligramsPerKilogram);
  const spread = output.elements.map((one) => 2 * one.standardUncertaintyMilligramsPerKilogram);
  const most = wholeMilligramsPerKilogram;
  return [
    {
      kind: 'chart',
      title: 'Contents with twice their standard uncertainty',
      xTitle: 'Element',
      yTitle: 'Content, mg/kg',
      series: [
        {
          label: 'content',
          kind: 'bars',
          x,
          y,
          lower: y.map((value, i) => value - (spread[i] ?? 0)),
          upper: y.map((value, i) => Math.min(most, value + (spread[i] ?? 0))),
        },
        {
          label: 'limit',
          kind: 'points',
          x,
          y: output.elements.map((one) => one.detectionLimitMilligramsPerKilogram),
        },
      ],
      xNames: output.elements.map((one, i) => ({ x: i + 1, name: one.element })),
    },
  ];
}

const example = (
  element: string,
  line: string,
  blankSignals: readonly number[],
  [first, reading, second]: readonly [number, number, number],
) => ({
  element,
  line,
  blankSignals: [...blankSignals],
  checks: [
    { minutes: 0, contentMilligramsPerLitre: 1, signal: first },
    { minutes: 60, contentMilligramsPerLitre: 1, signal: second },
  ],
  reading: { minutes: 30, signal: reading, integrations: 3 },
  relativeRepeatabilityPercent: 1,
  standardRelativeUncertaintyPercent: 0.5,
  interferences: [],
});

export const spectrometricDifferenceCalculation = defineCalculation<
  SpectrometricDifferenceInput,
  SpectrometricDifferenceOutput
>({
  id: 'spectrometric-difference',
  version: 1,
  topic: 'assay',
  title: 'Fineness by difference from a spectrometer',
  purpose:
    'From the signals of blanks, check standards and sample to the impurities of fine gold or silver with their limits and flags, and to the fineness that is left.',
  source:
    'ISO 15093:2020 and ISO 15096:2020, clauses 1 and 4 (as quoted on public pages); bracketing after ISO 11494:2008 (principle); L. A. Currie (1968), Analytical Chemistry 40, 586; JCGM 100:2008, 5.1.2 and 5.2.2',
  cautions: finenessByDifferenceCalculation.cautions ?? [],
  input: spectrometricDifferenceInput,
  output: spectrometricDifferenceOutput,
  example: {
    metal: 'gold',
    sampleMassGrams: 1.0006,
    sampleMassStandardUncertaintyGrams: 0.0001,
    solutionMillilitres: 100,
    solutionRelativeUncertaintyPercent: 0.2,
    dilutionFactor: 1,
    elements: [
      example('Ag', '328.068 nm', [105, 98, 101, 96, 100, 104], [98_400, 81_000, 98_500]),
      example('Cu', '324.754 nm', [220, 205, 214, 209, 217, 211], [151_000, 47_100, 152_600]),
      {
        ...example('Fe', '259.940 nm', [60, 66, 58, 63, 61, 64], [40_100, 4900, 40_000]),
        interferences: [
          { element: 'Au', contentMilligramsPerLitre: 10_000, apparentPerContent: 0.000_001 },
        ],
      },
      example('Pb', '220.353 nm', [14, 19, 16, 12, 17, 18], [3100, 21, 3080]),
    ],
    falseAlarmProbability: 0.05,
    interferenceFlagShare: 0.5,
    policy: 'half',
  },
  compute: spectrometricDifference,
  draw: drawElements,
});
