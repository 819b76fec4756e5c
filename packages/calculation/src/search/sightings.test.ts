import { describe, expect, it } from 'vitest';
import type { FaultModel, FaultVariable, Sighting } from './fault-model.ts';
import { faultPosterior } from './fault-posterior.ts';

const variable = (name: string, ...options: [number, number, number[]][]): FaultVariable => ({
  name,
  options: options.map(([value, weight, signature]) => ({ value, weight, signature })),
});

const look = (
  falseSightingProbability: number,
  ...shows: [name: string, value: number, seenIfThere: number][]
): Sighting => ({
  falseSightingProbability,
  shows: shows.map(([name, value, seenIfThere]) => ({ name, value, seenIfThere })),
});

interface Walked {
  total: number;
  nothing: number;
  readonly sums: Map<string, number>;
  readonly sets: Map<string, number>;
}

/** The chance of what the looks said, given a set of faults: written down as people would say it. */
function saidGiven(model: FaultModel, chosen: readonly string[]): number {
  return (model.sightings ?? []).reduce((product, { falseSightingProbability, shows }) => {
    let nothingSeen = 1 - falseSightingProbability;
    for (const { name, value, seenIfThere } of shows) {
      if (chosen.includes(`${name} ${value}`)) nothingSeen *= 1 - seenIfThere;
    }
    return product * (1 - nothingSeen);
  }, 1);
}

/** Every combination of options that fits, one by one, weighed by what the looks said. */
function enumerate(model: FaultModel): Walked {
  const walked: Walked = { total: 0, nothing: 0, sums: new Map(), sets: new Map() };
  const walk = (at: number, rest: readonly number[], weight: number, chosen: readonly string[]) => {
    const one = model.variables[at];
    if (!one) {
      if (rest.some((value) => value !== 0)) return;
      const said = weight * saidGiven(model, chosen);
      walked.total += said;
      if (chosen.length === 0) walked.nothing = said;
      walked.sets.set(chosen.join(', '), said);
      for (const name of chosen) walked.sums.set(name, (walked.sums.get(name) ?? 0) + said);
      return;
    }
    walk(at + 1, rest, weight, chosen);
    for (const option of one.options) {
      const left = rest.map((value, place) => value - (option.signature[place] ?? 0));
      walk(at + 1, left, weight * option.weight, [...chosen, `${one.name} ${option.value}`]);
    }
  };
  walk(0, model.residual, 1, []);
  return walked;
}

/** Numbers that look random and are the same on every machine. */
function scattered(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
    return state / 2_147_483_648;
  };
}

function madeModel(seed: number): FaultModel {
  const next = scattered(seed);
  const step = () => Math.floor(next() * 3) - 1;
  const variables = Array.from({ length: 8 }, (_, at) =>
    variable(
      `v${at}`,
      [-1, next() * 0.2, [step(), step()]],
      [1, next() * 0.2, [step() * (at === 3 ? 20 : 1), step()]],
    ),
  );
  // Looks at up to three things each, some of them at the same ones, some twice.
  const sightings = Array.from({ length: 4 }, (_, at) =>
    look(
      0.01 + next() * 0.1,
      ...[0, 1, 2].slice(0, 1 + (at % 3)).map((thing): [string, number, number] => {
        const place = (thing * 2 + Math.floor(seed + at / 2)) % 8;
        return [`v${place}`, next() < 0.5 ? -1 : 1, 0.3 + 0.7 * next()];
      }),
    ),
  );
  return { residual: [step(), step()], variables, sightings };
}

const probabilityOf = (model: FaultModel, name: string, value = -1): number =>
  faultPosterior(model).faults.find((one) => one.name === name && one.value === value)
    ?.probability ?? 0;

const two = [variable('a', [-1, 0.003, [1]]), variable('b', [-1, 0.001, [1]])];

