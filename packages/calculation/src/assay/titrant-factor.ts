import t from '@stdlib/stats-base-dists-t';
import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { compensatedSum } from '../quantity/sum.ts';
import { listField, numberField, outputNumber, wordsField } from './fields.ts';
import { factorAt, type Titrant, titrantOf } from './titrant-core.ts';
import { minutesField, titrantShape } from './titrant-schema.ts';

/** Standard atomic mass of silver, in g/mol: 107.8682. */
const silverGramsPerMole = 107.8682;

export const titrantFactorInput = z.strictObject({
  ...titrantShape,
  titrantMolesPerLitre: numberField('a concentration', 0.001, 10, 'mol/L').optional().meta({
    title: 'Concentration of the titrant by its making',
    description: 'Of chloride or bromide, to compare the factor with',
    unit: 'mol/L',
  }),
  times: listField(minutesField(), 'times', 0, 200).meta({
    title: 'Times at which the factor is wanted',
    unit: 'min',
  }),
});

export type TitrantFactorInput = z.infer<typeof titrantFactorInput>;

const factorUnit = 'mg/mL';
const nullable = (title: string, unit: string, description: string) =>
  z.number().nullable().meta({ title, unit, description });

export const titrantFactorOutput = z.strictObject({
  factors: z
    .array(
      z.strictObject({
        label: z.string().meta({ title: 'Label' }),
        factorMilligramsPerMillilitre: outputNumber('Factor', factorUnit, 'Silver per titrant'),
      }),
    )
    .meta({ title: 'Factors of the standards' }),
  meanMilligramsPerMillilitre: outputNumber('Mean factor', factorUnit),
  spreadPerMille: outputNumber('Spread', '‰', 'Largest less smallest, over the mean'),
  repeatabilityPerMille: outputNumber('Repeatability', '‰', 'Stated, or from the spread'),
  degreesOfFreedom: z.number().nullable().meta({
    title: 'Degrees of freedom of the repeatability',
    description: 'None where it was stated',
  }),
  driftPerMillePerHour: nullable('Drift', '‰/h', 'None where all standards have one time'),
  driftStandardUncertaintyPerMillePerHour: nullable(
    'Standard uncertainty of the drift',
    '‰/h',
    'None where all standards have one time',
  ),
  driftIsClear: z.boolean().meta({
    title: 'The drift is clear',
    description: 'Beyond what scatter explains at 95 %',
  }),
  atTimes: z
    .array(
      z.strictObject({
        minutes: outputNumber('Time', 'min'),
        factorMilligramsPerMillilitre: outputNumber('Factor', factorUnit),
        standardUncertaintyMilligramsPerMillilitre: outputNumber(
          'Standard uncertainty',
          factorUnit,
          'Fineness of the silver and blank included',
        ),
      }),
    )
    .meta({ title: 'Factor at the times wanted' }),
  expectedMilligramsPerMillilitre: nullable(
    'Factor by the making of the titrant',
    factorUnit,
    'None where its concentration was not given',
  ),
  words: wordsField(),
});

export type TitrantFactorOutput = z.infer<typeof titrantFactorOutput>;

/** Relative drift per minute by the line through all factors, with standard uncertainty. */
function driftOf(input: TitrantFactorInput, titrant: Titrant, meanFactor: number) {
  const times = input.standards.map((one) => one.minutes);
  const centre = compensatedSum(times) / times.length;
  const squares = compensatedSum(times.map((time) => (time - centre) ** 2));
  if (squares === 0) return null;
  const products = times.map((time, i) => (time - centre) * (titrant.factors[i] ?? 0));
  const variances = times.map(
    (time, i) =>
      (time - centre) ** 2 * (titrant.repeatability ** 2 + (titrant.measuring[i] ?? 0) ** 2),
  );
  return {
    slope: compensatedSum(products) / squares / meanFactor,
    uncertainty: Math.sqrt(compensatedSum(variances)) / squares,
  };
}

