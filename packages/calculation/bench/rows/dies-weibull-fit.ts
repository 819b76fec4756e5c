import { type DieLife, riskTable } from '../../src/dies/die-life.ts';
import { weibullData, weibullFit } from '../../src/dies/weibull-fit.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly lives: readonly number[];
  readonly failed: readonly number[];
}

export const row: BenchRow<Data> = {
  what: 'Weibull life of 10 000 dies by maximum likelihood, a third censored, with standard errors',
  data: () => {
    const lives: number[] = [];
    const failed: number[] = [];
    for (let index = 0; index < 10_000; index += 1) {
      // Golden-ratio points stand for uniform draws; a second irrational censors.
      const u = ((index + 1) * 0.6180339887498949) % 1;
      const v = ((index + 1) * 0.4142135623730951) % 1;
      const life = 80_000 * (-Math.log(u)) ** (1 / 2.2);
      const limit = 40_000 + 160_000 * v;
      lives.push(Math.min(life, limit));
      failed.push(life <= limit ? 1 : 0);
    }
    return { lives, failed };
  },
  work: ({ lives, failed }) => {
    const given = lives.map(
      (lifeStrikes, index): DieLife => ({
        lifeStrikes,
        end: failed[index] === 1 ? 'failed' : 'censored',
      }),
    );
    const fit = weibullFit(weibullData(riskTable(given)));
    return [
      fit.scaleStrikes,
      fit.shape,
      fit.logLikelihood,
      fit.logScaleStandardError,
      fit.logShapeStandardError,
    ];
  },
  tolerance: 1e-6,
};
