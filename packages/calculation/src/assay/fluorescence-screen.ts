import { z } from 'zod';
import { type Chart, defineCalculation, type LimitRule } from '../catalogue/calculation.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { compensatedSum } from '../quantity/sum.ts';
import { coverageFactor } from '../uncertainty/coverage.ts';
import { labelField, listField, numberField, outputNumber } from './fields.ts';
import { flagOf, screenOutputShape, screenReminder, screenShape } from './screen-fields.ts';

const readings = (title: string) =>
  listField(
    numberField('a reading above 0, up to', 1e-9, 1e12).meta({ title: 'Reading' }),
    'readings',
    2,
    200,
  ).meta({ title, description: 'Intensities, or contents as the instrument shows them' });

export const fluorescenceScreenInput = z.strictObject({
  ...screenShape,
  pieceReadings: readings('Readings of the piece'),
  standards: listField(
    z.strictObject({
      label: labelField('Label'),
      certifiedFinenessPerMille: numberField('a fineness', 1, 1000, '‰').meta({
        title: 'Certified fineness',
        unit: '‰',
      }),
      certifiedStandardUncertaintyPerMille: numberField('a standard uncertainty', 0, 100, '‰').meta(
        {
          title: 'Its standard uncertainty',
          unit: '‰',
        },
      ),
      readings: readings('Readings of the standard'),
    }),
    'standards',
    1,
    20,
  ).meta({
    title: 'Matched standards',
    description: 'Of like alloy, surface and curvature, read before and after the piece',
  }),
  surfaceStandardUncertaintyPerMille: numberField('a standard uncertainty', 0, 100, '‰').meta({
    title: 'Allowance for the surface',
    description:
      'Standard uncertainty of how the outer micrometres differ from the metal below; 0 claims they do not',
    unit: '‰',
  }),
});

export type FluorescenceScreenInput = z.infer<typeof fluorescenceScreenInput>;

const perMille = (title: string, description?: string) => outputNumber(title, '‰', description);

export const fluorescenceScreenOutput = z.strictObject({
  ratio: outputNumber('Piece over standards', undefined, 'Mean ratio of readings'),
  indicatedFinenessPerMille: perMille('Indicated fineness', 'Of the surface'),
  standardUncertaintyPerMille: perMille('Standard uncertainty'),
  lowerPerMille: perMille('Lower limit'),
  upperPerMille: perMille('Upper limit'),
  deviationPerMille: perMille('Indicated less declared fineness'),
  ...screenOutputShape,
});

export type FluorescenceScreenOutput = z.infer<typeof fluorescenceScreenOutput>;

/** A screen with a wider half-interval than this says nothing of coinage alloys: own choice. */
const widestUsefulPerMille = 20;

function summary(values: readonly number[]) {
  const mean = compensatedSum(values) / values.length;
  const squares = compensatedSum(values.map((value) => (value - mean) ** 2));
  const degrees = values.length - 1;
  return { mean, relativeVariance: squares / degrees / values.length / mean ** 2, degrees };
}

/** Smallest degrees of freedom of the readings that rule the result, after Welch and Satterthwaite. */
function effectiveDegrees(
  parts: readonly { readonly variance: number; readonly degrees: number }[],
  total: number,
): number {
  const sum = compensatedSum(parts.map((part) => part.variance ** 2 / part.degrees));
  return sum === 0 ? 1e9 : Math.min(1e9, total ** 2 / sum);
}

/**
 * Screen of a piece by X-ray fluorescence against matched standards: the fineness that its surface
 * indicates, with interval, and whether that deviates from what is declared. It never shows that
 * a piece is good: it sees about ten micrometres of gold and somewhat more of silver.
 *
 * Formula: for each standard the indicated fineness is certified fineness × mean reading of the
 * piece/mean reading of the standard; the result is their mean. u joins the scatter of the
 * readings of the piece (one error for all ratios), of the standards, their certificates and the
 * allowance for the surface; k of Student with effective degrees of freedom.
 *
 * @param input two readings or more of the piece and of each standard
 * @returns indicated fineness with limits, and a flag that has no state for a pass; nothing rounded
 * @throws nothing beyond what the schema refuses
 * Validity: standards matched in alloy and surface; readings in proportion to content over the
 * small step from standard to piece. Plated, enriched or rolled surfaces mislead.
 * Source: X-ray fluorescence sees the surface only: a bullion market's guideline on
 * non-destructive testing (as quoted on a public page); ratio to matched standards: common
 * practice; JCGM 100:2008, 5.1.2 and G.4.1
 * @example fluorescenceScreen(fluorescenceScreenCalculation.example).indicatedFinenessPerMille // 917.000
 */