/** Standard uncertainty of the factor at a time: scatter of its standards, silver, blank. */
function factorUncertainty(
  input: TitrantFactorInput,
  titrant: Titrant,
  shares: readonly number[],
): number {
  const scatter = shares.map((share, j) => {
    const own = Math.hypot(titrant.repeatability, titrant.measuring[j] ?? 0);
    return (share * (titrant.factors[j] ?? 0) * own) ** 2;
  });
  const factor = factorAt(titrant, shares);
  const silver = (factor * input.silverStandardUncertaintyPerMille) / input.silverFinenessPerMille;
  const blank =
    input.blankStandardUncertaintyMillilitres *
    compensatedSum(
      shares.map(
        (share, j) => share * (titrant.factors[j] ?? 0) * (titrant.blankSensitivities[j] ?? 0),
      ),
    );
  return Math.hypot(Math.sqrt(compensatedSum(scatter)), silver, blank);
}

/**
 * Factor of a titrant from standards of pure silver spread over a run: silver per millilitre, its
 * drift in time and its value when a sample was titrated, with uncertainty.
 *
 * Formula: F = m·w/(V − V_b), m silver taken, w its fineness, V volume, V_b blank. At a time: mean
 * of all, straight line in time by least squares, or linear interpolation between the standard
 * before and the one after. u(F) joins the scatter of the standards in the shares that they have in
 * it, the fineness of the silver and the blank, which act on all alike. Spread: range over mean.
 *
 * @param input two standards or more; with a drift and no stated repeatability three or more
 * @returns factors in mg/mL, drift in ‰ per hour, factor at each time wanted; nothing rounded
 * @throws DomainError for a volume not above the blank, standards of one time where a drift is
 *   modelled, too few standards for a spread, or a time outside the bracketing standards
 * Validity: scatter alike for all standards; the drift is compared with its own uncertainty by
 * Student's t. See reference/silver-titration.
 * Source: ISO 11427:2024 and ISO 13756:2024 (factor from silver standards; equation as
 * remembered); drift: common practice; JCGM 100:2008, 5.1.2 and 5.2.2
 * @example titrantFactor({ standards: [[301.25, 27.912], [300.87, 27.879]].map(
 *   ([silverMassMilligrams, volumeMillilitres], i) => ({ label: `S${i}`, minutes: 60 * i,
 *     silverMassMilligrams, volumeMillilitres })), silverFinenessPerMille: 1000,
 *   silverStandardUncertaintyPerMille: 0, blankMillilitres: 0, blankStandardUncertaintyMillilitres: 0,
 *   drift: 'none', weighingStandardUncertaintyMilligrams: 0.01,
 *   volumeStandardUncertaintyMillilitres: 0.002, times: [] }).meanMilligramsPerMillilitre // 10.79242
 */
export function titrantFactor(input: TitrantFactorInput): TitrantFactorOutput {
  const titrant = titrantOf(input);
  const { factors } = titrant;
  const meanFactor = compensatedSum(factors) / factors.length;
  const drift = driftOf(input, titrant, meanFactor);
  const degrees = titrant.degreesOfFreedom;
  const limit = degrees === null ? 1.96 : t.quantile(0.975, degrees);
  const output = {
    factors: factors.map((factorMilligramsPerMillilitre, i) => ({
      label: input.standards[i]?.label ?? '',
      factorMilligramsPerMillilitre,
    })),
    meanMilligramsPerMillilitre: meanFactor,
    spreadPerMille: (1000 * (Math.max(...factors) - Math.min(...factors))) / meanFactor,
    repeatabilityPerMille: 1000 * titrant.repeatability,
    degreesOfFreedom: degrees,
    driftPerMillePerHour: drift === null ? null : 60_000 * drift.slope,
    driftStandardUncertaintyPerMillePerHour: drift === null ? null : 60_000 * drift.uncertainty,
    driftIsClear: drift !== null && Math.abs(drift.slope) > limit * drift.uncertainty,
    atTimes: input.times.map((minutes, index) => {
      const shares = titrant.sharesAt(minutes, `times.${index}`);
      return {
        minutes,
        factorMilligramsPerMillilitre: factorAt(titrant, shares),
        standardUncertaintyMilligramsPerMillilitre: factorUncertainty(input, titrant, shares),
      };
    }),
    expectedMilligramsPerMillilitre:
      input.titrantMolesPerLitre === undefined
        ? null
        : input.titrantMolesPerLitre * silverGramsPerMole,
  };
  return { ...output, words: factorWords(input, output) };
}

