import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { compensatedSum } from '../quantity/sum.ts';
import { coverageFactor } from '../uncertainty/coverage.ts';
import { labelField, listField, numberField, outputNumber } from './fields.ts';
import { flagOf, screenOutputShape, screenReminder, screenShape } from './screen-fields.ts';

const conductivityUnit = 'MS/m';
const conductivity = (title: string) =>
  numberField('a conductivity', 0.1, 70, conductivityUnit).meta({ title, unit: conductivityUnit });
const temperature = (title: string) =>
  numberField('a temperature', -20, 60, '°C').meta({ title, unit: '°C' });

export const conductivityScreenInput = z.strictObject({
  ...screenShape,
  pieceReadings: listField(conductivity('Reading'), 'readings', 1, 100).meta({
    title: 'Readings of the piece',
    unit: conductivityUnit,
  }),
  pieceTemperatureDegreesCelsius: temperature('Temperature of the piece'),
  references: listField(
    z.strictObject({
      label: labelField('Label'),
      conductivityMegasiemensPerMetre: conductivity('Conductivity at 20 °C'),
    }),
    'reference pieces',
    3,
    200,
  ).meta({
    title: 'Reference pieces',
    description: 'Of the same alloy, thickness and treatment, known good by assay',
  }),
  temperatureCoefficientPerKelvin: numberField('a coefficient', 0, 0.01, '1/K').meta({
    title: 'Temperature coefficient of the resistivity',
    description: 'At 20 °C; 0.0034 for fine gold and 0.0038 for fine silver, less for alloys',
    unit: '1/K',
  }),
  readingStandardUncertaintyMegasiemensPerMetre: numberField(
    'a standard uncertainty',
    0,
    10,
    conductivityUnit,
  ).meta({
    title: 'Standard uncertainty of one reading',
    description: 'Of the instrument, beyond its adjustment on the references',
    unit: conductivityUnit,
  }),
});

export type ConductivityScreenInput = z.infer<typeof conductivityScreenInput>;

const megasiemens = (title: string) => outputNumber(title, conductivityUnit);

export const conductivityScreenOutput = z.strictObject({
  conductivityMegasiemensPerMetre: megasiemens('Conductivity at 20 °C'),
  referenceMegasiemensPerMetre: megasiemens('Mean of the references'),
  lowerMegasiemensPerMetre: megasiemens('Lower limit for one more piece of the alloy'),
  upperMegasiemensPerMetre: megasiemens('Upper limit for one more piece of the alloy'),
  standardUncertaintyMegasiemensPerMetre: megasiemens('Standard uncertainty of the difference'),
  ...screenOutputShape,
});

export type ConductivityScreenOutput = z.infer<typeof conductivityScreenOutput>;

/** Limits farther from the mean than this share of it say nothing: own choice. */
const widestUsefulShare = 0.2;

/**
 * Screen of a piece by its electrical conductivity beside reference pieces of the same alloy: a
 * core of another metal or a wrong alloy shows in eddy currents. Conductivity depends on traces,
 * cold work and thickness as well, so that it never shows a piece to be good.
 *
 * Formula: resistivity is taken to 20 °C, σ₂₀ = σ·(1 + α·(t − 20)). The limits hold one more good
 * piece: x̄ ± t·√(s²·(1 + 1/n) + u²/m), s and n of the references, u of one of m readings, t of
 * Student with n − 1 degrees of freedom.
 *
 * @param input readings of the piece at its temperature, three references or more at 20 °C
 * @returns conductivity at 20 °C, prediction limits, and a flag that has no state for a pass
 * @throws nothing beyond what the schema refuses
 * Validity: references of the same alloy, thickness and treatment; normal spread among them.
 * Source: linear temperature coefficient of resistivity: common knowledge; prediction interval for
 * one more observation: G. J. Hahn (1969), Technometrics 11, 878; screening by conductivity: common
 * practice
 * @example conductivityScreen(conductivityScreenCalculation.example).conductivityMegasiemensPerMetre // 10.14608
 */
