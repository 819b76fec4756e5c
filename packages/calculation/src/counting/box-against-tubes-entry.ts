import { z } from 'zod';
import { defineCalculation, type LimitRule } from '../catalogue/calculation.ts';
import { boxAgainstTubes } from './box-against-tubes.ts';
import {
  deviation,
  gainField,
  grams,
  positiveGrams,
  probability,
  wholePieces,
} from './counting-fields.ts';

const someTubes = 'a list of 1 to 10000 gross masses';

export const boxAgainstTubesInput = z.strictObject({
  tubeGrossGrams: z
    .array(positiveGrams('Gross mass of a tube', 'Last reading of the closed tube'), someTubes)
    .min(1, someTubes)
    .max(10_000, someTubes)
    .meta({ title: 'Tubes', description: 'Gross masses of the tubes in the box', unit: 'g' }),
  boxGrossGrams: positiveGrams('Gross mass of the box', 'Reading of the closed box'),
  boxTareGrams: deviation('Tare of the box', 'Weighed empty, or stored'),
  pieceMassGrams: positiveGrams('Mass of a piece', 'What would be missed if one left'),
  weighing: z
    .strictObject({
      tubeRepeatabilityGrams: deviation('Repeatability, tubes', 'Of the scale of the tubes'),
      tubeDivisionGrams: deviation('Division, tubes', 'Smallest step of the scale of the tubes'),
      boxTareStandardDeviationGrams: deviation(
        'Standard deviation of the box tare',
        'Box against box where it is stored; repeatability where it was weighed',
      ),
      boxRepeatabilityGrams: deviation('Repeatability, box', 'Of the scale of the box'),
      boxDivisionGrams: deviation('Division, box', 'Smallest step of the scale of the box'),
      gainRelativeEachScale: gainField(
        'Relative gain uncertainty of each scale',
        '0 where one scale weighs tubes and box: its error cancels',
      ),
    })
    .meta({ title: 'How they were weighed' }),
});

export type BoxAgainstTubesInput = z.infer<typeof boxAgainstTubesInput>;

export const boxAgainstTubesOutput = z.strictObject({
  differenceGrams: grams('Box less tare less tubes'),
  standardUncertaintyGrams: grams('Standard uncertainty of the difference'),
  halfPieceOverStandardUncertainty: z
    .number()
    .meta({ title: 'Half a piece in standard uncertainties' }),
  misclassificationProbability: probability('Probability that one piece is taken for none'),
  differencePieces: wholePieces('Pieces that entered, or left (negative)'),
  verdict: z
    .enum(['unchanged', 'weigh-again', 'changed', 'cannot-prove'])
    .meta({ title: 'Verdict' }),
});

export type BoxAgainstTubesOutput = z.infer<typeof boxAgainstTubesOutput>;

function describe(output: BoxAgainstTubesOutput): string {
  const difference = `${output.differenceGrams.toPrecision(3)} g, standard uncertainty ${output.standardUncertaintyGrams.toPrecision(2)} g`;
  switch (output.verdict) {
    case 'unchanged':
      return `The box weighs what its tubes weighed (${difference}): nothing left or entered.`;
    case 'changed':
      return `The box differs from its tubes by ${difference}, as ${output.differencePieces} piece(s) would: open it with a witness.`;
    case 'weigh-again':
      return `The box differs from its tubes by ${difference}: less than half a piece, more than chance. Set to zero and weigh again.`;
    default:
      return `Standard uncertainty ${output.standardUncertaintyGrams.toPrecision(2)} g: this weighing cannot tell one piece from none. Weigh the empty box, or use a finer scale.`;
  }
}

function drawBoxAgainstTubes(
  input: BoxAgainstTubesInput,
  output: BoxAgainstTubesOutput,
): LimitRule[] {
  return [
    {
      kind: 'limit-rule',
      title: 'Box less its tubes, within half a piece',
      unit: 'g',
      value: output.differenceGrams,
      expandedUncertainty: 3 * output.standardUncertaintyGrams,
      lowerLimit: -input.pieceMassGrams / 2,
      upperLimit: input.pieceMassGrams / 2,
      words: describe(output),
    },
  ];
}

/** The output is that of `boxAgainstTubes` and nothing else, so that records made with it compare. */
export const boxAgainstTubesCalculation = defineCalculation<
  BoxAgainstTubesInput,
  BoxAgainstTubesOutput
>({
  id: 'box-against-tubes',
  version: 1,
  topic: 'counting',
  title: 'Box against its tubes',
  purpose:
    'Whether anything left or entered a closed box since its closed tubes were weighed. It says nothing about how many pieces are in the tubes.',
  source: 'JCGM 100:2008, 5.1.2, law of propagation of uncertainty; limits common practice',
  input: boxAgainstTubesInput,
  output: boxAgainstTubesOutput,
  // 25 tubes of an invented silver piece; deviations as in reference/counting, CNT-050.
  example: {
    tubeGrossGrams: new Array<number>(25).fill(640),
    boxGrossGrams: 16_400.5,
    boxTareGrams: 400,
    pieceMassGrams: 31.1,
    weighing: {
      tubeRepeatabilityGrams: 0.05,
      tubeDivisionGrams: 0.1,
      boxTareStandardDeviationGrams: 0.5,
      boxRepeatabilityGrams: 0.5,
      boxDivisionGrams: 1,
      gainRelativeEachScale: 0.00005,
    },
  },
  compute: (input) => boxAgainstTubes(input),
  draw: drawBoxAgainstTubes,
});
