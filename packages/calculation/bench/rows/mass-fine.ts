import { postingFineMicrograms } from '../../src/mass/posting-fine-mass.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly gross: readonly number[];
  readonly fineness: readonly number[];
}

const finenesses = [999_900, 995_800, 916_667, 925_000, 750_000, 333_333];

/** Whole numbers of a fixed sequence, so that every run and both sides have the same. */
function postings(count: number): Data {
  let state = 1848;
  const gross: number[] = [];
  const fineness: number[] = [];
  for (let at = 0; at < count; at += 1) {
    state = (state * 48_271) % 2_147_483_647;
    gross.push(state % 100_000_000);
    fineness.push(finenesses[state % finenesses.length] ?? 0);
  }
  return { gross, fineness };
}

export const row: BenchRow<Data> = {
  what: 'exact fine mass of 1,000,000 postings',
  data: () => postings(1_000_000),
  work: ({ gross, fineness }) => {
    let sum = 0;
    for (let at = 0; at < gross.length; at += 1) {
      sum += postingFineMicrograms(gross[at] ?? 0, fineness[at] ?? 0, 'half-even');
    }
    // The sum stays below 2⁵³, so it is exact here.
    return [sum];
  },
  tolerance: 0,
};