export function conductivityScreen(input: ConductivityScreenInput): ConductivityScreenOutput {
  const { pieceReadings, references } = input;
  const raw = compensatedSum(pieceReadings) / pieceReadings.length;
  const away = input.pieceTemperatureDegreesCelsius - 20;
  const factor = 1 + input.temperatureCoefficientPerKelvin * away;
  const found = raw * factor;
  const known = references.map((one) => one.conductivityMegasiemensPerMetre);
  const mean = compensatedSum(known) / known.length;
  const variance = compensatedSum(known.map((one) => (one - mean) ** 2)) / (known.length - 1);
  const reading =
    (factor * input.readingStandardUncertaintyMegasiemensPerMetre) /
    Math.sqrt(pieceReadings.length);
  const standardUncertainty = Math.sqrt(variance * (1 + 1 / known.length) + reading ** 2);
  const k = coverageFactor(input.confidencePercent / 100, known.length - 1);
  const { flag, ratio } = flagOf(found - mean, standardUncertainty, k, widestUsefulShare * mean);
  const print = (value: number) => roundNumberText(value, 2, 'half-even');
  const [lower, upper] = [mean - k * standardUncertainty, mean + k * standardUncertainty];
  const said = {
    deviates: 'deviates: assay it',
    'no deviation seen': 'shows no deviation',
    'cannot tell': 'says nothing, the references being too unlike each other',
  }[flag];
  return {
    conductivityMegasiemensPerMetre: found,
    referenceMegasiemensPerMetre: mean,
    lowerMegasiemensPerMetre: lower,
    upperMegasiemensPerMetre: upper,
    standardUncertaintyMegasiemensPerMetre: standardUncertainty,
    flag,
    deviationInStandardUncertainties: ratio,
    words: `The conductivity of ${input.label}, declared ${input.declaredFinenessPerMille} ‰, at 20 °C: ${print(found)} MS/m beside ${print(lower)} to ${print(upper)} MS/m of good pieces, ${said}. ${screenReminder}`,
  };
}

function drawConductivity(
  input: ConductivityScreenInput,
  output: ConductivityScreenOutput,
): Chart[] {
  return [
    {
      kind: 'chart',
      title: 'Conductivity at 20 °C beside the references',
      xTitle: 'Piece',
      yTitle: 'Conductivity, MS/m',
      series: [
        {
          label: 'references',
          kind: 'points',
          x: input.references.map((_, i) => i + 1),
          y: input.references.map((one) => one.conductivityMegasiemensPerMetre),
        },
        {
          label: 'piece',
          kind: 'points',
          x: [input.references.length + 1],
          y: [output.conductivityMegasiemensPerMetre],
          standsOut: output.flag === 'deviates',
        },
      ],
      levels: [
        { y: output.lowerMegasiemensPerMetre, label: 'lower' },
        { y: output.upperMegasiemensPerMetre, label: 'upper' },
      ],
    },
  ];
}

export const conductivityScreenCalculation = defineCalculation<
  ConductivityScreenInput,
  ConductivityScreenOutput
>({
  id: 'conductivity-screen',
  version: 1,
  topic: 'assay',
  title: 'Screen by conductivity',
  purpose:
    'Compares the electrical conductivity of a piece with good pieces of the same alloy; it raises doubts and never passes a piece.',
  source:
    'Prediction interval for one more observation: G. J. Hahn (1969), Technometrics 11, 878; temperature coefficient of resistivity and screening by conductivity: common practice',
  input: conductivityScreenInput,
  output: conductivityScreenOutput,
  example: {
    label: 'Piece 7',
    declaredFinenessPerMille: 916.7,
    pieceReadings: [10.1, 10.13, 10.09],
    pieceTemperatureDegreesCelsius: 23,
    references: [10.2, 10.05, 10.14, 10.22, 10.11].map((conductivityMegasiemensPerMetre, i) => ({
      label: `R${i + 1}`,
      conductivityMegasiemensPerMetre,
    })),
    temperatureCoefficientPerKelvin: 0.0013,
    readingStandardUncertaintyMegasiemensPerMetre: 0.05,
    confidencePercent: 95,
  },
  compute: conductivityScreen,
  draw: drawConductivity,
});
