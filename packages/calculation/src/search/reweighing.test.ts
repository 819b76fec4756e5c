import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, it } from 'vitest';
import { seededNormal } from '../../laws/simulation.ts';
import { reweighingValue } from './reweighing.ts';
import type { ReweighingCheck } from './reweighing-schema.ts';

const act = {
  kind: 'weighing' as const,
  pieceMassGrams: 8,
  weighings: 1,
  deviationGrams: -5.5,
  predictedGrams: 0.3,
  lastingStandardUncertaintyGrams: 1.5,
  repeatStandardUncertaintyGrams: 1,
  badWeighingProbability: 0.1,
  badWeighingSpreadGrams: 6,
};

const options = [
  { pieces: -1, probability: 0.5 },
  { pieces: 0, probability: 0.45 },
  { pieces: 1, probability: 0.05 },
];

const tube: ReweighingCheck = {
  name: 'tube',
  recordedPieces: 20,
  minutes: 0.5,
  options,
  act,
};

const density = (z2: number): number => Math.exp(-z2 / 2) / (2 * Math.PI);

/** Density of both readings together, given the count: four combinations of good and worthless. */
function jointDensity(first: number, second: number, pieces: number): number {
  const { predictedGrams: m, badWeighingProbability: bad } = act;
  const centre = m + pieces * act.pieceMassGrams;
  const lasting = act.lastingStandardUncertaintyGrams ** 2;
  const own = lasting + act.repeatStandardUncertaintyGrams ** 2;
  const wide = own + act.badWeighingSpreadGrams ** 2;
  const together = (means: [number, number], variances: [number, number], shared: number) => {
    const [v1, v2] = variances;
    const determinant = v1 * v2 - shared ** 2;
    const [a, b] = [first - means[0], second - means[1]];
    const form = (v2 * a * a - 2 * shared * a * b + v1 * b * b) / determinant;
    return density(form) / Math.sqrt(determinant);
  };
  return (
    (1 - bad) ** 2 * together([centre, centre], [own, own], lasting) +
    (1 - bad) * bad * together([centre, m], [own, wide], 0) +
    bad * (1 - bad) * together([m, centre], [wide, own], 0) +
    bad ** 2 * together([m, m], [wide, wide], 0)
  );
}

/** Density of the second reading given the first and the count, from the density of both. */
function secondGivenFirst(second: number, pieces: number): number {
  const step = 0.01;
  if (!cached.has(pieces)) {
    let sum = 0;
    for (let at = -12_000; at <= 12_000; at += 1) {
      sum += step * jointDensity(act.deviationGrams, at * step, pieces);
    }
    cached.set(pieces, sum);
  }
  return jointDensity(act.deviationGrams, second, pieces) / (cached.get(pieces) ?? Number.NaN);
}
const cached = new Map<number, number>();

