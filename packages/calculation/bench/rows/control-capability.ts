import { capability } from '../../src/control/capability.ts';
import type { BenchRow } from '../bench-row.ts';

/** Nearly normal subgroups of five from sums of twelve steps of a linear congruence. */
function subgroups(count: number): number[][] {
  let state = 2_017;
  const value = () => {
    let sum = 0;
    for (let term = 0; term < 12; term += 1) {
      state = (1_103_515_245 * state + 12_345) % 2_147_483_648;
      sum += state / 2_147_483_648;
    }
    return 31.1 + 0.02 * (sum - 6);
  };
  return Array.from({ length: count }, () => Array.from({ length: 5 }, value));
}

export const row: BenchRow<readonly (readonly number[])[]> = {
  what: 'capability of 400 subgroups of five with its test and intervals',
  data: () => subgroups(400),
  work: (groups) => {
    const { within, overall, normality } = capability({
      data: { kind: 'subgroups', subgroups: groups.map((group) => [...group]) },
      method: 'normal',
      lowerLimit: 31,
      upperLimit: 31.2,
      confidence: 0.95,
    });
    return [within, overall]
      .flatMap((one) => [one?.potential, one?.actual])
      .flatMap((index) => [index?.value ?? 0, index?.lowerBound ?? 0, index?.upperBound ?? 0])
      .concat(normality?.statistic ?? 0, overall.expectedOutsidePartsPerMillion ?? 0);
  },
  tolerance: 1e-8,
};
