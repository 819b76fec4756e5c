import { describe, expect, it } from 'vitest';
import { acceptZeroPlan } from '../../src/sampling/accept-zero-plan.ts';
import values from './values.json' with { type: 'json' };

const sampleFor = (lotSizePieces: number, affected: number): number =>
  acceptZeroPlan({
    lotSizePieces,
    toleratedPieces: affected - 1,
    confidence: values.confidence,
  }).sampleSizePieces;

describe('samples that show one of the affected', () => {
  it.each(values.rows as [number, number, number][])(
    'of %i with %i %% affected: %i',
    (lot, percent, sample) => {
      expect(sampleFor(lot, (lot * percent) / 100)).toBe(sample);
    },
  );

  it('lie within one piece of the approximation in use', () => {
    for (const lot of [20, 50, 100, 300, 1000, 5000]) {
      for (const percent of [1, 2, 5, 10, 20, 40]) {
        const affected = Math.max(1, Math.round((lot * percent) / 100));
        const formula =
          (1 - (1 - values.confidence) ** (1 / affected)) * (lot - (affected - 1) / 2);
        expect(Math.abs(sampleFor(lot, affected) - formula)).toBeLessThanOrEqual(1);
      }
    }
  });
});
