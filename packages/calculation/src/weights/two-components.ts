import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { DomainError, requireDomain } from '../quantity/domain.ts';
import { normalDensity } from '../quantity/normal.ts';
import { histogram } from './histogram.ts';
import { mixtureDensity, mixtureShape } from './mixture-shape.ts';
import { oneNormalLogLikelihood } from './one-normal.ts';
import { fitTwoNormals, type TwoNormals, type TwoNormalsFit } from './two-normals.ts';
import { twoSortings } from './two-sortings.ts';
import { figure, figureOrNull, grams, gramsOrNull, massesField, words } from './weight-fields.ts';

export const twoComponentsInput = z.strictObject({
  massesGrams: massesField(20, 200_000, 'Masses of single pieces, in any order'),
  standardDeviations: z.enum(['free', 'equal'], 'free or equal').meta({
    title: 'Standard deviations of the two heaps',
    description: 'Equal where both come from one process set to two masses; free otherwise',
  }),
});

export type TwoComponentsInput = z.infer<typeof twoComponentsInput>;

const component = (which: string) =>
  z
    .strictObject({
      share: figure(`Share of the ${which} heap`),
      shareStandardError: figure('Standard error of the share'),
      meanGrams: grams(`Mean of the ${which} heap`),
      meanStandardErrorGrams: grams('Standard error of the mean'),
      standardDeviationGrams: grams(`Standard deviation of the ${which} heap`),
      standardDeviationStandardErrorGrams: grams('Standard error of the standard deviation'),
    })
    .meta({ title: `The ${which} heap` });

export const twoComponentsOutput = z.strictObject({
  countPieces: z.int().meta({ title: 'Pieces weighed', unit: 'pieces' }),
  lighter: component('lighter'),
  heavier: component('heavier'),
  logLikelihood: figure('Logarithm of the likelihood of two heaps'),
  oneHeapLogLikelihood: figure('Logarithm of the likelihood of one normal heap'),
  bayesInformationGain: z.number().meta({
    title: 'Schwarz information gained over one heap',
    description: 'Above 0 speaks for two heaps, above 10 very strongly',
  }),
  ashmanSeparation: z.number().meta({
    title: 'Separation after Ashman',
    description: 'Distance of the means over the root mean square deviation; clean above 2',
  }),
  bimodalSeparation: figure('Distance of the means over twice the sum of the deviations'),
  modesGrams: z.array(grams('Mode')).meta({ title: 'Modes of the fitted density', unit: 'g' }),
  divideGrams: gramsOrNull('Mass that parts the heaps best', 'None where one covers the other'),
  wrongShare: figureOrNull('Share of pieces put into the wrong heap when parted there'),
  startsAgreed: z.int().meta({ title: 'Starts that led to this maximum' }),
  starts: z.int().meta({ title: 'Starts that led to a proper maximum' }),
  words: words(),
});

export type TwoComponentsOutput = z.infer<typeof twoComponentsOutput>;

function componentOf(fit: TwoNormalsFit, index: 0 | 1) {
  const variance = (place: number): number =>
    Math.sqrt(Math.max(0, fit.covariance[place]?.[place] ?? 0));
  return {
    share: index === 0 ? fit.share : 1 - fit.share,
    shareStandardError: variance(0),
    meanGrams: fit.means[index],
    meanStandardErrorGrams: variance(1 + index),
    standardDeviationGrams: fit.standardDeviations[index],
    standardDeviationStandardErrorGrams: variance(3 + index),
  };
}

/** The fit, or a refusal with what would be accepted. */
function requireFit(input: TwoComponentsInput): TwoNormalsFit {
  requireDomain(
    input.massesGrams.some((mass) => mass !== input.massesGrams[0]),
    {
      field: 'massesGrams',
      value: 'equal masses',
      accepted: 'masses that are not all equal',
    },
  );
  const fit = fitTwoNormals(input.massesGrams, input.standardDeviations === 'equal');
  if (fit) return fit;
  throw new DomainError({
    field: 'massesGrams',
    value: `${input.massesGrams.length} masses`,
    accepted:
      'masses in which two heaps can be fitted; here one heap shrinks on single values or vanishes, so that one normal distribution, or equal standard deviations, describe them better',
  });
}

function describe(output: Omit<TwoComponentsOutput, 'words'>): string {
  const heap = (part: TwoComponentsOutput['lighter']): string =>
    `${(100 * part.share).toFixed(1)} % about ${part.meanGrams.toPrecision(6)} g (standard deviation ${part.standardDeviationGrams.toPrecision(2)} g)`;
  const gain = output.bayesInformationGain;
  const judged =
    gain > 10
      ? 'The masses speak very strongly for two heaps.'
      : gain > 0
        ? 'The masses speak for two heaps, not strongly.'
        : 'One normal heap describes the masses as well.';
  const modes = output.modesGrams.length === 2 ? 'two modes' : 'one mode only';
  return `${heap(output.lighter)} and ${heap(output.heavier)}; together ${modes}. ${judged}`;
}

