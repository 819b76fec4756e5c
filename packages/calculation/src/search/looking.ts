import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { probabilityPercentText } from '../quantity/probability-text.ts';

const probability = (accepted: string) => z.number(accepted).min(0, accepted).max(1, accepted);

export const lookingPlace = z.strictObject({
  name: z.string().min(1, 'a name').max(200).meta({ title: 'Place' }),
  probability: probability('a probability from 0 to 1').meta({
    title: 'Probability that it is there',
  }),
  seenIfThere: z
    .number('a probability above 0 and up to 1')
    .gt(0, 'a probability above 0 and up to 1')
    .max(1, 'a probability above 0 and up to 1')
    .meta({ title: 'Chance to see it there in one look' }),
  minutes: z
    .number('minutes above 0')
    .gt(0, 'minutes above 0')
    .max(100_000, 'at most 100000 minutes')
    .meta({ title: 'One look takes', unit: 'min' }),
});

export const searchOrderInput = z.strictObject({
  places: z
    .array(lookingPlace)
    .min(1, '1 to 500 places')
    .max(500, '1 to 500 places')
    .meta({ title: 'Places to look' }),
  looks: z
    .int('a whole number of looks from 0 to 1000')
    .min(0, 'a whole number of looks from 0 to 1000')
    .max(1000, 'a whole number of looks from 0 to 1000')
    .meta({
      title: 'Looks in all',
      description: '0 looks at each place once; more looks may come back to a place',
    }),
});

export type LookingPlace = z.infer<typeof lookingPlace>;
export type SearchOrderInput = z.infer<typeof searchOrderInput>;

export const searchOrderOutput = z.strictObject({
  order: z
    .array(
      z.strictObject({
        name: z.string().meta({ title: 'Place' }),
        foundHereProbability: z.number().meta({ title: 'Found by this look' }),
        foundPerMinute: z.number().meta({ title: 'Found per minute', unit: '1/min' }),
        minutesSoFar: z.number().meta({ title: 'Minutes up to its end', unit: 'min' }),
        foundSoFarProbability: z.number().meta({ title: 'Found up to its end' }),
      }),
    )
    .meta({ title: 'Looks in their order' }),
  expectedMinutes: z.number().meta({ title: 'Expected minutes of looking', unit: 'min' }),
  expectedMinutesAsListed: z.number().meta({
    title: 'Expected minutes in the order listed',
    description: 'Each place once, in the order in which the places were given',
    unit: 'min',
  }),
  foundProbability: z.number().meta({ title: 'Probability that it is found' }),
  words: z.string().meta({ title: 'In words' }),
});

export type SearchOrderOutput = z.infer<typeof searchOrderOutput>;

interface Look {
  readonly place: LookingPlace;
  readonly found: number;
}

/** Looks at places in turn, until found: expected minutes and the chance to find it at all. */
function course(looks: readonly Look[]): { readonly minutes: number; readonly found: number } {
  let minutes = 0;
  let found = 0;
  for (const look of looks) {
    minutes += look.place.minutes * (1 - found);
    found += look.found;
  }
  return { minutes, found };
}

const oneLook = (place: LookingPlace): Look => ({
  place,
  found: place.probability * place.seenIfThere,
});

const perMinute = ({ place, found }: Look): number => found / place.minutes;

/** Looks one after another where most is found per minute, each place as often as it pays. */
function repeatedLooks(places: readonly LookingPlace[], count: number): readonly Look[] {
  const next = places.map(oneLook);
  return Array.from({ length: count }, () => {
    const at = next.reduce(
      (best, look, index) => (perMinute(look) > perMinute(next[best] as Look) ? index : best),
      0,
    );
    const look = next[at] as Look;
    next[at] = { place: look.place, found: look.found * (1 - look.place.seenIfThere) };
    return look;
  });
}

/**
 * Where to look first for what is missing, so that it is found in the fewest minutes.
 *
 * Formula: a look at a place with probability p, chance q to see it there and c minutes finds p·q; the
 * expected minutes Σ cᵢ (1 − Σ before p·q) are least when looks are ordered by p·q/c falling. Where places
 * may be looked at again, the next look goes where p·q·(1 − q)ᵐ/c is greatest, m looks so far.
 *
 * @param input places with probability in [0, 1], chance in (0, 1], minutes above 0; looks 0 to 1000, 0 for
 * each place once; the probabilities may sum to less than 1, not to more
 * @returns the looks with what each finds and the minutes, expected minutes and the order as listed
 * @throws DomainError for probabilities that sum to more than 1
 * Validity: one thing at one place; looks find it independently of one another.
 * Source: D. Blackwell, quoted by M. Chew (1967), Annals of Mathematical Statistics 38, 494-502; exchange
 * argument, checked over all orders
 * @example searchOrder({ looks: 0, places: [
 *   { name: 'floor', probability: 0.2, seenIfThere: 0.8, minutes: 20 },
 *   { name: 'rejects', probability: 0.25, seenIfThere: 0.99, minutes: 3 }] }).order[0].name // 'rejects'
 */
