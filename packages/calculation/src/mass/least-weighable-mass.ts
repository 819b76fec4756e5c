import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { compensatedSum } from '../quantity/sum.ts';
import { numberField } from './number-field.ts';

/** Below this many scale intervals a standard deviation only shows the steps of the display. */
const floorIntervals = 0.41;

const readings = z.strictObject({
  kind: z.literal('readings').meta({ title: 'Kind' }),
  readingsMilligrams: z
    .array(
      numberField('reading', { least: -1e9, greatest: 1e9, unit: 'mg' }).meta({
        title: 'Reading',
        unit: 'mg',
      }),
      { error: 'a list of 5 to 200 readings' },
    )
    .min(5, { error: 'at least 5 readings' })
    .max(200, { error: 'at most 200 readings' })
    .meta({ title: 'Readings of one load', description: 'Ten or more are usual', unit: 'mg' }),
});

const stated = z.strictObject({
  kind: z.literal('stated').meta({ title: 'Kind' }),
  standardDeviationMilligrams: numberField('standard deviation', {
    greatest: 1e6,
    unit: 'mg',
  }).meta({ title: 'Standard deviation', unit: 'mg' }),
});

export const leastWeighableMassInput = z.strictObject({
  repeatability: z
    .discriminatedUnion('kind', [readings, stated], {
      error: 'repeatability of the kind readings or stated',
    })
    .meta({ title: 'Repeatability' }),
  scaleIntervalMilligrams: numberField('scale interval', {
    above: 0,
    greatest: 1e6,
    unit: 'mg',
  }).meta({ title: 'Scale interval', description: 'Last step of the display', unit: 'mg' }),
  coverageFactor: numberField('coverage factor', { above: 0, greatest: 10 }).meta({
    title: 'Coverage factor k',
    description: '2 is usual',
  }),
  requiredRelativeUncertaintyPercent: numberField('relative uncertainty', {
    above: 0,
    greatest: 100,
    unit: '%',
  }).meta({
    title: 'Relative uncertainty required',
    description: 'Of k standard deviations; 0.10 % is usual for an assay',
    unit: '%',
  }),
  safetyFactor: numberField('safety factor', { least: 1, greatest: 100 }).meta({
    title: 'Safety factor',
    description: '1 for none; 2 or 3 allows for unquiet surroundings between checks',
  }),
  proportionalUncertaintyPercent: numberField('proportional standard uncertainty', {
    greatest: 100,
    unit: '%',
  })
    .optional()
    .meta({
      title: 'Proportional standard uncertainty',
      description: 'Of calibration and sensitivity, in percent of the mass; none counts as 0',
      unit: '%',
    }),
  intendedMassMilligrams: numberField('mass', { above: 0, greatest: 1e9, unit: 'mg' })
    .optional()
    .meta({
      title: 'Mass that is to be weighed',
      description: 'None leaves it unjudged',
      unit: 'mg',
    }),
});

export type LeastWeighableMassInput = z.infer<typeof leastWeighableMassInput>;

const milligrams = (title: string, description?: string) =>
  z.number().meta({ title, unit: 'mg', ...(description === undefined ? {} : { description }) });

export const leastWeighableMassOutput = z.strictObject({
  standardDeviationMilligrams: milligrams('Standard deviation of the readings'),
  floorMilligrams: milligrams('Floor of the display', '0.41 scale intervals'),
  isFloorUsed: z.boolean().meta({ title: 'The floor was used' }),
  leastMassMilligrams: milligrams('Least mass', 'Net mass of the portion, not of its vessel'),
  leastPossibleMassMilligrams: milligrams(
    'Least mass that this display could ever allow',
    'Floor used in place of the standard deviation',
  ),
  intendedRelativeUncertaintyPercent: z.number().nullable().meta({
    title: 'Relative uncertainty of the mass to be weighed',
    description: 'Of k standard deviations, safety factor included; none without a mass',
    unit: '%',
  }),
  isIntendedMassEnough: z.boolean().nullable().meta({
    title: 'The mass to be weighed is enough',
    description: 'None without a mass',
  }),
  words: z.string().meta({ title: 'In words' }),
});

export type LeastWeighableMassOutput = z.infer<typeof leastWeighableMassOutput>;

function standardDeviationOf(input: LeastWeighableMassInput['repeatability']): number {
  if (input.kind === 'stated') return input.standardDeviationMilligrams;
  const { readingsMilligrams: values } = input;
  const mean = compensatedSum(values) / values.length;
  const squares = compensatedSum(values.map((value) => (value - mean) ** 2));
  return Math.sqrt(squares / (values.length - 1));
}

/** Relative uncertainty in percent of a mass: k·√(s² + (b·m)²)/m with the safety factor on top. */
function relativePercent(input: LeastWeighableMassInput, deviation: number, mass: number): number {
  const proportional = (input.proportionalUncertaintyPercent ?? 0) / 100;
  const spread = Math.hypot(deviation / mass, proportional);
  return 100 * input.coverageFactor * input.safetyFactor * spread;
}

/** The mass whose relative uncertainty is just the one required. */
function leastMass(input: LeastWeighableMassInput, deviation: number): number {
  const allowed =
    input.requiredRelativeUncertaintyPercent / (input.coverageFactor * input.safetyFactor);
  const proportional = input.proportionalUncertaintyPercent ?? 0;
  requireDomain(proportional < allowed, {
    field: 'proportionalUncertaintyPercent',
    value: proportional,
    accepted: `less than ${allowed} %: at this or more no mass reaches the uncertainty required`,
  });
  // (a − b)(a + b) keeps the digits that a² − b² would lose when the two are close.
  return (100 * deviation) / Math.sqrt((allowed - proportional) * (allowed + proportional));
}

