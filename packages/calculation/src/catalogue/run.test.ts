import { describe, expect, it } from 'vitest';
import { weightStatisticsCalculation } from '../weights/weight-statistics.ts';
import { answerInSteps } from './answer.ts';
import type { Calculation } from './calculation.ts';
import { calculationById } from './catalogue.ts';
import { runCalculation, runCalculationInSteps } from './run.ts';

const statistics = weightStatisticsCalculation as unknown as Calculation;

describe('runCalculation', () => {
  it('names a field that the schema does not know, with its value', () => {
    const result = runCalculation(statistics, { massesGrams: [1, 2], colour: 'red' });
    expect(result).toMatchObject({
      outcome: 'refused',
      problems: [{ field: 'colour', value: 'red', accepted: 'no field of this name' }],
    });
  });

  it('refuses readings whose result would not be finite', () => {
    const result = runCalculation(statistics, { massesGrams: [1e300, 1e308, 1e308] });
    expect(result).toMatchObject({ outcome: 'refused' });
  });
});

describe('a calculation that lasts', () => {
  const lasting = calculationById('monte-carlo');

  it('tells the part that is done, and ends with the same result', () => {
    const steps = runCalculationInSteps(lasting, lasting.example);
    const parts: number[] = [];
    let step = steps.next();
    while (!step.done) {
      parts.push(step.value);
      step = steps.next();
    }
    expect(parts.length).toBeGreaterThan(1);
    expect(parts).toEqual(parts.toSorted((a, b) => a - b));
    expect(parts.every((part) => part > 0 && part <= 1)).toBe(true);
    expect(step.value).toEqual(runCalculation(lasting, lasting.example));
  });

  it('is refused in steps as it is at once', () => {
    const steps = runCalculationInSteps(lasting, {});
    const step = steps.next();
    expect(step).toMatchObject({ done: true, value: { outcome: 'refused' } });
  });
});

describe('an answer', () => {
  it('carries drawings with a result, and nothing that JSON has no word for with a refusal', () => {
    const drawn = answerInSteps(statistics, statistics.example).next().value;
    expect(drawn).toMatchObject({ outcome: 'computed' });
    expect(JSON.parse(JSON.stringify(drawn))).toEqual(drawn);
    const refused = answerInSteps(statistics, { massesGrams: undefined }).next().value;
    expect(refused).toMatchObject({ outcome: 'refused', problems: [{ value: null }] });
  });
});