/**
 * Two heaps in one lot: shares, means and spreads of two normal distributions mixed in the masses of the
 * pieces, as when two sortings, two sheets or two machines were poured together.
 *
 * Formula: maximum likelihood, see `fitTwoNormals`; Schwarz gain 2·(ℓ₂ − ℓ₁) − Δk·ln n, with 3 figures more
 * than one heap, 2 with equal deviations; separations, modes and parting mass see `mixtureShape`.
 *
 * @param input 20 to 200000 masses in grams, not all equal; deviations free or equal
 * @returns both heaps with standard errors in grams, lighter first; measures; not rounded
 * @throws DomainError for equal masses, or where no proper maximum exists
 * Validity: deterministic. Standard errors of first order, good where the heaps are apart; a small, wide
 * heap usually is a handful of strays. Two normal heaps also fit one skewed heap: see `second-mode`.
 * Shown in reference/two-components.
 * Source: N. E. Day (1969), Biometrika 56, 463-474; A. P. Dempster, N. M. Laird and D. B. Rubin (1977),
 * Journal of the Royal Statistical Society B 39, 1-38; G. Schwarz (1978), Annals of Statistics 6, 461-464
 * @example twoComponents(twoComponentsCalculation.example).modesGrams.length // 2
 */
export function twoComponents(input: TwoComponentsInput): TwoComponentsOutput {
  const { massesGrams } = input;
  const fit = requireFit(input);
  const shape = mixtureShape(fit);
  const oneHeapLogLikelihood = oneNormalLogLikelihood(massesGrams);
  const more = input.standardDeviations === 'equal' ? 2 : 3;
  const output = {
    countPieces: massesGrams.length,
    lighter: componentOf(fit, 0),
    heavier: componentOf(fit, 1),
    logLikelihood: fit.logLikelihood,
    oneHeapLogLikelihood,
    bayesInformationGain:
      2 * (fit.logLikelihood - oneHeapLogLikelihood) - more * Math.log(massesGrams.length),
    ashmanSeparation: shape.ashmanSeparation,
    bimodalSeparation: shape.bimodalSeparation,
    modesGrams: [...shape.modes],
    divideGrams: shape.divide,
    wrongShare: shape.wrongShare,
    startsAgreed: fit.startsAgreed,
    starts: fit.starts,
  };
  return { ...output, words: describe(output) };
}

const curvePoints = 160;

function drawTwoComponents(input: TwoComponentsInput, output: TwoComponentsOutput): Chart[] {
  const bars = histogram(input.massesGrams);
  const scale = input.massesGrams.length * bars.width;
  const { lighter, heavier } = output;
  const heaps: TwoNormals = {
    share: lighter.share,
    means: [lighter.meanGrams, heavier.meanGrams],
    standardDeviations: [lighter.standardDeviationGrams, heavier.standardDeviationGrams],
  };
  const from = (bars.centres[0] as number) - bars.width;
  const to = (bars.centres[bars.centres.length - 1] as number) + bars.width;
  const x = Array.from(
    { length: curvePoints + 1 },
    (_, index) => from + ((to - from) * index) / curvePoints,
  );
  const heap = (part: TwoComponentsOutput['lighter']) =>
    x.map(
      (value) =>
        scale * part.share * normalDensity(value, part.meanGrams, part.standardDeviationGrams),
    );
  return [
    {
      kind: 'chart',
      title: 'Two heaps in one lot',
      xTitle: 'Mass, g',
      yTitle: 'Pieces',
      series: [
        { label: 'pieces', kind: 'bars', x: bars.centres, y: bars.counts },
        {
          label: 'together',
          kind: 'line',
          x,
          y: x.map((value) => scale * mixtureDensity(heaps, value)),
        },
        { label: 'lighter', kind: 'line', x, y: heap(lighter) },
        { label: 'heavier', kind: 'line', x, y: heap(heavier) },
      ],
      marks: output.divideGrams === null ? [] : [{ x: output.divideGrams, label: 'parts best' }],
    },
  ];
}

export const twoComponentsCalculation = defineCalculation({
  id: 'two-components',
  version: 1,
  topic: 'weights',
  title: 'Two heaps in one lot',
  purpose:
    'Shares, means and spreads of two sortings, sheets or machines mixed in one lot, how well they can be told apart, and the mass that parts them best.',
  source:
    'N. E. Day (1969), Biometrika 56; A. P. Dempster, N. M. Laird and D. B. Rubin (1977), Journal of the Royal Statistical Society B 39; G. Schwarz (1978), Annals of Statistics 6; K. M. Ashman, C. M. Bird and S. E. Zepf (1994), Astronomical Journal 108',
  input: twoComponentsInput,
  output: twoComponentsOutput,
  example: { massesGrams: twoSortings, standardDeviations: 'free' },
  compute: twoComponents,
  draw: drawTwoComponents,
});
