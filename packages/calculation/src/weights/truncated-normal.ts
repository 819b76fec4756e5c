import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { DomainError, requireDomain } from '../quantity/domain.ts';
import { normalDensity, normalDistribution } from '../quantity/normal.ts';
import { histogram } from './histogram.ts';
import { massSummary } from './mass-summary.ts';
import { type SorterWindow, type TruncatedFit, truncatedFit } from './truncated-fit.ts';
import { figure, grams, gramsOrNull, massesField, massField, words } from './weight-fields.ts';

const edgeField = (title: string) =>
  z.discriminatedUnion(
    'kind',
    [
      z.strictObject({ kind: z.literal('none').meta({ title: `${title}: nothing was cut` }) }),
      z.strictObject({
        kind: z.literal('known').meta({ title: `${title}: cut at a known mass` }),
        massGrams: massField(title, 'Mass at which the sorter cuts'),
      }),
      z.strictObject({
        kind: z.literal('unknown').meta({ title: `${title}: cut at an unknown mass` }),
      }),
    ],
    'an edge of kind none, known with its mass, or unknown',
  );

export const truncatedNormalInput = z.strictObject({
  massesGrams: massesField(5, 1_000_000, 'Masses of single sorted pieces, in any order'),
  lightEdge: edgeField('Light edge'),
  heavyEdge: edgeField('Heavy edge'),
});

export type TruncatedNormalInput = z.infer<typeof truncatedNormalInput>;

export const truncatedNormalOutput = z.strictObject({
  countPieces: z.int().meta({ title: 'Pieces weighed', unit: 'pieces' }),
  lightEdgeGrams: gramsOrNull('Light edge used', 'The lightest piece where the edge is unknown'),
  heavyEdgeGrams: gramsOrNull('Heavy edge used', 'The heaviest piece where the edge is unknown'),
  meanGrams: grams('Mean of the unsorted pieces'),
  meanStandardErrorGrams: grams('Standard error of the mean'),
  standardDeviationGrams: grams('Standard deviation of the unsorted pieces'),
  standardDeviationStandardErrorGrams: grams('Standard error of the standard deviation'),
  correlation: figure('Correlation of the two estimates'),
  cutLightFraction: figure('Share of the unsorted pieces that lay below the light edge'),
  cutLightFractionStandardError: figure('Standard error of that share'),
  cutHeavyFraction: figure('Share of the unsorted pieces that lay above the heavy edge'),
  cutHeavyFractionStandardError: figure('Standard error of that share'),
  logLikelihood: figure('Logarithm of the likelihood'),
  plainMeanGrams: grams('Mean by the plain normal distribution'),
  plainStandardDeviationGrams: grams('Standard deviation by the plain normal distribution'),
  plainLogLikelihood: figure('Logarithm of the likelihood of the plain normal distribution'),
  informationGain: z.number().meta({
    title: 'Akaike information gained over the plain normal distribution',
    description: 'Twice the gain in log likelihood, less 2 for every edge taken from the masses',
  }),
  greatestDistance: figure('Greatest distance between fitted and found cumulative share'),
  plainGreatestDistance: figure('The same for the plain normal distribution'),
  better: z
    .enum(['truncated', 'plain'])
    .meta({ title: 'Which describes these masses better by that measure' }),
  words: words(),
});

export type TruncatedNormalOutput = z.infer<typeof truncatedNormalOutput>;

type Edge = TruncatedNormalInput['lightEdge'];

function edgeMass(edge: Edge, extreme: number, side: 'light' | 'heavy'): number | undefined {
  if (edge.kind === 'none') return undefined;
  if (edge.kind === 'unknown') return extreme;
  const isOutside = side === 'light' ? edge.massGrams <= extreme : edge.massGrams >= extreme;
  requireDomain(isOutside, {
    field: `${side}Edge.massGrams`,
    value: edge.massGrams,
    accepted:
      side === 'light'
        ? `a mass up to that of the lightest piece, ${extreme} g`
        : `a mass from that of the heaviest piece, ${extreme} g`,
  });
  return edge.massGrams;
}

/** Share of the normal distribution beyond an edge with its standard error by the delta method. */
function shareBeyond(
  fit: TruncatedFit & { outcome: 'interior' },
  edge: number | undefined,
  side: 1 | -1,
): { share: number; standardError: number } {
  if (edge === undefined) return { share: 0, standardError: 0 };
  const { mean, standardDeviation: deviation } = fit;
  const z = (edge - mean) / deviation;
  const density = normalDensity(z, 0, 1) / deviation;
  const square = fit.meanVariance + 2 * z * fit.covariance + z ** 2 * fit.standardDeviationVariance;
  return {
    share: normalDistribution(side * z, 0, 1),
    standardError: density * Math.sqrt(Math.max(0, square)),
  };
}

