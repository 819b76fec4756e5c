import { type MetalBalanceInput, metalBalance } from '@cupel/calculation';
import { describe, expect, it } from 'vitest';
import { gramSuspects, suspectWords } from './gram-suspects.ts';

// Worked by hand. IN weighed 100 kg once, its span is known to 1e-5, its reading to 0.3 g: 1² + 0.3².
// OUT weighed 20 tubes, each with a tare known to 0.5 g and a reading of 0.1 g: 20·0.1² for the
// readings, 20·0.5² + (20·0.5)² for the tares. Its span is exact.
const strata: MetalBalanceInput['strata'] = [
  {
    label: 'from receiving',
    sign: 1,
    count: 1,
    massGrams: 100_000,
    scale: 'IN',
    randomStandardDeviationGrams: 0.3,
  },
  {
    label: 'to the strong room',
    sign: -1,
    count: 20,
    massGrams: 4999,
    scale: 'OUT',
    randomStandardDeviationGrams: Math.hypot(0.1, 0.5),
    tareGroup: 'not weighed, known to ±0.5 g',
  },
];

const input: MetalBalanceInput = {
  strata,
  scales: [
    { scale: 'IN', gainRelativeStandardUncertainty: 1e-5 },
    { scale: 'OUT', gainRelativeStandardUncertainty: 0 },
  ],
  tareGroups: [{ tareGroup: 'not weighed, known to ±0.5 g', standardDeviationGrams: 0.5 }],
  warnFactor: 2,
  actFactor: 3,
};

describe('gram suspects', () => {
  it('share the whole variance, the greatest first', () => {
    const output = metalBalance(input);
    const total = 1 + 0.09 + 0.2 + 5 + 100;
    expect(output.standardUncertaintyGrams ** 2).toBeCloseTo(total, 9);
    const share = (variance: number) => expect.closeTo((100 * variance) / total, 9);
    const suspects = gramSuspects(input, output);
    expect(suspects).toMatchObject([
      { what: 'tares', mainly: 'tare', sharePercent: share(105) },
      { what: 'balance', name: 'IN', mainly: 'calibration', sharePercent: share(1.09) },
      { what: 'balance', name: 'OUT', mainly: 'readings', sharePercent: share(0.2) },
    ]);
    // 20 g are missing; the parts add up to them.
    const parts = suspects.reduce((sum, { expectedPartGrams }) => sum + expectedPartGrams, 0);
    expect(parts).toBeCloseTo(20, 9);
  });

  it('are none where every weighing is exact', () => {
    const exact = strata.map(({ tareGroup: _none, ...one }) => ({
      ...one,
      randomStandardDeviationGrams: 0,
    }));
    const scales = input.scales.map((one) => ({ ...one, gainRelativeStandardUncertainty: 0 }));
    const weighing = { strata: exact, scales, warnFactor: 2, actFactor: 3 };
    expect(gramSuspects(weighing, metalBalance(weighing))).toEqual([]);
  });
});

describe('suspect words', () => {
  const [tares, balance] = gramSuspects(input, metalBalance(input));
  const tell = (state: 'inside' | 'warn' | 'act', significance: number, one = tares) =>
    suspectWords({ state, significance }, one ? [one] : []);

  it('say that weighing explains it, and who most', () => {
    expect(tell('inside', 1.9)).toBe(
      'The balances explain it. Most doubt lies in the tares not weighed, known to ±0.5 g: 99\u00a0%.',
    );
  });

  it('say what to do first where they do not', () => {
    expect(tell('warn', 2.5)).toBe(
      'It is more than the balances usually leave: 2.5 times the standard uncertainty. Most doubt lies in the tares not weighed, known to ±0.5 g: 99\u00a0%. First weigh the empty containers.',
    );
    expect(tell('act', -4.24, balance)).toBe(
      'It is more than the balances explain: 4.2 times the standard uncertainty. Most doubt lies in the balance IN: 1\u00a0%, mainly its calibration. First check IN with weights, then look for metal.',
    );
  });

  it('do not blame a balance for what no balance does', () => {
    expect(tell('act', 120.5)).toBe(
      'It is more than the balances explain: 120.5 times the standard uncertainty. No balance errs so far: look for metal, or for an entry that is wrong.',
    );
  });

  it('blame nobody where every weighing is exact', () => {
    expect(suspectWords({ state: 'inside', significance: null }, [])).toBe(
      'The balances explain it.',
    );
  });
});
