import { describe, expect, it } from 'vitest';
import { type ChartSides, cusumAverageRunLength } from '../../src/control/cusum-run-length.ts';
import { ewmaAverageRunLength } from '../../src/control/ewma-run-length.ts';
import { cusumDecisionInterval } from '../../src/control/run-length-design.ts';
import {
  cusumRunLengthByMarkovChain,
  ewmaRunLengthByMarkovChain,
} from '../../src/control/run-length-markov.ts';
import { runRulesAverageRunLengths } from '../../src/control/run-rule-chain.ts';
import type { RunRule } from '../../src/control/run-rules.ts';
import values from './values.json' with { type: 'json' };

const relative = (value: number, expected: number): number => Math.abs(value / expected - 1);

describe('cumulative sums', () => {
  const cases = values.cusum.map((one) => ({ ...one, sides: one.sides as ChartSides }));

  it.each(cases)('$id k $referenceValue, h $decisionInterval, shift $shift ($source)', (one) => {
    const runLength = cusumAverageRunLength(one, one.shift);
    // Eight figures were carried over; the last of them is rounded.
    expect(relative(runLength, one.computed)).toBeLessThan(5e-8);
    expect(relative(runLength, one.printed)).toBeLessThan(one.relativePrinted);
    // The second road; its error grows with h² over the square of the number of cells.
    expect(relative(cusumRunLengthByMarkovChain(one, one.shift, 400), runLength)).toBeLessThan(
      2e-4,
    );
  });

  it.each(values.decisionIntervals)('$id h for one alarm in $inControlRunLength', (one) => {
    const h = cusumDecisionInterval(
      { referenceValue: one.referenceValue, sides: one.sides as ChartSides },
      one.inControlRunLength,
    );
    // Six decimals were carried over.
    expect(Math.abs(h - one.decisionInterval)).toBeLessThan(6e-7);
  });

  it.each(values.handbook)('handbook: h $decisionInterval, shift $shift, $printed', (one) => {
    const runLength = cusumAverageRunLength({ ...one, sides: 'one' }, one.shift);
    const unit = one.printed.includes('.') ? (one.printed === '8.38' ? 0.01 : 0.1) : 1;
    expect(Math.abs(runLength - Number(one.printed))).toBeLessThan(unit);
  });

  it.each(values.closedForm)('$id is near the closed form of Siegmund', (one) => {
    const { referenceValue: k, decisionInterval: h, shift } = one;
    const drift = shift - k;
    const b = h + 1.166;
    const closed =
      drift === 0 ? b * b : (Math.exp(-2 * drift * b) + 2 * drift * b - 1) / (2 * drift * drift);
    expect(relative(closed, one.approximate)).toBeLessThan(1e-8);
    const runLength = cusumAverageRunLength({ ...one, sides: 'one' }, shift);
    expect(relative(runLength, one.computed)).toBeLessThan(5e-8);
    expect(relative(runLength, closed)).toBeLessThan(0.01);
  });
});

describe('weighted averages', () => {
  it.each(values.ewma)('$id λ $smoothing, L $limitFactor, shift $shift ($source)', (one) => {
    const runLength = ewmaAverageRunLength({ ...one, sides: 'two' }, one.shift);
    expect(relative(runLength, one.computed)).toBeLessThan(5e-8);
    expect(relative(runLength, one.printed)).toBeLessThan(one.relativePrinted);
    // With λ = 0.03 only six cells cover the step of a reading: 201 cells are coarse there.
    const coarse = one.smoothing < 0.1 ? 2e-3 : 2e-4;
    const chain = ewmaRunLengthByMarkovChain({ ...one, sides: 'two' }, one.shift, 201);
    expect(relative(chain, runLength)).toBeLessThan(coarse);
  });
});

describe('Shewhart charts with run rules', () => {
  it.each(values.runRules)('Western Electric rules $rules: $printed', ({ rules, printed }) => {
    const [runLength] = runRulesAverageRunLengths({
      rules: rules.map((number) => `western-electric-${number}` as RunRule),
      limitFactor: 3,
      shifts: [0],
      state: 'zero',
    });
    expect(runLength?.toFixed(2)).toBe(printed);
  });
});
