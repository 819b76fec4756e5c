import { describe, expect, it } from 'vitest';
import { dieFamilyComparison, dieFamilyComparisonCalculation } from './die-family-comparison.ts';
import {
  type DieFaultOnsetInput,
  dieFaultOnset,
  dieFaultOnsetCalculation,
} from './die-fault-onset.ts';
import { type DieLife, riskTable } from './die-life.ts';
import { dieLifeWeibull, dieLifeWeibullCalculation } from './die-life-weibull.ts';
import { dieRemainingLife, dieRemainingLifeCalculation } from './die-remaining-life.ts';
import { dieSurvival, dieSurvivalCalculation } from './die-survival.ts';
import { diesForOrder, diesForOrderCalculation } from './dies-for-order.ts';
import { logRank } from './log-rank.ts';

const failed = (...lives: number[]): DieLife[] =>
  lives.map((lifeStrikes) => ({ lifeStrikes, end: 'failed' }));
const censored = (...lives: number[]): DieLife[] =>
  lives.map((lifeStrikes) => ({ lifeStrikes, end: 'censored' }));

describe('the table of risk', () => {
  it('counts a die censored at a failure as at risk there, and several dies of one life', () => {
    const rows = riskTable([
      ...censored(5),
      ...failed(5),
      { lifeStrikes: 9, end: 'failed', countDies: 3 },
    ]);
    expect(rows).toEqual([
      { lifeStrikes: 5, atRiskDies: 5, failedDies: 1, censoredDies: 1 },
      { lifeStrikes: 9, atRiskDies: 3, failedDies: 3, censoredDies: 0 },
    ]);
  });

  it('refuses an empty list', () => {
    expect(() => riskTable([])).toThrow('a list of 1 to 100000 lives');
  });
});

describe('the survival curve', () => {
  const base = { confidence: 0.95, interval: 'log-log' as const };

  it('puts the median in the middle of a level at one half', () => {
    // Four lives without censoring: the curve is at one half from 20 to 30, so the median is 25.
    expect(dieSurvival({ lives: failed(10, 20, 30, 40), ...base }).medianStrikes).toBe(25);
    expect(dieSurvival({ lives: failed(10, 20, 30), ...base }).medianStrikes).toBe(20);
  });

  it('has no median when more than half of the dies outlive the longest', () => {
    const found = dieSurvival({ lives: [...failed(10), ...censored(20, 20, 20)], ...base });
    expect(found.medianStrikes).toBeNull();
    expect(found.words).toContain('75 % outlive 20 strikes');
  });

  it('refuses lives without a failure', () => {
    expect(() => dieSurvival({ lives: censored(10, 20), ...base })).toThrow(
      'at least one die that failed',
    );
  });

  it('says the median with its interval', () => {
    const { example, compute } = dieSurvivalCalculation;
    expect(compute(example).words).toBe(
      'Of 11 dies 7 failed. Half of the dies outlive 31 strikes (at 95 % confidence not below 13).',
    );
  });
});

describe('the Weibull life', () => {
  it('refuses lives that set no shape', () => {
    const given = { confidence: 0.95, risk: 0.1 };
    expect(() => dieLifeWeibull({ lives: censored(10, 20), ...given })).toThrow('no failure');
    expect(() => dieLifeWeibull({ lives: failed(10, 10), ...given })).toThrow(
      'failed before the longest life',
    );
  });

  it('says what the lives show about wear', () => {
    expect(dieLifeWeibullCalculation.compute(dieLifeWeibullCalculation.example).words).toContain(
      'do not show whether',
    );
    const worn = failed(90, 95, 100, 102, 105, 108, 110, 115, 120, 125);
    expect(dieLifeWeibull({ lives: worn, confidence: 0.95, risk: 0.01 }).words).toContain(
      'wear out',
    );
    const early = failed(1, 1.5, 3, 9, 40, 200, 900, 4000, 15_000);
    expect(dieLifeWeibull({ lives: early, confidence: 0.95, risk: 0.01 }).words).toContain(
      'weak dies fail early',
    );
  });
});