function leastMassWords(
  input: LeastWeighableMassInput,
  output: Omit<LeastWeighableMassOutput, 'words'>,
): string {
  const print = (value: number) => roundNumberText(value, 4, 'half-even').replace(/\.?0+$/, '');
  const floor = output.isFloorUsed
    ? ' The readings repeat within the steps of the display, so its floor was used.'
    : '';
  const least = `Weigh at least ${print(output.leastMassMilligrams)} mg for ${input.requiredRelativeUncertaintyPercent} % (k = ${input.coverageFactor}, safety factor ${input.safetyFactor}).${floor}`;
  if (output.isIntendedMassEnough === null) return least;
  const answer = output.isIntendedMassEnough ? 'is enough' : 'is not enough';
  return `${least} A mass of ${input.intendedMassMilligrams} mg ${answer}: ${print(output.intendedRelativeUncertaintyPercent ?? 0)} %.`;
}

/**
 * Least mass that a balance may be used for, from its repeatability and the relative uncertainty
 * that the work needs.
 *
 * Formula: m = k·f·s/r, s the standard deviation of readings of one load but not less than 0.41
 * scale intervals, r the relative uncertainty required, f the safety factor. With a proportional
 * part b: m = s/√((r/(k·f))² − b²).
 *
 * @param input 5 to 200 readings of one load or a stated standard deviation, in mg; scale interval
 *   above 0 mg; k above 0; r above 0 to 100 %; safety factor from 1; b in percent
 * @returns least mass in mg, the floor and whether it was used, judgement of a mass to be weighed
 * @throws DomainError when the proportional part alone exceeds what is required
 * Validity: s hardly depends on the load, as it does not below a few percent of the capacity; the
 * check was made in the surroundings of use. See reference/least-mass.
 * Source: United States Pharmacopeia, General Chapter 41, Balances (k = 2, 0.10 %, 0.41 d);
 * EURAMET cg-18 (2015), Appendix G (proportional part and safety factor, from memory)
 * @example leastWeighableMass({ repeatability: { kind: 'stated', standardDeviationMilligrams: 0.15 },
 *   scaleIntervalMilligrams: 0.1, coverageFactor: 2, requiredRelativeUncertaintyPercent: 0.1,
 *   safetyFactor: 1 }).leastMassMilligrams // 300
 */
export function leastWeighableMass(input: LeastWeighableMassInput): LeastWeighableMassOutput {
  const standardDeviationMilligrams = standardDeviationOf(input.repeatability);
  const floorMilligrams = floorIntervals * input.scaleIntervalMilligrams;
  const isFloorUsed = standardDeviationMilligrams < floorMilligrams;
  const used = Math.max(standardDeviationMilligrams, floorMilligrams);
  const leastMassMilligrams = leastMass(input, used);
  const intended = input.intendedMassMilligrams;
  const output = {
    standardDeviationMilligrams,
    floorMilligrams,
    isFloorUsed,
    leastMassMilligrams,
    leastPossibleMassMilligrams: leastMass(input, floorMilligrams),
    intendedRelativeUncertaintyPercent:
      intended === undefined ? null : relativePercent(input, used, intended),
    isIntendedMassEnough: intended === undefined ? null : intended >= leastMassMilligrams,
  };
  return { ...output, words: leastMassWords(input, output) };
}

function drawLeastMass(input: LeastWeighableMassInput, output: LeastWeighableMassOutput): Chart[] {
  const used = Math.max(output.standardDeviationMilligrams, output.floorMilligrams);
  const x = Array.from({ length: 61 }, (_, at) => output.leastMassMilligrams * 2 ** (at / 15 - 2));
  return [
    {
      kind: 'chart',
      title: 'Relative uncertainty with the mass weighed',
      xTitle: 'Net mass, mg',
      yTitle: 'Relative uncertainty, %',
      series: [
        {
          label: 'this balance',
          kind: 'line',
          x,
          y: x.map((mass) => relativePercent(input, used, mass)),
        },
      ],
      marks: [{ x: output.leastMassMilligrams, label: 'least mass' }],
      levels: [{ y: input.requiredRelativeUncertaintyPercent, label: 'required' }],
    },
  ];
}

export const leastWeighableMassCalculation = defineCalculation<
  LeastWeighableMassInput,
  LeastWeighableMassOutput
>({
  id: 'least-weighable-mass',
  version: 1,
  topic: 'mass',
  title: 'Least weighable mass',
  purpose:
    'How much must be weighed on this balance so that its repeatability stays within the relative uncertainty that the work allows.',
  source:
    'United States Pharmacopeia, General Chapter 41, Balances; EURAMET cg-18 (2015), Appendix G, as remembered',
  input: leastWeighableMassInput,
  output: leastWeighableMassOutput,
  // Printed in the chapter: a standard deviation of 0.00015 g asks for 300.00 mg or more.
  example: {
    repeatability: { kind: 'stated', standardDeviationMilligrams: 0.15 },
    scaleIntervalMilligrams: 0.1,
    coverageFactor: 2,
    requiredRelativeUncertaintyPercent: 0.1,
    safetyFactor: 1,
    intendedMassMilligrams: 250,
  },
  compute: leastWeighableMass,
  draw: drawLeastMass,
});