/** Greatest distance between the cumulative share found and a distribution (Kolmogorov). */
function greatestDistance(ascending: readonly number[], share: (value: number) => number): number {
  let greatest = 0;
  for (const [index, value] of ascending.entries()) {
    const fitted = share(value);
    greatest = Math.max(
      greatest,
      Math.abs(fitted - index / ascending.length),
      Math.abs(fitted - (index + 1) / ascending.length),
    );
  }
  return greatest;
}

function distances(
  ascending: readonly number[],
  fit: { mean: number; standardDeviation: number },
  window: SorterWindow,
): number {
  const below = (value: number): number =>
    normalDistribution(value, fit.mean, fit.standardDeviation);
  const least = window.lightEdge === undefined ? 0 : below(window.lightEdge);
  const most = window.heavyEdge === undefined ? 1 : below(window.heavyEdge);
  return greatestDistance(ascending, (value) => (below(value) - least) / (most - least));
}

function describe(output: Omit<TruncatedNormalOutput, 'words'>): string {
  const percent = (share: number): string => `${Number((100 * share).toPrecision(2))} %`;
  const cuts = [
    output.lightEdgeGrams === null ? [] : [`${percent(output.cutLightFraction)} too light`],
    output.heavyEdgeGrams === null ? [] : [`${percent(output.cutHeavyFraction)} too heavy`],
  ].flat();
  const told =
    output.better === 'truncated'
      ? 'The cut distribution describes the masses better than a plain normal one.'
      : 'The plain normal distribution describes the masses no worse: the cut is not shown by them.';
  const mean = output.meanGrams.toPrecision(6);
  return `Before sorting: mean ${mean} g (standard error ${output.meanStandardErrorGrams.toPrecision(2)} g), standard deviation ${output.standardDeviationGrams.toPrecision(3)} g (${output.standardDeviationStandardErrorGrams.toPrecision(2)} g).${cuts.length > 0 ? ` Sorted out: ${cuts.join(', ')}.` : ''} ${told}`;
}

/**
 * The blanks before they were sorted: mean and spread of the normal distribution from which a sorter
 * cut the light pieces, the heavy ones or both, and how many it cut.
 *
 * Formula: maximum likelihood for the normal distribution between the edges, see `truncatedFit`. An
 * unknown edge is estimated by the lightest (heaviest) piece, its maximum-likelihood estimate, whose
 * error falls with 1/n and does not add to the standard errors of first order; `sorter-edge` gives its
 * uncertainty. Cut shares Φ of the edges. Information gain 2·(ℓ − ℓ plain) − 2·(unknown edges).
 *
 * @param input 5 to 1000000 masses in grams above 0, not all equal; edges none, known or unknown
 * @returns estimates in grams with standard errors, shares in [0, 1], comparison; not rounded
 * @throws DomainError for a known edge inside the masses, for equal masses, and where the
 * likelihood has no interior maximum, with the reason
 * Validity: one normal process, sharp edges, division small against the spread; large-sample standard
 * errors. Held against scipy in reference/generated/weights and by simulated coverage in laws/weights-edges.
 * Source: A. C. Cohen (1950), Annals of Mathematical Statistics 21, 557-569; J. del Castillo (1994),
 * Annals of the Institute of Statistical Mathematics 46, 57-66; H. Akaike (1974), IEEE Transactions on
 * Automatic Control 19, 716-723
 * @example truncatedNormal({ massesGrams: [7.4, 7.5, 7.5, 7.5, 7.6],
 *   lightEdge: { kind: 'none' }, heavyEdge: { kind: 'none' } }).meanGrams // 7.5
 */
