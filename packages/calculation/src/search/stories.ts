import { z } from 'zod';
import { logOfSum } from '../quantity/log-sum.ts';
import type { FaultModel } from './fault-model.ts';
import type { RatedFault } from './lattice-posterior.ts';
import { sightingWeights } from './sightings.ts';
import { type Candidate, type FaultSet, StorySearch } from './story-search.ts';

export const story = z.strictObject({
  faults: z
    .array(
      z.strictObject({
        name: z.string().meta({ title: 'What is wrong' }),
        value: z.int().meta({ title: 'Size of the fault' }),
      }),
    )
    .meta({ title: 'Faults together' }),
  probability: z.number().meta({ title: 'Probability of just this set' }),
  words: z.string().meta({ title: 'In words' }),
});

export type Story = z.infer<typeof story>;

/** So many stories are told. */
const toldStories = 12;

/** Sets of more faults are looked for only while those found explain less than this part. */
const enoughExplained = 0.9;

const order = (a: Candidate, b: Candidate): number => a.variable - b.variable || a.value - b.value;

const signed = (value: number): string => (value > 0 ? `+${value}` : String(value));

function tell(found: FaultSet, logTotal: number): Story {
  const set = found.faults.toSorted(order);
  return {
    faults: set.map(({ name, value }) => ({ name, value })),
    probability: Math.exp(found.logWeight - logTotal),
    words: set.map(({ name, value }) => `${name} ${signed(value)}`).join(' and '),
  };
}

/**
 * The most probable sets: single faults, pairs, and larger ones while the smaller explain less than nine
 * tenths. Their probabilities are those of the exact posterior; only which sets are told is a choice.
 */
export function tellStories(
  model: FaultModel,
  faults: readonly RatedFault[],
  logTotal: number,
): Story[] {
  const seen = sightingWeights(model);
  const search = new StorySearch(seen.model, faults, logTotal);
  const none = model.residual.every((value) => value === 0) ? [0] : [];
  const sets: FaultSet[] = [];
  for (const more of [() => search.ofOneAndTwo(), () => search.ofThree(), () => search.ofMany()]) {
    for (const set of more()) {
      sets.push({ ...set, logWeight: set.logWeight + seen.logOfSet(set.faults) });
    }
    const explained = logOfSum([...none, ...sets.map(({ logWeight }) => logWeight)]) - logTotal;
    if (Math.exp(explained) >= enoughExplained) break;
  }
  return sets
    .sort((a, b) => b.logWeight - a.logWeight)
    .slice(0, toldStories)
    .map((set) => tell(set, logTotal));
}
