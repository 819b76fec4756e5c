import { describe, expect, it } from 'vitest';
import { type DetectionLimitInput, detectionLimit } from './detection-limit.ts';

const shared = {
  sampleReadings: 1,
  falseAlarmProbability: 0.05,
  missProbability: 0.05,
  quantificationFactor: 3,
};
const blanks = (blankSignals: number[], sensitivity = 2): DetectionLimitInput => ({
  ...shared,
  basis: { kind: 'blanks', blankSignals, sensitivity },
});

describe('detectionLimit', () => {
  it('does as its example says', () => {
    const output = detectionLimit({
      ...shared,
      basis: { kind: 'known deviation', blankStandardDeviation: 0.004, blankReadings: 1 },
    });
    expect(output.detectionLimit).toBeCloseTo(0.018609394, 9);
    expect(output.degreesOfFreedom).toBeNull();
  });

  it('takes the spread from blanks by Student', () => {
    // Blanks 10, 12, 11, 13, 14: s = 1.5811, t(0.95; 4) = 2.1318; s₀ = s/2·√(1 + 1/5).
    const {
      decisionLimit,
      detectionLimit: limit,
      standardDeviationAtNothing,
    } = detectionLimit(blanks([10, 12, 11, 13, 14]));
    const s0 = (Math.sqrt(2.5) / 2) * Math.sqrt(1.2);
    expect(standardDeviationAtNothing).toBeCloseTo(s0, 12);
    expect(decisionLimit).toBeCloseTo(2.131846786 * s0, 8);
    expect(limit).toBeCloseTo(2 * decisionLimit, 12);
  });

  it('has no limit of quantification on a line that never gets so sure', () => {
    const output = detectionLimit({
      ...shared,
      quantificationFactor: 100,
      basis: {
        kind: 'calibration line',
        points: [
          { content: 0, signal: 0 },
          { content: 1, signal: 1.4 },
          { content: 2, signal: 1.7 },
          { content: 3, signal: 3.2 },
        ],
      },
    });
    expect(output.quantificationLimit).toBeNull();
    expect(output.words).toContain('No content is ever known well enough');
  });

  it.each([
    ['blanks without spread', blanks([5, 5, 5]), 'enough digits to differ'],
    [
      'a line without residuals',
      {
        ...shared,
        basis: {
          kind: 'calibration line' as const,
          points: [1, 2, 3].map((content) => ({ content, signal: content })),
        },
      },
      'scatter about their line',
    ],
  ])('refuses %s', (_, input, message) => {
    expect(() => detectionLimit(input)).toThrow(message);
  });
});
