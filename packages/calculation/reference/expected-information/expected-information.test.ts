import { describe, expect, it } from 'vitest';
import { reweighingValue } from '../../src/search/reweighing.ts';
import values from './values.json' with { type: 'json' };

describe('the expected information of one result', () => {
  it('is that of the Z channel for a look that can overlook', () => {
    const { seenIfThere, probability, bits } = values.zChannel;
    const { checks } = reweighingValue({
      places: [],
      checks: [
        {
          name: 'floor',
          recordedPieces: 10,
          minutes: 1,
          options: [
            { pieces: -1, probability },
            { pieces: 0, probability: 1 - probability },
          ],
          act: { kind: 'count', seenIfThere, newErrorProbability: 0 },
        },
      ],
    });
    expect(checks[0]?.informationBits).toBeCloseTo(bits, 11);
  });

  it('is that of two signals in normal noise for a first weighing', () => {
    const { standardDeviation, distance, bits, tolerance } = values.binaryNormal;
    const { checks } = reweighingValue({
      places: [],
      checks: [
        {
          name: 'tube',
          recordedPieces: 20,
          minutes: 1,
          options: [
            { pieces: -1, probability: 0.5 },
            { pieces: 0, probability: 0.5 },
          ],
          act: {
            kind: 'weighing',
            pieceMassGrams: distance,
            weighings: 0,
            deviationGrams: 0,
            predictedGrams: 0,
            lastingStandardUncertaintyGrams: 0,
            repeatStandardUncertaintyGrams: standardDeviation,
            badWeighingProbability: 1e-12,
            badWeighingSpreadGrams: 1,
          },
        },
      ],
    });
    expect(Math.abs((checks[0]?.informationBits ?? 0) - bits)).toBeLessThan(tolerance);
  });
});