export function truncatedNormal(input: TruncatedNormalInput): TruncatedNormalOutput {
  const ascending = Float64Array.from(input.massesGrams).sort();
  const masses = Array.from(ascending);
  const count = masses.length;
  const window = windowOf(input, masses);
  const summary = massSummary(ascending);
  const { mean, variance } = summary;
  requireDomain(masses[0] !== masses[count - 1], {
    field: 'massesGrams',
    value: 'equal masses',
    accepted: 'masses that are not all equal',
  });
  const fit = truncatedFit(summary, window);
  if (fit.outcome === 'no-maximum') {
    throw new DomainError({
      field: 'massesGrams',
      value: `${count} masses between these edges`,
      accepted: `masses with an interior maximum of the likelihood; ${fit.reason}`,
    });
  }
  const plain = truncatedFit(summary, {}) as TruncatedFit & {
    outcome: 'interior';
  };
  const light = shareBeyond(fit, window.lightEdge, 1);
  const heavy = shareBeyond(fit, window.heavyEdge, -1);
  const estimatedEdges = [input.lightEdge, input.heavyEdge].filter(
    (edge) => edge.kind === 'unknown',
  ).length;
  const informationGain = 2 * (fit.logLikelihood - plain.logLikelihood) - 2 * estimatedEdges;
  const output = {
    countPieces: count,
    lightEdgeGrams: window.lightEdge ?? null,
    heavyEdgeGrams: window.heavyEdge ?? null,
    meanGrams: fit.mean,
    meanStandardErrorGrams: Math.sqrt(fit.meanVariance),
    standardDeviationGrams: fit.standardDeviation,
    standardDeviationStandardErrorGrams: Math.sqrt(fit.standardDeviationVariance),
    correlation: fit.covariance / Math.sqrt(fit.meanVariance * fit.standardDeviationVariance),
    cutLightFraction: light.share,
    cutLightFractionStandardError: light.standardError,
    cutHeavyFraction: heavy.share,
    cutHeavyFractionStandardError: heavy.standardError,
    logLikelihood: fit.logLikelihood,
    plainMeanGrams: mean,
    plainStandardDeviationGrams: Math.sqrt(variance),
    plainLogLikelihood: plain.logLikelihood,
    informationGain,
    greatestDistance: distances(masses, fit, window),
    plainGreatestDistance: distances(masses, plain, {}),
    better: informationGain > 0 ? ('truncated' as const) : ('plain' as const),
  };
  return { ...output, words: describe(output) };
}

function windowOf(input: TruncatedNormalInput, ascending: readonly number[]): SorterWindow {
  const lightEdge = edgeMass(input.lightEdge, ascending[0] as number, 'light');
  const heavyEdge = edgeMass(input.heavyEdge, ascending[ascending.length - 1] as number, 'heavy');
  return {
    ...(lightEdge === undefined ? {} : { lightEdge }),
    ...(heavyEdge === undefined ? {} : { heavyEdge }),
  };
}

const curvePoints = 120;

function drawTruncatedNormal(input: TruncatedNormalInput, output: TruncatedNormalOutput): Chart[] {
  const bars = histogram(input.massesGrams);
  const scale = input.massesGrams.length * (bars.width || 1);
  const { meanGrams: mean, standardDeviationGrams: deviation } = output;
  const kept = 1 - output.cutLightFraction - output.cutHeavyFraction;
  const from = Math.min(mean - 3 * deviation, bars.centres[0] as number);
  const to = Math.max(mean + 3 * deviation, bars.centres[bars.centres.length - 1] as number);
  const x = Array.from(
    { length: curvePoints + 1 },
    (_, i) => from + ((to - from) * i) / curvePoints,
  );
  const curve = (m: number, s: number, factor: number) =>
    x.map((value) => scale * factor * normalDensity(value, m, s));
  const marks = [
    { x: output.lightEdgeGrams, label: 'light edge' },
    { x: output.heavyEdgeGrams, label: 'heavy edge' },
  ].flatMap((mark) => (mark.x === null ? [] : [{ x: mark.x, label: mark.label }]));
  return [
    {
      kind: 'chart',
      title: 'Masses, and the distribution before sorting',
      xTitle: 'Mass, g',
      yTitle: 'Pieces',
      series: [
        { label: 'pieces', kind: 'bars', x: bars.centres, y: bars.counts },
        { label: 'before', kind: 'line', x, y: curve(mean, deviation, 1 / kept) },
        {
          label: 'plain',
          kind: 'line',
          x,
          y: curve(output.plainMeanGrams, output.plainStandardDeviationGrams, 1),
        },
      ],
      marks,
    },
  ];
}

export const truncatedNormalCalculation = defineCalculation({
  id: 'truncated-normal',
  version: 1,
  topic: 'weights',
  title: 'Blanks before they were sorted',
  purpose:
    'Mean and spread of the masses before a sorter cut the light or heavy pieces, and how many it cut; compared with a plain normal distribution.',
  source:
    'A. C. Cohen (1950), Annals of Mathematical Statistics 21; J. del Castillo (1994), Annals of the Institute of Statistical Mathematics 46, existence of the maximum; H. Akaike (1974), IEEE Transactions on Automatic Control 19',
  input: truncatedNormalInput,
  output: truncatedNormalOutput,
  // Invented blanks from which all below 31.1 g were sorted out.
  example: {
    massesGrams: [
      31.101, 31.104, 31.106, 31.109, 31.111, 31.113, 31.115, 31.118, 31.12, 31.122, 31.125, 31.128,
      31.13, 31.133, 31.136, 31.139, 31.142, 31.146, 31.15, 31.154, 31.159, 31.165, 31.172, 31.181,
      31.195, 31.121, 31.127, 31.134, 31.117, 31.144,
    ],
    lightEdge: { kind: 'known', massGrams: 31.1 },
    heavyEdge: { kind: 'none' },
  },
  compute: truncatedNormal,
  draw: drawTruncatedNormal,
});
