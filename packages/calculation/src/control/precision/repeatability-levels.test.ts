import { describe, expect, it } from 'vitest';
import { repeatabilityLevels } from './repeatability-levels.ts';

const run = (runs: readonly (readonly number[])[], reportedReadingCount = 4) =>
  repeatabilityLevels({
    characteristic: 'Mass',
    unit: 'g',
    artefacts: [
      {
        name: 'Check piece',
        runs: runs.map((means, index) => ({
          name: `Run ${index + 1}`,
          days: means.map((mean) => ({ mean, standardDeviation: 2, readingCount: 4 })),
        })),
      },
    ],
    reportedReadingCount,
    confidencePercent: 95,
  });

describe('repeatability over days and runs', () => {
  it('computes a case by hand', () => {
    // s₁ 2; day means 10, 14 and 20, 24: s₂² = 8; run means 12 and 22: s₃² = 50.
    const output = run([
      [10, 14],
      [20, 24],
    ]);
    expect(output.readings).toMatchObject({ standardDeviation: 2, degreesOfFreedom: 12 });
    expect(output.days.standardDeviation).toBeCloseTo(Math.sqrt(8), 14);
    expect(output.runs?.standardDeviation).toBeCloseTo(Math.sqrt(50), 14);
    // Days alone 8 − 4/4 = 7; runs alone 50 − 8/2 = 46; a mean of four readings 46 + 7 + 1.
    expect(output.dayComponent ** 2).toBeCloseTo(7, 12);
    expect((output.runComponent ?? 0) ** 2).toBeCloseTo(46, 12);
    expect(output.reportedStandardUncertainty ** 2).toBeCloseTo(54, 12);
    // 50·1 + 8·(1 − 1/2) with 1 and 2 degrees of freedom: 54²/(50² + 4²/2).
    expect(output.reportedDegreesOfFreedom).toBeCloseTo(54 ** 2 / (2500 + 8), 10);
  });

  it('takes 0 for days that scatter less than their readings, and does without runs', () => {
    const output = run([[10, 10.1, 9.9]], 1);
    expect(output.dayComponent).toBe(0);
    expect(output.runs).toBe(null);
    expect(output.runComponent).toBe(null);
    expect(output.reportedStandardUncertainty).toBeCloseTo(2, 12);
    expect(output.words).not.toContain('runs add');
  });
});
