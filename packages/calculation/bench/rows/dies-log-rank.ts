import { type DieLife, riskTable } from '../../src/dies/die-life.ts';
import { logRank } from '../../src/dies/log-rank.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly lives: readonly number[];
  readonly failed: readonly number[];
  readonly family: readonly number[];
}

export const row: BenchRow<Data> = {
  what: 'log-rank comparison of three families of together 9000 dies, many of one life',
  data: () => {
    const lives: number[] = [];
    const failed: number[] = [];
    const family: number[] = [];
    for (let index = 0; index < 9000; index += 1) {
      const u = ((index + 1) * 0.6180339887498949) % 1;
      const v = ((index + 1) * 0.4142135623730951) % 1;
      const life = Math.ceil(2000 * (1 + (index % 3) / 20) * (-Math.log(u)) ** (1 / 2.2));
      const limit = Math.ceil(1000 + 4000 * v);
      lives.push(Math.min(life, limit));
      failed.push(life <= limit ? 1 : 0);
      family.push(index % 3);
    }
    return { lives, failed, family };
  },
  work: ({ lives, failed, family }) => {
    const families: DieLife[][] = [[], [], []];
    for (const [index, lifeStrikes] of lives.entries()) {
      const end = failed[index] === 1 ? 'failed' : 'censored';
      families[family[index] ?? 0]?.push({ lifeStrikes, end });
    }
    const found = logRank(families.map((one) => riskTable(one)));
    return [found.chiSquare, found.probability, ...found.expectedFailures];
  },
  tolerance: 1e-9,
};
