import { describe, expect, it } from 'vitest';
import type { Calculation, Chart } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import { doubleAttributePlan, doubleAttributePlanCalculation } from './double-attribute-plan.ts';
import { doublePlan } from './double-plan.ts';

const calculation = doubleAttributePlanCalculation as unknown as Calculation;
const { example } = doubleAttributePlanCalculation;

describe('doubleAttributePlan', () => {
  it('says what to do at each count', () => {
    expect(doubleAttributePlan(example).words).toBe(
      'Examine 125 of 7000 pieces. Accept with 0 to 3 nonconforming, reject with 7 or more. With 4 to 6 examine 125 more: accept with up to 8 in both samples together. Reject with 9 or more in both. Lots at the limit take 139.6 pieces in the mean.',
    );
  });

  it('says what a count in the gap of a reduced plan means', () => {
    // Letter K at 1.0, reduced: 32 (0, 4), 32 (1, 5), from Table III-C.
    const reduced = doubleAttributePlan({
      ...example,
      lotSizePieces: 2000,
      acceptanceQualityLimitPercent: 1,
      severity: 'reduced',
    });
    expect(reduced).toMatchObject({
      firstSampleSizePieces: 32,
      firstRejectionNumber: 4,
      secondAcceptanceNumber: 1,
      secondRejectionNumber: 5,
      gap: true,
    });
    expect(reduced.words).toContain(
      'With 2 to 4 in both accept this lot and go back to normal inspection from the next one.',
    );
  });

  it('sends to the single plan where the table does', () => {
    // Letter L at 0.065 is a cell with acceptance number 0: there is no double plan for it.
    const single = doubleAttributePlan({ ...example, acceptanceQualityLimitPercent: 0.065 });
    expect(single).toMatchObject({
      usesSinglePlan: true,
      firstSampleSizePieces: 200,
      firstAcceptanceNumber: 0,
      secondSampleSizePieces: null,
      secondAcceptanceNumber: null,
      secondRejectionNumber: null,
    });
    expect(single.words).toContain('There is no double plan for this lot: examine 200 of 7000');
  });

  it('counts nonconformities above 10 and draws by the Poisson distribution', () => {
    const plan = { ...example, acceptanceQualityLimitPercent: 15 } as const;
    const output = doubleAttributePlan(plan);
    expect(output.words).toContain('nonconformities');
    const [chart] = doubleAttributePlanCalculation.draw?.(plan, output) ?? [];
    expect((chart as Chart).xTitle).toBe('Nonconformities per hundred pieces');
  });

  it('cuts the second sample to the rest of a small lot, and examines all of a smaller one', () => {
    // Level II, limit 10: lots of 9 to 15 have letter B, an arrow down to C: 3 and 3.
    const five = doubleAttributePlan({
      ...example,
      lotSizePieces: 5,
      acceptanceQualityLimitPercent: 10,
    });
    expect(five).toMatchObject({ planLetter: 'C', secondSampleSizePieces: 2, codeLetter: 'A' });
    expect(five.words).toContain('examine 2 more, the rest of the lot:');
    const three = doubleAttributePlan({
      ...example,
      lotSizePieces: 3,
      acceptanceQualityLimitPercent: 10,
    });
    expect(three).toMatchObject({
      usesSinglePlan: true,
      examineEveryPiece: true,
      firstSampleSizePieces: 3,
    });
    expect(three.words).toContain('Examine every one of the 3 pieces.');
  });

  it('draws acceptance and mean effort beside the single plan', () => {
    const output = doubleAttributePlan(example);
    const charts = (doubleAttributePlanCalculation.draw?.(example, output) ?? []) as Chart[];
    expect(charts.map(({ title }) => title)).toEqual([
      'Operating characteristic',
      'Average sample number',
    ]);
    expect(charts[1]?.levels).toEqual([{ y: 200, label: 'single plan' }]);
  });

  it.each([
    ['lotSizePieces', 1, 'a whole number of 2 pieces or more'],
    ['acceptanceQualityLimitPercent', 2, 'one of 0.01'],
    ['severity', 'strict', 'one of normal, tightened, reduced'],
  ])('refuses %s %s', (field, value, accepted) => {
    const result = runCalculation(calculation, { ...example, [field]: value });
    if (result.outcome !== 'refused') throw new Error('was not refused');
    expect(result.problems[0]).toMatchObject({ field, value });
    expect(result.problems[0]?.accepted).toContain(accepted);
  });

  it('refuses letters and limits that a table does not have', () => {
    expect(() => doublePlan('S', 1, 'normal')).toThrow('letter is S');
    expect(() => doublePlan('L', 1.2, 'normal')).toThrow('acceptanceQualityLimitPercent is 1.2');
  });
});