function factorWords(
  input: TitrantFactorInput,
  output: Omit<TitrantFactorOutput, 'words'>,
): string {
  const print = (value: number, places: number) => roundNumberText(value, places, 'half-even');
  const { driftPerMillePerHour: drift, expectedMilligramsPerMillilitre: expected } = output;
  const away =
    expected === null
      ? ''
      : ` It lies ${print(1000 * (output.meanMilligramsPerMillilitre / expected - 1), 2)} ‰ from what the titrant was made to be.`;
  const moved =
    drift === null
      ? ''
      : output.driftIsClear
        ? ` It drifts clearly, by ${print(drift, 3)} ‰ an hour${input.drift === 'none' ? ': one mean for all is not enough' : ''}.`
        : ' No drift is seen beyond scatter.';
  return `Factor ${print(output.meanMilligramsPerMillilitre, 5)} mg/mL, spread ${print(output.spreadPerMille, 3)} ‰ over ${output.factors.length} standards.${moved}${away}`;
}

function drawFactors(input: TitrantFactorInput, output: TitrantFactorOutput): Chart[] {
  const wanted = output.atTimes;
  return [
    {
      kind: 'chart',
      title: 'Factor over the run',
      xTitle: 'Time, min',
      yTitle: 'Factor, mg/mL',
      series: [
        {
          label: 'standards',
          kind: 'points',
          x: input.standards.map((one) => one.minutes),
          y: output.factors.map((one) => one.factorMilligramsPerMillilitre),
        },
        {
          label: 'wanted',
          kind: 'points',
          x: wanted.map((one) => one.minutes),
          y: wanted.map((one) => one.factorMilligramsPerMillilitre),
          lower: wanted.map(
            (one) =>
              one.factorMilligramsPerMillilitre -
              2 * one.standardUncertaintyMilligramsPerMillilitre,
          ),
          upper: wanted.map(
            (one) =>
              one.factorMilligramsPerMillilitre +
              2 * one.standardUncertaintyMilligramsPerMillilitre,
          ),
        },
      ],
      levels: [{ y: output.meanMilligramsPerMillilitre, label: 'mean' }],
    },
  ];
}

export const titrationCautions = [
  'Silver is dissolved in nitric acid, which attacks skin, eyes and lungs and gives off nitrogen oxides, whose harm can show hours later: fume cupboard, gloves, face protection.',
  'Silver residues go to the laboratory account, never into a drain, and never beside ammonia, with which they can form explosives on standing.',
  "The site's rules, local law and licensed practice come first.",
];

export const titrantFactorCalculation = defineCalculation<TitrantFactorInput, TitrantFactorOutput>({
  id: 'titrant-factor',
  version: 1,
  topic: 'assay',
  title: 'Factor of a titrant',
  purpose:
    'Finds how much silver a millilitre of titrant answers for, from standards of pure silver over the run, with drift in time, blank and uncertainty.',
  source:
    'ISO 11427:2024 and ISO 13756:2024 (factor from silver standards; equation as remembered); drift: common practice; JCGM 100:2008, 5.1.2 and 5.2.2',
  cautions: titrationCautions,
  input: titrantFactorInput,
  output: titrantFactorOutput,
  // Chosen figures after the equation of ISO 11427, see reference/silver-titration: 10.79242 mg/mL.
  example: {
    standards: [
      { label: 'S1', minutes: 0, silverMassMilligrams: 301.25, volumeMillilitres: 27.912 },
      { label: 'S2', minutes: 90, silverMassMilligrams: 300.87, volumeMillilitres: 27.879 },
    ],
    silverFinenessPerMille: 1000,
    silverStandardUncertaintyPerMille: 0.02,
    blankMillilitres: 0,
    blankStandardUncertaintyMillilitres: 0.002,
    drift: 'bracketing',
    weighingStandardUncertaintyMilligrams: 0.01,
    volumeStandardUncertaintyMillilitres: 0.002,
    repeatabilityPerMille: 0.1,
    titrantMolesPerLitre: 0.1,
    times: [45],
  },
  compute: titrantFactor,
  draw: drawFactors,
});
