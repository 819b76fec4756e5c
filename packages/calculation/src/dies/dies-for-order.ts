import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { figure, riskTable } from './die-life.ts';
import { weibullMoments } from './die-life-weibull.ts';
import { lifeSource } from './die-remaining-life.ts';
import { renewalShortfalls } from './renewal-count.ts';
import { weibullData, weibullFit } from './weibull-fit.ts';

const strikes = 'a number of strikes above 0 and at most 1000000000000';
const risk = 'a risk from 0.000001 to 0.5';

export const diesForOrderInput = z.strictObject({
  life: lifeSource.meta({ title: 'Life of such dies' }),
  orderStrikes: z.number(strikes).positive(strikes).max(1e12, strikes).meta({
    title: 'Strikes ordered',
    description: 'By one position of the press; shares of an order are asked for one by one',
    unit: 'strikes',
  }),
  risk: z.number(risk).min(1e-6, risk).max(0.5, risk).meta({
    title: 'Risk of running out',
    description: 'Probability that the dies made ready do not suffice',
  }),
  presentDieStrikes: z
    .number('a number of strikes from 0 to 1000000000000')
    .min(0, 'a number of strikes from 0 to 1000000000000')
    .max(1e12, 'a number of strikes from 0 to 1000000000000')
    .optional()
    .meta({
      title: 'Strikes made by the die in the press',
      description:
        'It goes on until it fails and is not counted among the dies needed; none: no die',
      unit: 'strikes',
    }),
});

export type DiesForOrderInput = z.infer<typeof diesForOrderInput>;

const dies = (title: string, description?: string) =>
  z.number().meta({ title, unit: 'dies', ...(description === undefined ? {} : { description }) });

export const diesForOrderOutput = z.strictObject({
  scaleStrikes: z.number().meta({ title: 'Scale', unit: 'strikes' }),
  shape: z.number().meta({ title: 'Shape' }),
  meanLifeStrikes: z.number().meta({ title: 'Mean life', unit: 'strikes' }),
  expectedDies: dies('Dies needed, expected', 'Beyond the die in the press'),
  standardDeviationDies: dies('Standard deviation of their number'),
  diesToHaveReady: dies('Dies to have ready at the stated risk'),
  lowerDies: dies('Lower end', 'Fewer suffice with at most half the risk'),
  upperDies: dies('Upper end', 'More are needed with at most half the risk'),
  distribution: z
    .array(
      z.strictObject({
        dies: z.int().meta({ title: 'Dies', unit: 'dies' }),
        probability: z.number().meta({ title: 'Probability that just so many are needed' }),
        sufficeProbability: z.number().meta({ title: 'Probability that so many suffice' }),
      }),
    )
    .meta({ title: 'Distribution of the number of dies' }),
  words: z.string().meta({ title: 'In words' }),
});

export type DiesForOrderOutput = z.infer<typeof diesForOrderOutput>;

/** Fewest dies that suffice with at least the given probability. */
function fewestFor(distribution: DiesForOrderOutput['distribution'], probability: number): number {
  const found = distribution.find((row) => row.sufficeProbability >= probability);
  return (found ?? distribution.at(-1))?.dies ?? 0;
}

function orderWords(output: Omit<DiesForOrderOutput, 'words'>, input: DiesForOrderInput): string {
  const present =
    input.presentDieStrikes === undefined
      ? ''
      : `, beyond the one in the press with ${figure(input.presentDieStrikes)} strikes`;
  const source =
    input.life.from === 'lives'
      ? ' The life was fitted; its own uncertainty is not included, so few lives ask for some more.'
      : '';
  return `${figure(input.orderStrikes)} strikes need ${figure(output.expectedDies)} dies on average${present}. With ${output.diesToHaveReady} ready the order runs out of dies with a probability of at most ${figure(input.risk)}.${source}`;
}

