import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { normalQuantile } from '../quantity/normal.ts';
import { probabilityText } from '../quantity/probability-text.ts';
import { dip } from './dip.ts';
import { mixtureShape } from './mixture-shape.ts';
import { oneNormalLogLikelihood } from './one-normal.ts';
import { fitTwoNormals } from './two-normals.ts';
import { twoSortings } from './two-sortings.ts';
import { uniformDips } from './uniform-dips.ts';
import {
  boundedField,
  figure,
  figureOrNull,
  grams,
  massesField,
  seedField,
  words,
} from './weight-fields.ts';

const wholeBetween = (least: number, greatest: number) =>
  `a whole number from ${least} to ${greatest}`;
const wholeField = (least: number, greatest: number, title: string, description: string) =>
  z
    .int(wholeBetween(least, greatest))
    .min(least, wholeBetween(least, greatest))
    .max(greatest, wholeBetween(least, greatest))
    .meta({ title, description });

/** Larger samples are compared with uniform ones of this size, the dips times the root of the count. */
const largestSimulated = 5000;
/** Pieces times repetitions of the bootstrap, so that it ends in reasonable time. */
const largestBootstrap = 400_000;

export const secondModeInput = z.strictObject({
  massesGrams: massesField(20, 200_000, 'Masses of single pieces, in any order'),
  dipSamples: wholeField(
    100,
    100_000,
    'Simulated samples',
    'Uniform samples behind the probability of the dip; 2000 give it to about 0.01',
  ),
  heapsTest: z.discriminatedUnion(
    'kind',
    [
      z.strictObject({
        kind: z.literal('none').meta({ title: 'Test of two normal heaps: not made' }),
      }),
      z.strictObject({
        kind: z.literal('bootstrap').meta({
          title: 'Test of two normal heaps against one: by likelihood ratio and simulation',
        }),
        samples: wholeField(19, 2000, 'Simulated samples', 'Of one normal heap; 199 is usual'),
        standardDeviations: z
          .enum(['free', 'equal'], 'free or equal')
          .meta({ title: 'Standard deviations of the two heaps' }),
      }),
    ],
    'a test of kind none, or bootstrap with samples and standard deviations',
  ),
  seed: seedField(),
  level: boundedField(
    { least: 0.0005, greatest: 0.2, accepted: 'a level from 0.0005 to 0.2' },
    { title: 'Level', description: 'Probability below which one mode is given up; usually 0.05' },
  ),
});

export type SecondModeInput = z.infer<typeof secondModeInput>;

export const secondModeOutput = z.strictObject({
  countPieces: z.int().meta({ title: 'Pieces weighed', unit: 'pieces' }),
  dip: z.number().meta({
    title: 'Dip',
    description: 'Distance of the cumulative share from the nearest one with a single mode',
  }),
  dipProbability: figure('Probability of so large a dip with one mode'),
  dipProbabilityStandardError: figure('Standard error of that probability, from the simulation'),
  modeFromGrams: grams('Mode of the nearest single-mode distribution, from'),
  modeToGrams: grams('to'),
  heapsLikelihoodRatio: figureOrNull('Twice the gain in log likelihood of two heaps over one'),
  heapsProbability: figureOrNull('Probability of so large a gain with one normal heap'),
  heapsProbabilityStandardError: figureOrNull('Standard error of that probability'),
  ashmanSeparation: figureOrNull('Separation of the two fitted heaps after Ashman'),
  bimodalSeparation: figureOrNull('Their distance over twice the sum of their deviations'),
  fittedModes: z.int().nullable().meta({ title: 'Modes of the two fitted heaps together' }),
  verdict: z
    .enum(['two-modes', 'two-heaps-one-mode', 'one-mode'])
    .meta({ title: 'What the masses show at this level' }),
  words: words(),
});

export type SecondModeOutput = z.infer<typeof secondModeOutput>;

