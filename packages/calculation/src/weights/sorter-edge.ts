import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { DomainError, requireDomain } from '../quantity/domain.ts';
import { normalDistribution } from '../quantity/normal.ts';
import { massSummary } from './mass-summary.ts';
import {
  type CutSample,
  edgeInterval,
  edgeLogLikelihood,
  spacingBound,
  type UnsortedNormal,
} from './sorter-edge-likelihood.ts';
import { truncatedFit } from './truncated-fit.ts';
import {
  confidenceField,
  deviationField,
  figure,
  grams,
  gramsOrNull,
  massesField,
  massField,
  words,
} from './weight-fields.ts';

const nearestCount = 'a whole number from 2 to 1000 pieces';

export const sorterEdgeInput = z.strictObject({
  massesGrams: massesField(10, 100_000, 'Masses of single sorted pieces, in any order'),
  side: z.enum(['light', 'heavy'], 'light or heavy').meta({
    title: 'Side',
    description: 'Light: the edge below which pieces were sorted out; heavy: above which',
  }),
  unsorted: z.discriminatedUnion(
    'kind',
    [
      z.strictObject({
        kind: z.literal('estimated').meta({ title: 'Unsorted masses: found from these pieces' }),
      }),
      z.strictObject({
        kind: z.literal('known').meta({ title: 'Unsorted masses: known normal distribution' }),
        meanGrams: massField('Mean', 'Of the unsorted pieces'),
        standardDeviationGrams: massField('Standard deviation', 'Of the unsorted pieces'),
      }),
    ],
    'unsorted masses of kind estimated, or known with mean and standard deviation',
  ),
  otherEdgeGrams: massField(
    'Other edge',
    'Known edge on the other side; none for an open side',
  ).optional(),
  sorterRepeatabilityGrams: deviationField(
    'Repeatability of the sorter',
    'Standard deviation with which the sorter weighs; 0 for a sharp cut',
  ),
  nearestPieces: z.int(nearestCount).min(2, nearestCount).max(1000, nearestCount).meta({
    title: 'Pieces nearest to the edge',
    description: 'How many the bound without a distribution uses; few against all pieces',
    unit: 'pieces',
  }),
  confidence: confidenceField(),
});

export type SorterEdgeInput = z.infer<typeof sorterEdgeInput>;

export const sorterEdgeOutput = z.strictObject({
  extremeGrams: grams('Lightest or heaviest piece'),
  spacingEstimateGrams: grams(
    'Edge by the two outermost pieces',
    'The outermost piece less (plus) its distance to the next',
  ),
  spacingBoundGrams: grams('Farthest edge by the outermost pieces, for any distribution'),
  edgeGrams: grams('Edge of the greatest likelihood'),
  edgeFromGrams: gramsOrNull('Edge lies above', 'None where the likelihood allows no cut at all'),
  edgeToGrams: gramsOrNull('Edge lies below', 'None where the likelihood allows no cut at all'),
  meanGrams: grams('Mean of the unsorted pieces'),
  standardDeviationGrams: grams('Standard deviation of the unsorted pieces'),
  cutFraction: figure('Share of the unsorted pieces beyond the edge'),
  emptyTailProbability: z.number().meta({
    title: 'Probability that unsorted pieces would leave this side as empty',
    description: 'By the mean and standard deviation stated here',
  }),
  verdict: z
    .enum(['cut', 'not-shown'])
    .meta({ title: 'Whether the masses show a cut on this side at this confidence' }),
  words: words(),
});

export type SorterEdgeOutput = z.infer<typeof sorterEdgeOutput>;

/** The sample seen so that its cut side is the light one; factor −1 turns it back. */
function facing(input: SorterEdgeInput): { sample: CutSample; factor: 1 | -1 } {
  const factor = input.side === 'light' ? 1 : -1;
  const ascending = input.massesGrams.map((mass) => factor * mass).sort((a, b) => a - b);
  const { unsorted } = input;
  const known: UnsortedNormal | undefined =
    unsorted.kind === 'known'
      ? {
          mean: factor * unsorted.meanGrams,
          standardDeviation: unsorted.standardDeviationGrams,
        }
      : undefined;
  const sample = {
    ascending,
    blur: input.sorterRepeatabilityGrams,
    ...(known ? { known } : {}),
    ...(input.otherEdgeGrams === undefined ? {} : { heavyEdge: factor * input.otherEdgeGrams }),
  };
  return { sample, factor };
}

