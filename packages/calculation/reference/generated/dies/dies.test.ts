import { describe, expect, it } from 'vitest';
import { dieFaultOnset } from '../../../src/dies/die-fault-onset.ts';
import { type DieLife, riskTable } from '../../../src/dies/die-life.ts';
import { renewalShortfalls } from '../../../src/dies/renewal-count.ts';
import { weibullData, weibullFit } from '../../../src/dies/weibull-fit.ts';
import { lifeAtRiskInterval, shapeInterval } from '../../../src/dies/weibull-profile.ts';
import lives from '../../die-lives/values.json' with { type: 'json' };
import values from './values.json' with { type: 'json' };

const setOf = { nist: 'nist', aml: 'aml-Maintained' } as const;

function dataOf(id: string) {
  const set = lives.sets.find((one) => one.id === setOf[id as keyof typeof setOf]);
  return weibullData(riskTable(set?.lives as DieLife[]));
}

function relative(found: number | null, expected: number): number {
  return Math.abs((found ?? Number.NaN) / expected - 1);
}

describe('profile likelihood intervals', () => {
  it.each(values.intervals)('$id at age $age and risk $risk', (one) => {
    const data = dataOf(one.id);
    const at = { ageStrikes: one.age, risk: one.risk };
    const found = lifeAtRiskInterval(data, weibullFit(data), at, one.confidence);
    expect(relative(found.lower, one.lower)).toBeLessThan(1e-6);
    expect(relative(found.upper, one.upper)).toBeLessThan(1e-6);
  });

  it.each(values.shapes)('shape of $id at $confidence', (one) => {
    const data = dataOf(one.id);
    const found = shapeInterval(data, weibullFit(data), one.confidence);
    expect(relative(found.lower, one.lower)).toBeLessThan(1e-9);
    expect(relative(found.upper, one.upper)).toBeLessThan(1e-9);
  });
});

describe('lives short of an order', () => {
  it.each(values.renewal)('shape $shape, order $order', ({ shape, order, two, three }) => {
    const found = renewalShortfalls({ scaleStrikes: 1, shape, firstAgeStrikes: 0 }, order);
    expect(Math.abs((found[1] ?? 0) - two)).toBeLessThan(1e-7);
    expect(Math.abs((found[2] ?? 0) - three)).toBeLessThan(1e-7);
  });
});

describe('onset of a fault, strike by strike', () => {
  it.each(values.onsets)('from $firstStrike to $lastStrike, $prior.kind', (one) => {
    const found = dieFaultOnset({
      firstStrike: one.firstStrike,
      lastStrike: one.lastStrike,
      prior: one.prior as Parameters<typeof dieFaultOnset>[0]['prior'],
      missProbability: 0.3,
      evidence: one.looks.map(([strike = 0, pieces = 0, bad = 0, miss = 0, alarm = 0]) => ({
        kind: 'check' as const,
        strike,
        sampleSizePieces: pieces,
        badPieces: bad,
        missProbability: miss,
        falseAlarmProbability: alarm,
      })),
      risk: one.risk,
    }).all;
    expect(relative(found.faultProbability, one.faultProbability)).toBeLessThan(1e-11);
    expect(relative(found.expectedFaultyPieces, one.expectedFaulty)).toBeLessThan(1e-11);
    expect(found.heldPieces).toBe(one.heldPieces);
    expect(relative(found.releasedRisk, one.releasedRisk)).toBeLessThan(1e-11);
    expect(relative(found.releasedFaultyPieces, one.releasedFaulty)).toBeLessThan(1e-11);
    expect(found.medianOnsetStrike).toBe(one.median);
  });
});