/**
 * Number of dies that an order needs: how many on average, and how many to have ready so that they
 * run out with no more than a stated risk.
 *
 * Formula: dies fail one after the other and are replaced at once; the number needed is the least n
 * with T₁ + … + Tₙ ≥ order. P(n suffice) = 1 − P(T₁ + … + Tₙ < order) for independent Weibull lives
 * (see `renewalShortfalls`); expected number Σ P(n do not suffice), n = 0, 1, 2 …
 *
 * @param input life known or to be fitted, shape from 0.3 to 20; order above 0 and at most 200 mean
 *   lives; risk from 0.000001 to 0.5; strikes of a die in the press
 * @returns dies expected, to have ready, and their whole distribution; nothing rounded but the words
 * @throws DomainError for a shape or order outside its range or a die in the press older than all but
 *   a millionth of its like
 * Validity: every die serves until it fails, lives independent; scale and shape taken as known.
 * Probabilities within 1e-6, held against closed forms and simulation in laws/dies.
 * Source: D. R. Cox (1962), Renewal Theory, chapter 3
 * @example diesForOrder({ life: { from: 'known life', scaleStrikes: 100000, shape: 1 },
 *   orderStrikes: 500000, risk: 0.05 }).expectedDies // 6.000000
 */
export function diesForOrder(input: DiesForOrderInput): DiesForOrderOutput {
  const life =
    input.life.from === 'known life'
      ? input.life
      : weibullFit(weibullData(riskTable(input.life.lives)));
  const { scaleStrikes, shape } = life;
  const present = input.presentDieStrikes;
  const shortfalls = renewalShortfalls(
    { scaleStrikes, shape, firstAgeStrikes: present ?? 0 },
    input.orderStrikes,
  );
  // Before any die the order is not struck; the die in the press takes the first place of the sum.
  const shortOf = present === undefined ? [1, ...shortfalls] : shortfalls;
  const distribution = shortOf.map((short, index) => ({
    dies: index,
    probability: index === 0 ? 1 - short : (shortOf[index - 1] ?? 1) - short,
    sufficeProbability: 1 - short,
  }));
  const expected = shortOf.reduce((sum, short) => sum + short, 0);
  const square = shortOf.reduce((sum, short, index) => sum + (2 * index + 1) * short, 0);
  const output = {
    scaleStrikes,
    shape,
    meanLifeStrikes: weibullMoments(life).meanStrikes,
    expectedDies: expected,
    standardDeviationDies: Math.sqrt(Math.max(0, square - expected ** 2)),
    diesToHaveReady: fewestFor(distribution, 1 - input.risk),
    lowerDies: fewestFor(distribution, input.risk / 2),
    upperDies: fewestFor(distribution, 1 - input.risk / 2),
    distribution,
  };
  return { ...output, words: orderWords(output, input) };
}

function drawDiesForOrder(_input: DiesForOrderInput, output: DiesForOrderOutput): Chart[] {
  const shown = output.distribution.filter((row) => row.probability > 1e-5);
  return [
    {
      kind: 'chart',
      title: 'Dies that the order needs',
      xTitle: 'Dies',
      yTitle: 'Probability',
      series: [
        {
          label: 'needed',
          kind: 'bars',
          x: shown.map((row) => row.dies),
          y: shown.map((row) => row.probability),
        },
      ],
      marks: [{ x: output.diesToHaveReady, label: 'to have ready' }],
    },
  ];
}

export const diesForOrderCalculation = defineCalculation<DiesForOrderInput, DiesForOrderOutput>({
  id: 'dies-for-order',
  version: 1,
  topic: 'dies',
  title: 'Dies for an order',
  purpose:
    'Says how many dies an order of so many strikes needs on average, and how many to have ready at a stated risk of running out.',
  source: 'D. R. Cox (1962), Renewal Theory, chapter 3',
  input: diesForOrderInput,
  output: diesForOrderOutput,
  // Chosen figures: dies of 80 000 strikes with wear, a quarter of a million pieces.
  example: {
    life: { from: 'known life', scaleStrikes: 80_000, shape: 2.5 },
    orderStrikes: 250_000,
    risk: 0.05,
  },
  compute: diesForOrder,
  draw: drawDiesForOrder,
});