/** Probability with the observed sample counted among the simulated ones, and its standard error. */
function simulatedProbability(atLeast: number, samples: number) {
  const probability = (atLeast + 1) / (samples + 1);
  return {
    probability,
    standardError: Math.sqrt((probability * (1 - probability)) / samples),
  };
}

function dipTest(input: SecondModeInput) {
  const count = input.massesGrams.length;
  const found = dip(input.massesGrams);
  const simulated = Math.min(count, largestSimulated);
  const limit = found.dip * Math.sqrt(count / simulated) - 1e-12;
  const dips = uniformDips(simulated, input.dipSamples, input.seed);
  let below = 0;
  while (below < dips.length && (dips[below] as number) < limit) below += 1;
  return { found, ...simulatedProbability(dips.length - below, dips.length) };
}

/** Twice the gain of two heaps over one; 0 where no proper second heap can be fitted. */
function likelihoodRatio(masses: readonly number[], isEqual: boolean): number {
  const fit = fitTwoNormals(masses, isEqual);
  return fit ? Math.max(0, 2 * (fit.logLikelihood - oneNormalLogLikelihood(masses))) : 0;
}

function heapsTest(input: SecondModeInput) {
  const { heapsTest: test, massesGrams } = input;
  if (test.kind === 'none') return null;
  const count = massesGrams.length;
  requireDomain(count * test.samples <= largestBootstrap, {
    field: 'heapsTest.samples',
    value: test.samples,
    accepted: `at most ${Math.floor(largestBootstrap / count)} samples for ${count} masses`,
  });
  const isEqual = test.standardDeviations === 'equal';
  const fit = fitTwoNormals(massesGrams, isEqual);
  const ratio = likelihoodRatio(massesGrams, isEqual);
  const generator = xoroshiro128plus(input.seed);
  let atLeast = 0;
  for (let sample = 0; sample < test.samples; sample += 1) {
    // Mean and deviation of the one heap do not matter: the ratio has no unit.
    const drawn = Array.from({ length: count }, () =>
      normalQuantile(uniformFloat64(generator) || Number.MIN_VALUE),
    );
    if (likelihoodRatio(drawn, isEqual) >= ratio) atLeast += 1;
  }
  return {
    ratio,
    shape: fit ? mixtureShape(fit) : null,
    ...simulatedProbability(atLeast, test.samples),
  };
}

function describe(output: Omit<SecondModeOutput, 'words'>): string {
  const dipped = `Dip ${output.dip.toPrecision(3)}, probability with one mode ${probabilityText(output.dipProbability)}.`;
  const heaps =
    output.heapsProbability === null
      ? ''
      : ` Two normal heaps instead of one: probability of such a gain by chance ${probabilityText(output.heapsProbability)}.`;
  const verdict = {
    'two-modes': 'The masses show a second mode: the lot is mixed. Part it before judging it.',
    'two-heaps-one-mode':
      'The masses are not one normal heap, but show no second mode: a skewed process, strays, or two heaps close together.',
    'one-mode': 'Nothing speaks for a second mode.',
  }[output.verdict];
  return `${dipped}${heaps} ${verdict}`;
}

/**
 * Whether a lot holds a second heap of masses: the dip test, for any shape of one mode, and on request
 * the likelihood ratio of two normal heaps against one.
 *
 * Formula: dip see `dip`; its probability is the share, the sample itself counted in, of simulated uniform
 * samples of the same size that dip at least as much; above 5000 pieces samples of 5000 are compared by
 * √n·dip. Likelihood ratio 2·(ℓ₂ − ℓ₁), its probability in the same way among samples of one normal heap
 * (parametric bootstrap), since the ratio has no chi-square distribution here. Second mode: probability
 * of the dip below the level.
 *
 * @param input 20 to 200000 masses in grams; 100 to 100000 simulated samples; seed; level
 * @returns statistics, probabilities with the standard errors of the simulation, verdict; not rounded
 * @throws DomainError for a bootstrap of more than 400000 values in all
 * Validity: the dip test is on the safe side for shapes other than uniform. Rounded readings make the dip
 * larger where the division is coarse. Probabilities to the stated standard error; the same seed gives
 * the same result. Shown in reference/dip and laws/weights-shapes.
 * Source: J. A. Hartigan and P. M. Hartigan (1985), Annals of Statistics 13, 70-84; G. J. McLachlan (1987),
 * Applied Statistics 36, 318-324; K. M. Ashman, C. M. Bird and S. E. Zepf (1994), Astronomical Journal 108
 * @example secondMode(secondModeCalculation.example).verdict // 'two-modes'
 */