describe('the comparison of families', () => {
  it('refuses families that were never at risk together', () => {
    expect(() => logRank([riskTable(censored(1)), riskTable(failed(5))])).toThrow(
      'each at risk at some failure of another',
    );
    expect(() => logRank([riskTable(failed(5))])).toThrow('two or more families');
  });

  it('has no common shape when one family sets none', () => {
    const found = dieFamilyComparison({
      families: [
        { family: 'A', lives: failed(1, 2, 3) },
        { family: 'B', lives: censored(4, 5) },
      ],
      confidence: 0.9,
    });
    expect(found.commonShape).toBeNull();
    expect(found.families.map((one) => one.scaleStrikes)).toEqual([null, null]);
  });

  it('refuses two families of one name', () => {
    const { input, example } = dieFamilyComparisonCalculation;
    const families = example.families.map((one) => ({ ...one, family: 'same' }));
    expect(input.safeParse({ ...example, families }).error?.issues[0]?.message).toBe(
      'families with different names',
    );
  });
});

describe('the remaining life', () => {
  it('of dies without ageing does not depend on the age', () => {
    const at = (ageStrikes: number) =>
      dieRemainingLife({
        life: { from: 'known life', scaleStrikes: 1000, shape: 1 },
        ageStrikes,
        risk: 0.05,
        plannedStrikes: 500,
        confidence: 0.95,
      });
    // Exponential life: t = −scale·ln(1 − risk), probability 1 − exp(−planned/scale).
    for (const age of [0, 10, 5000]) {
      expect(at(age).remainingStrikes).toBeCloseTo(-1000 * Math.log(0.95), 9);
      expect(at(age).plannedFailureProbability).toBeCloseTo(1 - Math.exp(-0.5), 12);
    }
  });

  it('warns to plan by the lower end when the life was fitted', () => {
    const { compute, example } = dieRemainingLifeCalculation;
    expect(compute(example).words).toContain('plan by the lower figure');
  });
});

describe('dies for an order', () => {
  const life = { from: 'known life' as const, scaleStrikes: 100, shape: 2 };

  it('needs one die for an order so short that a double hardly tells it from none', () => {
    const exponential = { ...life, shape: 1 };
    const found = diesForOrder({ life: exponential, orderStrikes: 1e-300, risk: 0.05 });
    expect(found.expectedDies).toBe(1);
    expect(found.diesToHaveReady).toBe(1);
    // A share of a strike: P(a second die) = 1 − exp(−order ∕ scale), by hand.
    const share = diesForOrder({ life: exponential, orderStrikes: 1e-4, risk: 0.05 });
    expect(share.expectedDies).toBeCloseTo(1 + 1e-4 / exponential.scaleStrikes, 7);
  });

  it('without ageing need order/mean dies and one, or just order/mean beyond the one in the press', () => {
    const exponential = { ...life, shape: 1 };
    const one = diesForOrder({ life: exponential, orderStrikes: 700, risk: 0.05 });
    expect(one.expectedDies).toBeCloseTo(8, 6);
    const other = diesForOrder({
      life: exponential,
      orderStrikes: 700,
      risk: 0.05,
      presentDieStrikes: 90,
    });
    expect(other.expectedDies).toBeCloseTo(7, 6);
    expect(other.standardDeviationDies).toBeCloseTo(Math.sqrt(7), 5);
  });

  it('has probabilities that add to one, and enough dies ready', () => {
    const found = diesForOrderCalculation.compute(diesForOrderCalculation.example);
    const sum = found.distribution.reduce((total, row) => total + row.probability, 0);
    expect(sum).toBeCloseTo(1, 8);
    const ready = found.distribution[found.diesToHaveReady];
    expect(ready?.sufficeProbability).toBeGreaterThanOrEqual(0.95);
    expect(found.distribution[found.diesToHaveReady - 1]?.sufficeProbability).toBeLessThan(0.95);
  });

  it('refuses what its lattice cannot hold', () => {
    const ask = (changes: object) => () =>
      diesForOrder({ life, orderStrikes: 1000, risk: 0.05, ...changes });
    expect(ask({ orderStrikes: 20_000 })).toThrow('at most 200 mean lives');
    expect(ask({ life: { ...life, shape: 0.2 } })).toThrow('a shape from 0.3 to 20');
    expect(ask({ presentDieStrikes: 900 })).toThrow('a millionth of the dies');
  });
});