describe('reweighingValue', () => {
  it('tells the bits that a plain sum over the density of both readings gives', () => {
    const step = 0.01;
    let bits = 0;
    for (let at = -12_000; at <= 12_000; at += 1) {
      const given = options.map(({ pieces }) => secondGivenFirst(at * step, pieces));
      const mean = given.reduce((sum, one, row) => sum + one * (options[row]?.probability ?? 0), 0);
      for (const [row, one] of given.entries()) {
        if (one > 0) bits += step * (options[row]?.probability ?? 0) * one * Math.log2(one / mean);
      }
    }
    const { checks } = reweighingValue({ checks: [tube], places: [] });
    expect(checks[0]?.informationBits).toBeCloseTo(bits, 8);
  });

  it('foretells the outcomes as often as they happen when weighings are drawn', () => {
    const normal = seededNormal(7);
    const generator = xoroshiro128plus(11);
    const uniform = () => uniformFloat64(generator);
    const { predictedGrams: m, lastingStandardUncertaintyGrams: lasting } = act;
    const wide = Math.hypot(
      act.badWeighingSpreadGrams,
      Math.hypot(lasting, act.repeatStandardUncertaintyGrams),
    );
    const read = (centre: number, kept: number): number =>
      uniform() < act.badWeighingProbability
        ? m + wide * normal()
        : centre + kept + act.repeatStandardUncertaintyGrams * normal();
    // What a container holds of one count is drawn until its first reading is the one that was read.
    const shown = new Map<string, number>();
    const wanted = 4000;
    for (const { pieces } of options) {
      const centre = m + pieces * act.pieceMassGrams;
      for (let found = 0; found < wanted; ) {
        const kept = lasting * normal();
        if (Math.abs(read(centre, kept) - act.deviationGrams) > 0.15) continue;
        found += 1;
        const second = (read(centre, kept) - m) / act.pieceMassGrams;
        const nearest = Math.round(second);
        const fits = Math.abs(nearest) <= 1 ? String(nearest) : 'null';
        shown.set(`${pieces} ${fits}`, (shown.get(`${pieces} ${fits}`) ?? 0) + 1);
      }
    }
    const [check] = reweighingValue({ checks: [tube], places: [] }).checks;
    for (const { shows, probability } of check?.outcomes ?? []) {
      const drawn = options.map(
        ({ pieces }) =>
          (shown.get(`${pieces} ${Number.isNaN(shows) ? '' : String(shows)}`) ?? 0) / wanted,
      );
      const mean = drawn.reduce(
        (sum, part, row) => sum + part * (options[row]?.probability ?? 0),
        0,
      );
      const variance = drawn.reduce(
        (sum, part, row) =>
          sum + ((options[row]?.probability ?? 0) ** 2 * part * (1 - part)) / wanted,
        0,
      );
      expect(Math.abs(mean - probability)).toBeLessThan(4 * Math.sqrt(variance) + 2e-3);
    }
  });

  it('says what the outcomes leave of each number, and everything of it together', () => {
    const [check] = reweighingValue({ checks: [tube], places: [] }).checks;
    const outcomes = check?.outcomes ?? [];
    expect(outcomes.reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(1, 12);
    // The probabilities after all outcomes average to those now: they must not move by being foretold.
    for (const { pieces, probability } of options) {
      const mean = outcomes.reduce(
        (sum, one) =>
          sum +
          one.probability *
            (one.options.find((after) => after.pieces === pieces)?.probability ?? Number.NaN),
        0,
      );
      expect(mean).toBeCloseTo(probability, 12);
    }
  });

  it('is worth minutes where it spares the opening of a tube in vain', () => {
    const places = [
      { name: 'tube', probability: 0.55, seenIfThere: 1, minutes: 30 },
      { name: 'floor', probability: 0.45, seenIfThere: 1, minutes: 20 },
    ];
    const sure = { ...act, badWeighingProbability: 1e-9, weighings: 0, deviationGrams: 0 };
    const exact = {
      ...tube,
      act: { ...sure, lastingStandardUncertaintyGrams: 0, repeatStandardUncertaintyGrams: 0.1 },
    };
    const [check] = reweighingValue({ checks: [exact], places }).checks;
    // Without it the floor first: 20 + 0.55 * 30 min. With it only the right one of the two is opened,
    // 0.55 * 30 + 0.45 * 20, but where the reading lies beyond four standard uncertainties (6.334248e-5
    // of a normal distribution) and so tells nothing.
    const spared = 20 + 0.55 * 30 - (0.55 * 30 + 0.45 * 20);
    expect(check?.savedMinutes).toBeCloseTo(spared * (1 - 6.334248e-5) - 0.5, 6);
  });

  it('knows that a count is a look, whose minutes the order of looking holds already', () => {
    const places = [{ name: 'tube', probability: 0.55, seenIfThere: 1, minutes: 30 }];
    const count = { kind: 'count' as const, seenIfThere: 0.9, newErrorProbability: 0.01 };
    const [check] = reweighingValue({ checks: [{ ...tube, act: count }], places }).checks;
    expect(check).toMatchObject({ savedMinutes: null, worthlessProbability: null });
  });

  it('says in words what fits, what is bad and what it would show', () => {
    // A tube of twenty at 601.9 g where 622 g are expected: 20.1 g off, a piece of 31.1 g.
    const heavy = {
      ...act,
      pieceMassGrams: 31.1,
      deviationGrams: -31.3,
      predictedGrams: 0,
      lastingStandardUncertaintyGrams: 0.45,
      repeatStandardUncertaintyGrams: 0.06,
      badWeighingProbability: 1e-3,
      badWeighingSpreadGrams: 20,
    };
    const one = {
      ...tube,
      act: heavy,
      options: [
        { pieces: -1, probability: 0.963 },
        { pieces: 0, probability: 0.037 },
      ],
    };
    expect(reweighingValue({ checks: [one], places: [] }).words).toMatch(
      /^tube: 19 fits 0\.963, 20 fits 0\.037, a bad weighing 0\.037\. Weighed again it shows 19 with 0\.96\d, 20 with 0\.03\d, no number with 0\.0009\d, and tells 0\.2\d of the 0\.23 bits that are open\.$/,
    );
  });

  it('puts first what tells most in a minute', () => {
    const slow = { ...tube, name: 'slow', minutes: 30 };
    const { checks } = reweighingValue({ checks: [slow, tube], places: [] });
    expect(checks.map(({ name }) => name)).toEqual(['tube', 'slow']);
  });
});

describe('what reweighingValue refuses', () => {
  const valued = (changes: object) =>
    reweighingValue({ checks: [{ ...tube, ...changes }], places: [] });

  it('options that do not sum to 1', () => {
    expect(() =>
      valued({
        options: [
          { pieces: 0, probability: 0.5 },
          { pieces: 1, probability: 0.4 },
        ],
      }),
    ).toThrow(/checks\.0\.options.*sum to 1/s);
  });

  it('options without the recorded number, or twice the same', () => {
    const wrong = [
      [1, 2],
      [0, 1, 1],
    ];
    for (const numbers of wrong) {
      const given = numbers.map((pieces) => ({ pieces, probability: 1 / numbers.length }));
      expect(() => valued({ options: given })).toThrow(/checks\.0\.options.*0 among them/s);
    }
  });

  it('a place of its name that is as probable as something else', () => {
    const places = [{ name: 'tube', probability: 0.1, seenIfThere: 1, minutes: 1 }];
    expect(() => reweighingValue({ checks: [tube], places })).toThrow(/places.*0\.55/s);
  });
});