function requireSample(input: SorterEdgeInput): void {
  requireDomain(input.nearestPieces <= input.massesGrams.length, {
    field: 'nearestPieces',
    value: input.nearestPieces,
    accepted: `at most the ${input.massesGrams.length} pieces weighed`,
  });
  const isSpread = input.massesGrams.some((mass) => mass !== input.massesGrams[0]);
  requireDomain(isSpread, {
    field: 'massesGrams',
    value: 'equal masses',
    accepted: 'masses that are not all equal',
  });
  const { sample } = facing(input);
  const last = sample.ascending[sample.ascending.length - 1] as number;
  requireDomain(sample.heavyEdge === undefined || sample.heavyEdge >= last, {
    field: 'otherEdgeGrams',
    value: input.otherEdgeGrams,
    accepted: `an edge beyond the outermost piece of the other side, ${Math.abs(last)} g`,
  });
  requireDomain(sample.heavyEdge === undefined || sample.blur === 0 || !sample.known, {
    field: 'otherEdgeGrams',
    value: input.otherEdgeGrams,
    accepted: 'no other edge beside a blurred sorter and a known distribution',
  });
}

/** The normal distribution of the unsorted pieces at an edge. */
function unsortedAt(sample: CutSample, edge: number): UnsortedNormal {
  if (sample.known) return sample.known;
  const { ascending, blur } = sample;
  const fit = truncatedFit(massSummary(ascending), {
    lightEdge: edge,
    lightEdgeBlur: blur,
    ...(sample.heavyEdge === undefined ? {} : { heavyEdge: sample.heavyEdge }),
  });
  if (fit.outcome === 'no-maximum') {
    throw new DomainError({
      field: 'massesGrams',
      value: `${ascending.length} masses cut at ${Math.abs(edge)} g`,
      accepted: `masses with an interior maximum of the likelihood, or a known distribution of the unsorted masses; ${fit.reason}`,
    });
  }
  return fit;
}

function describe(input: SorterEdgeInput, output: Omit<SorterEdgeOutput, 'words'>): string {
  const level = `${Number((100 * input.confidence).toPrecision(4))} %`;
  if (output.verdict === 'not-shown') {
    return `The masses do not show that ${input.side} pieces were sorted out: at ${level} confidence there may be no edge at all.`;
  }
  const range = `${(output.edgeFromGrams as number).toPrecision(6)} g to ${(output.edgeToGrams as number).toPrecision(6)} g`;
  return `The sorter cut the ${input.side} pieces at about ${output.edgeGrams.toPrecision(6)} g, between ${range} at ${level} confidence; ${Number((100 * output.cutFraction).toPrecision(2))} % of the unsorted pieces lay beyond it.`;
}

/**
 * Where the sorter of the supplier cuts: the mass below which light blanks (above which heavy ones)
 * were taken out, with its uncertainty.
 *
 * Formula: (1) by the outermost pieces, for any distribution: estimate 2x₁ − x₂ and bound
 * x₁ − r·(xₖ − x₁), r = (1 − confidence)^(−1/(k − 1)) − 1; (2) by likelihood of a normal distribution
 * that is known or fitted anew at each edge (profile): a sharp edge is best at the outermost piece, the
 * interval reaches to where the logarithm has fallen by −ln(1 − confidence); an edge blurred with the
 * repeatability τ keeps a piece with probability Φ((x − c)/τ) and is a regular parameter with fall z²/2.
 * A cut is shown where the interval is finite on both sides.
 *
 * @param input 10 to 100000 masses in grams; repeatability 0 g or more; confidence 0.5 to 0.9999
 * @returns estimates and bounds in grams, null where the masses allow no cut; not rounded
 * @throws DomainError for equal masses, more nearest pieces than pieces, or a likelihood without
 * interior maximum
 * Validity: other side open or cut at a known mass. Exact for a sharp edge and a known distribution; large samples otherwise.
 * Coverage simulated in laws/weights-edges.
 * Source: D. S. Robson and J. H. Whitlock (1964), Biometrika 51, 33-39; M. Woodroofe (1972), Annals of
 * Mathematical Statistics 43, 113-122; S. S. Wilks (1938), Annals of Mathematical Statistics 9, 60-62
 * @example sorterEdge(sorterEdgeCalculation.example).verdict // 'cut'
 */
