import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { probabilityPercentText } from '../quantity/probability-text.ts';
import { type FaultModel, faultModelInput, requireFaultModel } from './fault-model.ts';
import { latticePosterior } from './lattice-posterior.ts';
import { withoutSightings, withSightings } from './sightings.ts';
import { type Story, story, tellStories } from './stories.ts';

export const faultPosteriorOutput = z.strictObject({
  noFaultProbability: z.number().meta({
    title: 'Probability that nothing is wrong',
    description: '0 where a residual is left',
  }),
  evidenceLogarithm: z.number().nullable().meta({
    title: 'Weight of all explanations together, logarithm',
    description: 'Against no fault at all; nothing where no explanation exists',
  }),
  leftOutProbability: z.number().nullable().meta({
    title: 'Left out, at most',
    description:
      'What the partial sums that were dropped can weigh, against all explanations; every probability is true to this',
  }),
  faults: z
    .array(
      z.strictObject({
        name: z.string().meta({ title: 'What is wrong' }),
        value: z.int().meta({ title: 'Size of the fault' }),
        probability: z.number().meta({ title: 'Probability' }),
      }),
    )
    .meta({ title: 'Faults by probability' }),
  stories: z.array(story).meta({ title: 'Most probable explanations' }),
  storiesProbability: z.number().meta({ title: 'Probability of the explanations shown, together' }),
  words: z.string().meta({ title: 'In words' }),
});

export type FaultPosteriorOutput = z.infer<typeof faultPosteriorOutput>;

/** Faults less probable than this are not listed. */
const leastShownProbability = 1e-12;

const percent = (probability: number): string => probabilityPercentText(probability, 1);

function inWords(output: Omit<FaultPosteriorOutput, 'words'>): string {
  const [best] = output.stories;
  if (!best) {
    return output.noFaultProbability > 0
      ? `Nothing is wrong with probability ${percent(output.noFaultProbability)}.`
      : 'None of the named faults explains the residuals: unexplained.';
  }
  const nothing =
    output.noFaultProbability > 0
      ? ` Nothing is wrong with probability ${percent(output.noFaultProbability)}.`
      : '';
  return `Most probable, ${percent(best.probability)}: ${best.words}.${nothing}`;
}

/**
 * What is wrong when pieces are missing or too many: the exact probability of every fault, over
 * all sets of faults of any size that explain the residuals of every custody cell.
 *
 * Formula: every fault adds its signature to the residual vector and has a weight (prior odds times
 * likelihood ratio of the weighings). P(variable k = x | R) is the sum of the products of weights
 * over all combinations with k = x whose signatures add up to R, divided by the sum over all
 * combinations; both by convolution forwards and backwards on the lattice of residuals. Variables on the same
 * lines of the lattice are convolved first among themselves, a residual is closed as soon as nothing that is left
 * touches it, and faults of more than 4 pieces come in as sets that leave what smaller ones can explain. A look
 * that found something weighs a set S of faults by 1 − (1 − f) ∏(1 − q) over the faults of S that it can show
 * (q the chance to see each, f that of a false sighting): it saw at least one of them, or what was not there.
 * Looks in vain leave of a weight (1 − q) and are to be in the weights given.
 *
 * @param input residuals in pieces (1 to 40 cells); variables, each with its options: size, weight from
 * 0, signature with one whole number for each residual; looks that found something, up to 6 of one fault
 * @returns probability of every option, of no fault, the most probable sets as stories, and what was left out
 * at most
 * @throws DomainError for a signature of another length, a name that stands twice or a look that shows no option
 * Validity: exact for independent faults up to `leftOutProbability`, the sum of all partial sums that were
 * dropped, each with everything that could have been added to it. Where faults of more than 4 pieces have over
 * 50 000 combinations, sets of more than two of them are given up, of more than three where two explain less
 * than 1e-11. A look counts as having seen up to 4 faults at once. Residuals that no combination explains give no story and evidence `null`.
 * Source: sum-product on a linear syndrome, F. Kschischang, B. Frey, H.-A. Loeliger (2001), IEEE
 * Transactions on Information Theory 47, 498-519; compared with enumeration
 * @example faultPosterior({ residual: [1], variables: [{ name: 'a', options: [{ value: 1, weight: 0.003,
 *   signature: [1] }] }, { name: 'b', options: [{ value: 1, weight: 0.001, signature: [1] }] }]
 *   }).faults[0].probability // 0.75
 */