describe('the onset of a fault', () => {
  const { example, compute } = dieFaultOnsetCalculation;
  const base: DieFaultOnsetInput = {
    firstStrike: 1,
    lastStrike: 1000,
    prior: { kind: 'uniform', faultProbability: 1 },
    missProbability: 0,
    evidence: [
      { kind: 'check', strike: 400, sampleSizePieces: 1, badPieces: 0 },
      { kind: 'check', strike: 800, sampleSizePieces: 1, badPieces: 1 },
    ],
    risk: 0,
  };

  it('without misses holds from the strike after the last clean one', () => {
    const { all, lastCleanStrike, firstFindingStrike } = dieFaultOnset(base);
    expect(all).toMatchObject({ holdFromStrike: 401, heldPieces: 600, medianOnsetStrike: 600 });
    expect([lastCleanStrike, firstFindingStrike]).toEqual([400, 800]);
  });

  it('with misses weighs the two sides of a clean check by hand', () => {
    // One clean look that misses three of ten: 400 strikes at 0.3 against 400 at 1.
    const { intervals } = dieFaultOnset({ ...base, missProbability: 0.3 });
    expect(intervals[0]?.probability).toBeCloseTo(120 / 520, 12);
    expect(intervals[1]?.probability).toBeCloseTo(400 / 520, 12);
    expect(intervals[2]?.probability).toBe(0);
  });

  it('says how photographs narrow it and that the hold reaches behind clean looks', () => {
    const { words, all, checksOnly } = compute(example);
    expect(words).toContain('Without the photographs');
    expect(all.heldPieces).toBeLessThan(checksOnly?.heldPieces ?? 0);
    const wide = dieFaultOnset({ ...base, missProbability: 0.3, risk: 0.05 });
    expect(wide.cleanChecksHeld).toBe(1);
  });

  it('holds nothing when a fault is unlikely enough', () => {
    const found = dieFaultOnset({
      ...base,
      prior: { kind: 'uniform', faultProbability: 0.01 },
      evidence: [{ kind: 'check', strike: 1000, sampleSizePieces: 3, badPieces: 0 }],
      missProbability: 0.3,
      risk: 0.05,
    });
    expect(found.all).toMatchObject({ holdFromStrike: null, heldPieces: 0 });
    expect(found.firstFindingStrike).toBeNull();
  });

  it('refuses strikes out of order, more findings than looks, and contradicting looks', () => {
    expect(() => dieFaultOnset({ ...base, lastStrike: 1, firstStrike: 5 })).toThrow('lastStrike');
    const [first] = base.evidence;
    if (first?.kind !== 'check') throw new Error('no check');
    const alone = (changes: object) => () =>
      dieFaultOnset({ ...base, evidence: [{ ...first, ...changes }] });
    expect(alone({ strike: 1001 })).toThrow('a strike from 1 to 1000');
    expect(alone({ badPieces: 2 })).toThrow('a whole number from 0 to 1');
    expect(() =>
      dieFaultOnset({
        ...base,
        evidence: [
          { kind: 'check', strike: 400, sampleSizePieces: 1, badPieces: 1 },
          { kind: 'check', strike: 800, sampleSizePieces: 1, badPieces: 0 },
        ],
      }),
    ).toThrow('miss or false alarm probability above 0');
  });
});