export function sorterEdge(input: SorterEdgeInput): SorterEdgeOutput {
  requireSample(input);
  const { sample, factor } = facing(input);
  const [first, second] = sample.ascending as [number, number];
  const interval = edgeInterval(sample, input.confidence);
  const unsorted = unsortedAt(sample, interval.estimate);
  const { mean, standardDeviation } = unsorted;
  const spread = Math.hypot(standardDeviation, sample.blur);
  const turned = (edge: number | null): number | null => (edge === null ? null : factor * edge);
  const ends = [turned(interval.lower), turned(interval.upper)];
  const isCut = interval.lower !== null && interval.upper !== null;
  const beyond = normalDistribution(first, mean, standardDeviation);
  const output = {
    extremeGrams: factor * first,
    spacingEstimateGrams: factor * (2 * first - second),
    spacingBoundGrams:
      factor * spacingBound(sample.ascending, input.nearestPieces, input.confidence),
    edgeGrams: factor * interval.estimate,
    edgeFromGrams: (factor === 1 ? ends[0] : ends[1]) ?? null,
    edgeToGrams: (factor === 1 ? ends[1] : ends[0]) ?? null,
    meanGrams: factor * mean,
    standardDeviationGrams: standardDeviation,
    cutFraction: normalDistribution(interval.estimate, mean, spread),
    emptyTailProbability: Math.exp(sample.ascending.length * Math.log1p(-beyond)),
    verdict: isCut ? ('cut' as const) : ('not-shown' as const),
  };
  return { ...output, words: describe(input, output) };
}

const curvePoints = 80;

function drawSorterEdge(input: SorterEdgeInput, output: SorterEdgeOutput): Chart[] {
  const { sample, factor } = facing(input);
  const spread = output.standardDeviationGrams;
  const best = factor * output.edgeGrams;
  const reach = Math.max(
    4 * sample.blur,
    output.edgeFromGrams !== null && output.edgeToGrams !== null
      ? 2 * (output.edgeToGrams - output.edgeFromGrams)
      : spread,
  );
  const top = edgeLogLikelihood(sample, best);
  const to = sample.blur === 0 ? best : best + reach;
  const points = Array.from({ length: curvePoints + 1 }, (_, index) => {
    const edge = best - reach + ((to - best + reach) * index) / curvePoints;
    return { x: factor * edge, y: Math.exp(edgeLogLikelihood(sample, edge) - top) };
  })
    .filter(({ y }) => Number.isFinite(y))
    .sort((left, right) => left.x - right.x);
  return [
    {
      kind: 'chart',
      title: 'Likelihood of the edge',
      xTitle: 'Edge, g',
      yTitle: 'Likelihood over its greatest',
      series: [
        {
          label: 'likelihood',
          kind: 'line',
          x: points.map(({ x }) => x),
          y: points.map(({ y }) => y),
        },
      ],
      marks: [
        { x: output.extremeGrams, label: 'outermost piece' },
        { x: output.spacingBoundGrams, label: 'bound by spacings' },
      ],
    },
  ];
}

export const sorterEdgeCalculation = defineCalculation({
  id: 'sorter-edge',
  version: 1,
  topic: 'weights',
  title: 'Where the sorter cuts',
  purpose:
    'At which mass a supplier sorted out the light or the heavy blanks, with its uncertainty: from the outermost pieces alone, and by the likelihood of a normal distribution.',
  source:
    'D. S. Robson and J. H. Whitlock (1964), Biometrika 51; M. Woodroofe (1972), Annals of Mathematical Statistics 43; S. S. Wilks (1938), Annals of Mathematical Statistics 9',
  input: sorterEdgeInput,
  output: sorterEdgeOutput,
  // Invented blanks from which all below about 31.1 g were sorted out.
  example: {
    massesGrams: [
      31.101, 31.104, 31.106, 31.109, 31.111, 31.113, 31.115, 31.118, 31.12, 31.122, 31.125, 31.128,
      31.13, 31.133, 31.136, 31.139, 31.142, 31.146, 31.15, 31.154, 31.159, 31.165, 31.172, 31.181,
      31.195, 31.121, 31.127, 31.134, 31.117, 31.144,
    ],
    side: 'light',
    unsorted: { kind: 'known', meanGrams: 31.118, standardDeviationGrams: 0.032 },
    sorterRepeatabilityGrams: 0,
    nearestPieces: 6,
    confidence: 0.95,
  },
  compute: sorterEdge,
  draw: drawSorterEdge,
});
