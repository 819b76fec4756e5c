import { describe, expect, it } from 'vitest';
import { detectionLimit } from '../../src/assay/detection-limit.ts';
import values from './values.json' with { type: 'json' };

function caseOf(id: string) {
  const found = values.cases.find((one) => one.id === id);
  if (!found) throw new Error(`no case ${id}`);
  const inputs = found.inputs as unknown as Record<string, number & number[]>;
  const check = (actual: Readonly<Record<string, number | null>>) => {
    const named = found.expected.filter((one) => one.name in actual);
    expect(named).toHaveLength(Object.keys(actual).length);
    for (const { name, value, tolerance } of named) {
      expect(Math.abs((actual[name] ?? Number.NaN) - value), name).toBeLessThanOrEqual(tolerance);
    }
  };
  return { inputs, check };
}

const line = (x: readonly number[], y: readonly number[]) => ({
  kind: 'calibration line' as const,
  points: x.map((content, i) => ({ content, signal: y[i] ?? 0 })),
});

describe('decision and detection limits', () => {
  it('gives the limits of DIN 32645', () => {
    const { inputs, check } = caseOf('din32645');
    const found = detectionLimit({
      basis: line(inputs['x'] ?? [], inputs['y'] ?? []),
      sampleReadings: inputs['m'] ?? 0,
      falseAlarmProbability: inputs['alpha'] ?? 0,
      missProbability: inputs['beta'] ?? 0,
      quantificationFactor: inputs['k'] ?? 0,
    });
    check({
      'critical value x (two figures)': found.decisionLimit,
      'critical value x': found.decisionLimit,
      'minimum detectable value': found.detectionLimit,
      'quantification limit': found.quantificationLimit,
    });
  });

  it('gives the factors of Currie', () => {
    const { inputs, check } = caseOf('currie-known-sigma');
    const of = (blankReadings: number, blankStandardDeviation: number) =>
      detectionLimit({
        basis: { kind: 'known deviation', blankStandardDeviation, blankReadings },
        sampleReadings: 1,
        falseAlarmProbability: inputs['alpha=beta'] ?? 0,
        missProbability: inputs['alpha=beta'] ?? 0,
        quantificationFactor: 3,
      });
    check({
      'L_C = 1.645 sqrt2 sigma': of(1, inputs['sigma_0'] ?? 0).decisionLimit,
      'L_D = 2 L_C': of(1, inputs['sigma_0'] ?? 0).detectionLimit,
      '2.33 factor': of(1, 1).decisionLimit,
      '4.65 factor': of(1, 1).detectionLimit,
      '3.29 factor (well-known blank)': of(1_000_000, 1).detectionLimit,
    });
  });

  it('lies well above the rule of 3.3·s/b, which forgets that the line itself is uncertain', () => {
    const { inputs } = caseOf('fluorescein-lod');
    const found = detectionLimit({
      basis: line(inputs['c'] ?? [], inputs['intensity'] ?? []),
      sampleReadings: 1,
      falseAlarmProbability: 0.05,
      missProbability: 0.05,
      quantificationFactor: 3,
    });
    // 0.740 printed for the rule; exactly 2·2.015·s/b·√(1 + 1/7 + 36/112) = 1.0935.
    expect(found.detectionLimit / 0.74).toBeCloseTo(1.478, 2);
  });
});