export function secondMode(input: SecondModeInput): SecondModeOutput {
  requireDomain(
    input.massesGrams.some((mass) => mass !== input.massesGrams[0]),
    { field: 'massesGrams', value: 'equal masses', accepted: 'masses that are not all equal' },
  );
  const dipped = dipTest(input);
  const heaps = heapsTest(input);
  const isTwoModes = dipped.probability < input.level;
  const isTwoHeaps = heaps !== null && heaps.probability < input.level;
  const output = {
    countPieces: input.massesGrams.length,
    dip: dipped.found.dip,
    dipProbability: dipped.probability,
    dipProbabilityStandardError: dipped.standardError,
    modeFromGrams: dipped.found.modeFrom,
    modeToGrams: dipped.found.modeTo,
    heapsLikelihoodRatio: heaps?.ratio ?? null,
    heapsProbability: heaps?.probability ?? null,
    heapsProbabilityStandardError: heaps?.standardError ?? null,
    ashmanSeparation: heaps?.shape?.ashmanSeparation ?? null,
    bimodalSeparation: heaps?.shape?.bimodalSeparation ?? null,
    fittedModes: heaps?.shape?.modes.length ?? null,
    verdict: isTwoModes
      ? ('two-modes' as const)
      : isTwoHeaps
        ? ('two-heaps-one-mode' as const)
        : ('one-mode' as const),
  };
  return { ...output, words: describe(output) };
}

const drawnSteps = 400;

function drawSecondMode(input: SecondModeInput, output: SecondModeOutput): Chart[] {
  const ascending = [...input.massesGrams].sort((a, b) => a - b);
  const step = Math.max(1, Math.floor(ascending.length / drawnSteps));
  const kept = ascending
    .map((mass, index) => ({ mass, index }))
    .filter(({ index }) => index % step === 0);
  const share = kept.map(({ index }) => (index + 1) / ascending.length);
  return [
    {
      kind: 'chart',
      title: 'Cumulative share with the width of the dip',
      xTitle: 'Mass, g',
      yTitle: 'Share at or below',
      series: [
        {
          label: 'share',
          kind: 'steps',
          x: kept.map(({ mass }) => mass),
          y: share,
          lower: share.map((value) => value - output.dip),
          upper: share.map((value) => value + output.dip),
        },
      ],
      marks: [
        { x: output.modeFromGrams, label: 'mode from' },
        { x: output.modeToGrams, label: 'mode to' },
      ],
    },
  ];
}

export const secondModeCalculation = defineCalculation({
  id: 'second-mode',
  version: 1,
  topic: 'weights',
  title: 'Second heap of masses',
  purpose:
    'Whether the masses of a lot show a second mode, so that two sortings or two machines were mixed: dip test, and likelihood ratio of two heaps against one.',
  source:
    'J. A. Hartigan and P. M. Hartigan (1985), Annals of Statistics 13; G. J. McLachlan (1987), Applied Statistics 36, parametric bootstrap; K. M. Ashman, C. M. Bird and S. E. Zepf (1994), Astronomical Journal 108',
  input: secondModeInput,
  output: secondModeOutput,
  example: {
    massesGrams: twoSortings,
    dipSamples: 2000,
    heapsTest: { kind: 'bootstrap', samples: 99, standardDeviations: 'equal' },
    seed: 1985,
    level: 0.05,
  },
  compute: secondMode,
  draw: drawSecondMode,
});
