import { describe, expect, it } from 'vitest';
import { DomainError } from '../quantity/domain.ts';
import { alarmProbability, attributeDifference, smallestLossFound } from './alarm.ts';
import { fineMetal } from './fine-balance.ts';
import { pieceBalance } from './piece-nodes.ts';

describe('the functions behind the balance', () => {
  it('do as their examples say', () => {
    const alarm = { lossGrams: 31.1, standardUncertaintyGrams: 9.1147, factor: 3 };
    expect(alarmProbability({ ...alarm, sides: 'one' })).toBeCloseTo(0.6599, 4);
    const risks = { falseAlarmProbability: 0.05, missProbability: 0.05, sides: 'one' } as const;
    expect(smallestLossFound({ standardUncertaintyGrams: 1, ...risks })).toBeCloseTo(3.2897, 4);
    const parts = attributeDifference(20, [
      { source: 'gain R', standardUncertaintyGrams: 3 },
      { source: 'random', standardUncertaintyGrams: 4 },
    ]);
    expect(parts[0]?.expectedPartGrams).toBeCloseTo(7.2, 12);
    const sweeps = {
      massGrams: 11850,
      massStandardUncertaintyGrams: 5,
      fineness: 0.35,
      finenessStandardUncertainty: 0.012,
    };
    expect(fineMetal([sweeps], { assayBias: 0, gain: 0 }).fineGrams).toBeCloseTo(4147.5, 9);
    const nodes = { A: { opening: 100, closing: 60 }, B: { opening: 0, closing: 41 } };
    const transfer = { from: 'A', to: 'B', sent: 40, received: 41 };
    expect(pieceBalance(nodes, [transfer]).internalGap).toBe(-1);
  });

  it('need a larger loss when gains are looked for too', () => {
    const options = {
      standardUncertaintyGrams: 1,
      falseAlarmProbability: 0.05,
      missProbability: 0.05,
    };
    expect(smallestLossFound({ ...options, sides: 'two' })).toBeCloseTo(1.959964 + 1.644854, 6);
  });

  it('refuse what lies outside their ranges', () => {
    const alarm = { lossGrams: 1, standardUncertaintyGrams: 1, factor: 3, sides: 'one' } as const;
    expect(() => alarmProbability({ ...alarm, standardUncertaintyGrams: 0 })).toThrow(DomainError);
    expect(() => alarmProbability({ ...alarm, factor: -1 })).toThrow(DomainError);
    const loss = {
      standardUncertaintyGrams: 1,
      falseAlarmProbability: 0.05,
      missProbability: 0.05,
      sides: 'one',
    } as const;
    expect(() => smallestLossFound({ ...loss, missProbability: 0.5 })).toThrow(DomainError);
    expect(() => smallestLossFound({ ...loss, standardUncertaintyGrams: -1 })).toThrow(DomainError);
    const source = (standardUncertaintyGrams: number) => [
      { source: 'x', standardUncertaintyGrams },
    ];
    expect(() => attributeDifference(1, source(0))).toThrow(DomainError);
    expect(() => attributeDifference(1, source(-1))).toThrow(DomainError);
    expect(() => pieceBalance({ A: { opening: 1.5, closing: 0 } }, [])).toThrow('nodes.A.opening');
    expect(() => pieceBalance({}, [{ from: 'A', to: 'B', sent: -1, received: 0 }])).toThrow(
      'transfers.0.sent',
    );
    const lot = {
      massGrams: 1,
      massStandardUncertaintyGrams: 0,
      fineness: 1.1,
      finenessStandardUncertainty: 0,
    };
    expect(() => fineMetal([lot], { assayBias: 0, gain: 0 })).toThrow('lots.0.fineness');
  });
});
