import { faultPosterior } from '../src/search/fault-posterior.ts';
import { searchOrder } from '../src/search/looking.ts';
import {
  Chance,
  isLookedAt,
  type ModelOptions,
  type SearchScenario,
  simulateShift,
} from './search-scenario.ts';

/** Faults foretold with probabilities in one band, and how many of them were true. */
interface ReliabilityBand {
  readonly count: number;
  readonly predicted: number;
  readonly observed: number;
  /** Of the observed part, if the prediction is right. */
  readonly standardError: number;
}

export interface SearchFigures {
  readonly shifts: number;
  readonly drawn: number;
  readonly bands: readonly ReliabilityBand[];
  /** Single faults that leave a trace on a scale: how many, and how many stood first or second. */
  readonly traced: { readonly count: number; readonly amongFirstTwo: number };
  /** Single faults with a residual: mean minutes until found, in this order and in the habitual one. */
  readonly minutes: { readonly count: number; readonly ours: number; readonly habitual: number };
  readonly noFault: { readonly predicted: number; readonly observed: number };
}

/** Lower ends of the bands. */
const bandEnds = [
  0.001, 0.01, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.99, 0.999,
];

/** Minutes of one look for a part and the chance to see the fault there: assumptions. */
function lookOf(name: string): { readonly minutes: number; readonly seenIfThere: number } {
  if (name.startsWith('tube')) return { minutes: 0.5, seenIfThere: 0.99 };
  if (name.startsWith('counter')) return { minutes: 10, seenIfThere: 0.95 };
  if (name.startsWith('bin')) return { minutes: 10, seenIfThere: 0.95 };
  if (name.startsWith('rejects')) return { minutes: 3, seenIfThere: 0.99 };
  if (name === 'loose') return { minutes: 3, seenIfThere: 0.95 };
  if (name === 'sample') return { minutes: 15, seenIfThere: 0.95 };
  return name === 'gone at put-up'
    ? { minutes: 20, seenIfThere: 0.8 }
    : { minutes: 30, seenIfThere: 0.8 };
}

/** The habit: from the last station backwards, everything at each. */
const habitual = [
  'gone at put-up',
  'loose',
  ...Array.from({ length: 99 }, (_, at) => `tube ${at + 1}`),
  'gone at press 1',
  'gone at press 2',
  'rejects 1',
  'rejects 2',
  'sample',
  'counter 1',
  'counter 2',
  'bin 1',
  'bin 2',
  'bin 3',
  'bin 4',
];

/** Expected minutes until a fault is seen, when the round is begun again after a look that missed it. */
function minutesUntil(order: readonly string[], truth: string): number {
  const round = order.reduce((sum, name) => sum + lookOf(name).minutes, 0);
  const upTo = order
    .slice(0, order.indexOf(truth) + 1)
    .reduce((sum, name) => sum + lookOf(name).minutes, 0);
  const { seenIfThere } = lookOf(truth);
  return upTo + (round * (1 - seenIfThere)) / seenIfThere;
}

/** Every part in the order in which most is found per minute. */
function orderOf(probabilities: ReadonlyMap<string, number>): readonly string[] {
  const total = [...probabilities.values()].reduce((sum, value) => sum + value, 0);
  const scale = total > 1 ? 1 / total : 1;
  const places = habitual.map((name) => ({
    name,
    probability: (probabilities.get(name) ?? 0) * scale,
    ...lookOf(name),
  }));
  return searchOrder({ places, looks: 0 }).order.map(({ name }) => name);
}

class Bands {
  readonly #count = bandEnds.map(() => 0);
  readonly #sum = bandEnds.map(() => 0);
  readonly #spread = bandEnds.map(() => 0);
  readonly #true = bandEnds.map(() => 0);

  add(probability: number, isTrue: boolean): void {
    const at = bandEnds.findLastIndex((end) => probability >= end);
    if (at < 0) return;
    this.#count[at] = (this.#count[at] ?? 0) + 1;
    this.#sum[at] = (this.#sum[at] ?? 0) + probability;
    this.#spread[at] = (this.#spread[at] ?? 0) + probability * (1 - probability);
    if (isTrue) this.#true[at] = (this.#true[at] ?? 0) + 1;
  }

  all(): readonly ReliabilityBand[] {
    return bandEnds.map((_, at) => {
      const count = this.#count[at] ?? 0;
      return {
        count,
        predicted: (this.#sum[at] ?? 0) / count,
        observed: (this.#true[at] ?? 0) / count,
        standardError: Math.sqrt(this.#spread[at] ?? 0) / count,
      };
    });
  }
}

/** So many standard uncertainties off, a container shows a trace of what is wrong with it. */
const traceDeviation = 3;

/** Simulates until so many shifts were looked at, and gathers what came of the predictions. */
export function searchFigures(
  scenario: SearchScenario,
  run: { readonly shifts: number; readonly seed: number; readonly model?: ModelOptions },
): SearchFigures {
  const chance = new Chance(run.seed);
  const bands = new Bands();
  const traced = { count: 0, amongFirstTwo: 0 };
  const minutes = { count: 0, ours: 0, habitual: 0 };
  const noFault = { predicted: 0, observed: 0 };
  let shifts = 0;
  let drawn = 0;
  while (shifts < run.shifts) {
    drawn += 1;
    const shift = simulateShift(scenario, chance, run.model);
    if (!isLookedAt(shift)) continue;
    shifts += 1;
    const output = faultPosterior(shift.model);
    for (const { name, value, probability } of output.faults) {
      bands.add(probability, shift.truth.get(name) === value);
    }
    noFault.predicted += output.noFaultProbability;
    noFault.observed += shift.truth.size === 0 ? 1 : 0;
    const [single] = shift.truth.keys();
    if (shift.truth.size !== 1 || single === undefined) continue;
    if ((shift.deviations.get(single) ?? 0) > traceDeviation) {
      traced.count += 1;
      const names = output.faults.slice(0, 2).map(({ name }) => name);
      if (names.includes(single)) traced.amongFirstTwo += 1;
    }
    if (shift.model.residual.every((value) => value === 0)) continue;
    const probabilities = new Map<string, number>();
    for (const { name, probability } of output.faults) {
      probabilities.set(name, (probabilities.get(name) ?? 0) + probability);
    }
    minutes.count += 1;
    minutes.ours += minutesUntil(orderOf(probabilities), single);
    minutes.habitual += minutesUntil(habitual, single);
  }
  return {
    shifts,
    drawn,
    bands: bands.all(),
    traced,
    minutes: {
      count: minutes.count,
      ours: minutes.ours / minutes.count,
      habitual: minutes.habitual / minutes.count,
    },
    noFault: { predicted: noFault.predicted / shifts, observed: noFault.observed / shifts },
  };
}
