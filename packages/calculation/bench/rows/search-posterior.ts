import type { FaultModel, FaultVariable } from '../../src/search/fault-model.ts';
import { faultPosterior } from '../../src/search/fault-posterior.ts';
import type { BenchRow } from '../bench-row.ts';

/** A variable that is one piece under or over, with these weights and this signature of one piece. */
function oneOff(
  name: string,
  weights: readonly [under: number, over: number],
  unit: readonly number[],
): FaultVariable {
  const options = [-1, 1].map((value, at) => ({
    value,
    weight: weights[at] ?? 0,
    signature: unit.map((part) => part * value),
  }));
  return { name, options };
}

/** Ratios of weighings from 1e-8 to 1, the same at every run. */
const ratio = (at: number): number => 10 ** (-((at * 7919) % 8009) / 1001);

/** A chain of three custody cells with 7000 tubes. */
function chain(): FaultModel {
  const tubes = Array.from({ length: 7000 }, (_, at) =>
    oneOff(`tube ${at}`, [2e-4 * ratio(at), 2e-4 * ratio(at + 3)], [0, 0, 1]),
  );
  const bins = Array.from({ length: 200 }, (_, at) =>
    oneOff(`bin ${at}`, [1e-3 * ratio(at), 5e-4 * ratio(at + 5)], at % 2 ? [-1, 0, 0] : [0, -1, 0]),
  );
  return {
    residual: [0, 0, 1],
    variables: [
      ...tubes,
      ...bins,
      oneOff('counter A', [1e-3, 2e-3], [-1, 0, 1]),
      oneOff('counter B', [1e-3, 2e-3], [0, -1, 1]),
      oneOff('rejects', [3e-3, 1e-3], [0, 0, -1]),
      oneOff('loose', [1e-3, 1e-3], [0, 0, -1]),
    ],
  };
}

export const row: BenchRow<FaultModel> = {
  what: 'search posterior of 7000 tubes and 204 others',
  data: chain,
  work: (model) => {
    const { faults } = faultPosterior(model);
    const shown = ['tube 0', 'counter A', 'counter B', 'rejects', 'loose'];
    return shown.flatMap((name) =>
      [-1, 1].map(
        (value) =>
          faults.find((fault) => fault.name === name && fault.value === value)?.probability ?? 0,
      ),
    );
  },
  tolerance: 1e-8,
};