describe('a look that found something', () => {
  it('is weighed as by hand', () => {
    // Before: a 0.75, b 0.25. The look at b says found with 1 - 0.98 x 0.2 = 0.804 where b is, else with 0.02:
    // b / a = 0.001 x 0.804 / (0.003 x 0.02) = 13.4, so that b is 13.4 / 14.4.
    const found = { residual: [1], variables: two, sightings: [look(0.02, ['b', -1, 0.8])] };
    expect(probabilityOf(found, 'b')).toBeCloseTo(13.4 / 14.4, 12);
    expect(faultPosterior(found).stories[0]?.probability).toBeCloseTo(13.4 / 14.4, 12);
    // A second look that finds it as well multiplies the odds by 40.2 once more.
    const twice = { ...found, sightings: [...found.sightings, look(0.02, ['b', -1, 0.8])] };
    expect(probabilityOf(twice, 'b')).toBeCloseTo(538.68 / 539.68, 12);
    // A look in vain leaves a fifth of the odds: 2.68.
    const vain = { ...found, variables: [two[0], variable('b', [-1, 0.001 * 0.2, [1]])] };
    expect(probabilityOf(vain as FaultModel, 'b')).toBeCloseTo(2.68 / 3.68, 12);
  });

  it.each([1, 2, 3, 4, 5, 6, 7, 8, 9, 10])(
    'agrees with trying every combination, model %i',
    (seed) => {
      const model = madeModel(seed);
      const walked = enumerate(model);
      const output = faultPosterior(model);
      if (walked.total === 0) {
        expect(output.evidenceLogarithm).toBeNull();
        return;
      }
      const falseOnly = (model.sightings ?? []).reduce(
        (product, one) => product * one.falseSightingProbability,
        1,
      );
      expect(Math.exp(output.evidenceLogarithm ?? 0) / (walked.total / falseOnly)).toBeCloseTo(
        1,
        10,
      );
      expect(output.noFaultProbability).toBeCloseTo(walked.nothing / walked.total, 10);
      for (const [key, sum] of walked.sums) {
        const [name, value] = key.split(' ');
        const found = output.faults.find(
          (fault) => fault.name === name && fault.value === Number(value),
        );
        expect(found?.probability ?? 0).toBeCloseTo(sum / walked.total, 10);
      }
      expect(output.faults.every(({ name }) => /^v\d$/.test(name))).toBe(true);
      for (const { faults, probability } of output.stories) {
        const key = faults.map(({ name, value }) => `${name} ${value}`).join(', ');
        expect(probability).toBeCloseTo((walked.sets.get(key) ?? 0) / walked.total, 10);
      }
    },
  );

  it('raises nothing where what was found can be none of what is suspected', () => {
    const model = { residual: [1], variables: two, sightings: [look(0.02)] };
    expect(probabilityOf(model, 'a')).toBeCloseTo(0.75, 12);
  });

  it('sees two faults at one place hardly better than one', () => {
    // Both fit a residual of nothing only together; as a product they would count for 40.2 squared.
    const model = {
      residual: [0],
      variables: [variable('more', [1, 0.001, [1]]), variable('less', [-1, 0.001, [-1]])],
      sightings: [look(0.02, ['more', 1, 0.8], ['less', -1, 0.8])],
    };
    const both = 1e-6 * (1 - 0.98 * 0.04);
    expect(probabilityOf(model, 'more', 1)).toBeCloseTo(both / (both + 0.02), 12);
  });

  it('lifts one of thousands of tubes that weigh alike, and one entry of many large ones', () => {
    const tubes = Array.from({ length: 3000 }, (_, at) => variable(`tube ${at}`, [-1, 2e-4, [1]]));
    const found = look(0.01, ['tube 2990', -1, 0.99]);
    const model = { residual: [1], variables: tubes, sightings: [found] };
    const ratio = (1 - 0.99 * 0.01) / 0.01;
    expect(probabilityOf(model, 'tube 2990')).toBeCloseTo(ratio / (2999 + ratio), 10);
    expect(faultPosterior(model).stories[0]?.words).toBe('tube 2990 -1');
    const entries = Array.from({ length: 40 }, (_, at) =>
      variable(`entry ${at}`, [50, 1e-4, [50]]),
    );
    const large = {
      residual: [50],
      variables: entries,
      sightings: [look(0.01, ['entry 7', 50, 0.95])],
    };
    const better = (1 - 0.99 * 0.05) / 0.01;
    expect(probabilityOf(large, 'entry 7', 50)).toBeCloseTo(better / (39 + better), 10);
  });

  it('refuses what is no option, an option twice and too many looks at one', () => {
    const refused = (...sightings: Sighting[]) =>
      expect(() => faultPosterior({ residual: [1], variables: two, sightings }));
    refused(look(0.02, ['c', -1, 0.8])).toThrow(/sightings\.0\.shows\.0/);
    refused(look(0.02, ['a', 1, 0.8])).toThrow(/sightings\.0\.shows\.0/);
    refused(look(0.02, ['a', -1, 0.8], ['a', -1, 0.8])).toThrow(/sightings\.0\.shows\.1/);
    const seven = Array.from({ length: 7 }, () => look(0.02, ['a', -1, 0.8]));
    refused(...seven).toThrow(/sightings\.6\.shows\.0.*at most 6 looks/s);
  });
});