export function faultPosterior(input: FaultModel): FaultPosteriorOutput {
  requireFaultModel(input);
  const posterior = latticePosterior(withSightings(input));
  if (!posterior) return unexplained();
  const { logTotal, logLeftOut } = posterior;
  const faults = withoutSightings(input, posterior.faults)
    .filter(({ probability }) => probability >= leastShownProbability)
    .sort((a, b) => b.probability - a.probability);
  const isBalanced = input.residual.every((value) => value === 0);
  const stories = tellStories(input, faults, logTotal);
  const output = {
    // A sum of rounded parts can exceed 1 by its last digits.
    noFaultProbability: isBalanced ? Math.min(1, Math.exp(-logTotal)) : 0,
    evidenceLogarithm: logTotal,
    leftOutProbability: Math.exp(logLeftOut - logTotal),
    faults,
    stories,
    storiesProbability: Math.min(
      1,
      stories.reduce((sum: number, { probability }: Story) => sum + probability, 0),
    ),
  };
  return { ...output, words: inWords(output) };
}

function unexplained(): FaultPosteriorOutput {
  const output = {
    noFaultProbability: 0,
    evidenceLogarithm: null,
    leftOutProbability: null,
    faults: [],
    stories: [],
    storiesProbability: 0,
  };
  return { ...output, words: inWords(output) };
}

/** So many faults are drawn. */
const drawnFaults = 8;

function drawFaultPosterior(_: FaultModel, output: FaultPosteriorOutput): Chart[] {
  const shown = output.faults.slice(0, drawnFaults);
  if (shown.length === 0) return [];
  return [
    {
      kind: 'chart',
      title: 'Where the fault lies',
      xTitle: 'Fault',
      yTitle: 'Probability',
      series: [
        {
          label: 'probability',
          kind: 'bars',
          x: shown.map((_fault, at) => at + 1),
          y: shown.map(({ probability }) => probability),
        },
      ],
      xNames: shown.map(({ name, value }, at) => ({
        x: at + 1,
        name: `${name} ${value > 0 ? '+' : ''}${value}`,
      })),
    },
  ];
}

const exampleChain = {
  residual: [0, 0, 1],
  variables: [
    {
      name: 'bin 3 of press B',
      options: [{ value: -1, weight: 32.53481808, signature: [0, 1, 0] }],
    },
    {
      name: 'counter of press B',
      options: [
        { value: -1, weight: 0.001001001001, signature: [0, 1, -1] },
        { value: 1, weight: 0.002004008016, signature: [0, -1, 1] },
      ],
    },
    {
      name: 'rejects of press A',
      options: [{ value: -1, weight: 0.003009027081, signature: [0, 0, 1] }],
    },
    {
      name: 'laboratory sample',
      options: [{ value: -1, weight: 0.002004008016, signature: [0, 0, 1] }],
    },
    {
      name: 'left the put-up bench',
      options: [{ value: 1, weight: 0.001001001001, signature: [0, 0, 1] }],
    },
  ],
};

export const faultPosteriorCalculation = defineCalculation({
  id: 'fault-posterior',
  version: 3,
  topic: 'account',
  title: 'Search for a missing piece: what is wrong',
  purpose:
    'The probability of every fault that could explain what is missing or too many, over all sets of faults at once, with the weighings and what looks found as evidence.',
  source:
    'exact sum-product on the residual lattice, Kschischang, Frey and Loeliger (2001), IEEE Trans. Inf. Theory 47, 498-519; rates of faults are the plant’s own',
  input: faultModelInput,
  output: faultPosteriorOutput,
  example: exampleChain,
  compute: faultPosterior,
  draw: drawFaultPosterior,
});