export function fluorescenceScreen(input: FluorescenceScreenInput): FluorescenceScreenOutput {
  const piece = summary(input.pieceReadings);
  const standards = input.standards.map((one) => {
    const { mean, relativeVariance, degrees } = summary(one.readings);
    return { ...one, ratio: piece.mean / mean, relativeVariance, degrees };
  });
  const count = standards.length;
  const indicated =
    compensatedSum(standards.map((one) => one.certifiedFinenessPerMille * one.ratio)) / count;
  const scatter = [
    { variance: indicated ** 2 * piece.relativeVariance, degrees: piece.degrees },
    ...standards.map((one) => ({
      variance: ((one.certifiedFinenessPerMille * one.ratio) / count) ** 2 * one.relativeVariance,
      degrees: one.degrees,
    })),
  ];
  const certificates = standards.map(
    (one) => ((one.certifiedStandardUncertaintyPerMille * one.ratio) / count) ** 2,
  );
  const variance =
    compensatedSum(scatter.map((part) => part.variance)) +
    compensatedSum(certificates) +
    input.surfaceStandardUncertaintyPerMille ** 2;
  const standardUncertainty = Math.sqrt(variance);
  const k = coverageFactor(input.confidencePercent / 100, effectiveDegrees(scatter, variance));
  const deviation = indicated - input.declaredFinenessPerMille;
  const { flag, ratio } = flagOf(deviation, standardUncertainty, k, widestUsefulPerMille);
  const print = (value: number) => roundNumberText(value, 1, 'half-even');
  const said = {
    deviates: `deviates from the declared ${input.declaredFinenessPerMille} ‰: assay it`,
    'no deviation seen': `shows no deviation from the declared ${input.declaredFinenessPerMille} ‰`,
    'cannot tell': 'scatters too much to say anything: read more, or clean the surface',
  }[flag];
  return {
    ratio: compensatedSum(standards.map((one) => one.ratio)) / count,
    indicatedFinenessPerMille: indicated,
    standardUncertaintyPerMille: standardUncertainty,
    lowerPerMille: indicated - k * standardUncertainty,
    upperPerMille: indicated + k * standardUncertainty,
    deviationPerMille: deviation,
    flag,
    deviationInStandardUncertainties: ratio,
    words: `The surface of ${input.label} indicates ${print(indicated)} ‰ (${print(indicated - k * standardUncertainty)} to ${print(indicated + k * standardUncertainty)} ‰) and ${said}. ${screenReminder}`,
  };
}

function drawScreen(
  input: FluorescenceScreenInput,
  output: FluorescenceScreenOutput,
): (Chart | LimitRule)[] {
  return [
    {
      kind: 'chart',
      title: 'Indicated fineness beside the declared one',
      xTitle: 'Piece',
      yTitle: 'Fineness, ‰',
      series: [
        {
          label: 'surface',
          kind: 'points',
          x: [1],
          y: [output.indicatedFinenessPerMille],
          lower: [output.lowerPerMille],
          upper: [output.upperPerMille],
          standsOut: output.flag === 'deviates',
        },
      ],
      levels: [{ y: input.declaredFinenessPerMille, label: 'declared' }],
      xNames: [{ x: 1, name: input.label }],
    },
  ];
}

export const fluorescenceScreenCalculation = defineCalculation<
  FluorescenceScreenInput,
  FluorescenceScreenOutput
>({
  id: 'fluorescence-screen',
  version: 1,
  topic: 'assay',
  title: 'Screen by X-ray fluorescence',
  purpose:
    'Compares what the surface of a piece indicates with its declared fineness, against matched standards; it raises doubts and never passes a piece.',
  source:
    "Ratio to matched standards: common practice; depth: a bullion market's guideline on non-destructive testing (as quoted on a public page); JCGM 100:2008, 5.1.2 and G.4.1",
  cautions: [
    "The instrument makes X-rays: its interlocks stay closed and its licence and the site's radiation rules come first.",
  ],
  input: fluorescenceScreenInput,
  output: fluorescenceScreenOutput,
  example: {
    label: 'Piece 7',
    declaredFinenessPerMille: 916.7,
    pieceReadings: [917.1, 916.4, 917.6, 916.9],
    standards: [
      {
        label: 'Matched 916',
        certifiedFinenessPerMille: 916.6,
        certifiedStandardUncertaintyPerMille: 0.2,
        readings: [916.1, 917, 916.2, 917.1],
      },
    ],
    surfaceStandardUncertaintyPerMille: 1,
    confidencePercent: 95,
  },
  compute: fluorescenceScreen,
  draw: drawScreen,
});