export function searchOrder(input: SearchOrderInput): SearchOrderOutput {
  const total = input.places.reduce((sum, place) => sum + place.probability, 0);
  requireDomain(total <= 1 + 1e-9, {
    field: 'places',
    value: total,
    accepted: 'probabilities that sum to at most 1: what is missing lies at one place',
  });
  const looks =
    input.looks === 0
      ? input.places.map(oneLook).sort((a, b) => perMinute(b) - perMinute(a))
      : repeatedLooks(input.places, input.looks);
  const { minutes, found } = course(looks);
  let minutesSoFar = 0;
  let foundSoFar = 0;
  const order = looks.map((look) => {
    minutesSoFar += look.place.minutes;
    foundSoFar += look.found;
    return {
      name: look.place.name,
      foundHereProbability: look.found,
      foundPerMinute: perMinute(look),
      minutesSoFar,
      foundSoFarProbability: foundSoFar,
    };
  });
  const listed = course(input.places.map(oneLook)).minutes;
  const output = {
    order,
    expectedMinutes: minutes,
    expectedMinutesAsListed: listed,
    foundProbability: found,
  };
  return { ...output, words: inWords(output) };
}

function inWords(output: Omit<SearchOrderOutput, 'words'>): string {
  const { order, expectedMinutes, foundProbability } = output;
  const [first] = order;
  return `Look first at ${first?.name ?? ''}: it is found there with probability ${probabilityPercentText(first?.foundHereProbability ?? 0)}. In this order it takes ${expectedMinutes.toFixed(0)} min on average and is found with probability ${probabilityPercentText(foundProbability)}.`;
}

/**
 * The probabilities of places after a look in vain.
 *
 * Formula: p → p (1 − q) at the place, then all divided by their sum.
 *
 * @param probabilities of each place, in [0, 1]
 * @param looked index of the place, and the chance in (0, 1] to have seen it there
 * @returns probabilities in the same order, with the sum of the first ones restored to it
 * @throws DomainError for an index outside the list or when nothing is left
 * Source: Bayes’ theorem
 * @example afterVainLook([0.9, 0.1], { at: 0, seenIfThere: 0.95 })[0] // 0.310344827586
 */
export function afterVainLook(
  probabilities: readonly number[],
  looked: { readonly at: number; readonly seenIfThere: number },
): number[] {
  requireDomain(looked.at >= 0 && looked.at < probabilities.length, {
    field: 'at',
    value: looked.at,
    accepted: `an index from 0 to ${probabilities.length - 1}`,
  });
  const before = probabilities.reduce((sum, value) => sum + value, 0);
  const left = probabilities.map((value, at) =>
    at === looked.at ? value * (1 - looked.seenIfThere) : value,
  );
  const after = left.reduce((sum, value) => sum + value, 0);
  requireDomain(after > 0, {
    field: 'probabilities',
    value: after,
    accepted: 'a place that is left possible after the look',
  });
  return left.map((value) => (value * before) / after);
}

/**
 * Weighings on average to find the one wrong container among equal ones by weighing halves.
 *
 * Formula: with k = ⌊log₂ N⌋ the best tree has 2^(k+1) − N leaves at depth k and the others one deeper.
 *
 * @param containers 1 or more
 * @returns mean number of weighings, exact; one by one it is (N + 1)/2 − 1/N
 * @throws DomainError for a number that is no whole one from 1
 * Validity: a group of half the containers must still show one piece.
 * Source: optimal binary tree, D. Huffman (1952) with equal weights
 * @example meanWeighingsByHalves(75) // 6.293333333
 */
export function meanWeighingsByHalves(containers: number): number {
  requireDomain(Number.isSafeInteger(containers) && containers >= 1, {
    field: 'containers',
    value: containers,
    accepted: 'a whole number from 1',
  });
  const depth = Math.floor(Math.log2(containers));
  const deeper = 2 * (containers - 2 ** depth);
  return depth + deeper / containers;
}

function drawSearchOrder(_: SearchOrderInput, output: SearchOrderOutput): Chart[] {
  return [
    {
      kind: 'chart',
      title: 'Found in this order',
      xTitle: 'Minutes of looking',
      yTitle: 'Found',
      series: [
        {
          label: 'found so far',
          kind: 'steps',
          x: [0, ...output.order.map(({ minutesSoFar }) => minutesSoFar)],
          y: [0, ...output.order.map(({ foundSoFarProbability }) => foundSoFarProbability)],
        },
      ],
    },
  ];
}

export const searchOrderCalculation = defineCalculation({
  id: 'search-order',
  version: 1,
  topic: 'account',
  title: 'Search for a missing piece: where to look first',
  purpose:
    'The order of places in which what is missing is found in the fewest minutes, and what each look finds.',
  source:
    'M. Chew (1967), Annals of Mathematical Statistics 38, 494-502, quoting D. Blackwell; exchange argument',
  input: searchOrderInput,
  output: searchOrderOutput,
  example: {
    looks: 0,
    places: [
      { name: 'tubes', probability: 0.3, seenIfThere: 0.999, minutes: 50 },
      { name: 'floor', probability: 0.2, seenIfThere: 0.8, minutes: 20 },
      { name: 'laboratory', probability: 0.25, seenIfThere: 0.95, minutes: 15 },
      { name: 'reject box', probability: 0.25, seenIfThere: 0.99, minutes: 3 },
    ],
  },
  compute: searchOrder,
  draw: drawSearchOrder,
});
