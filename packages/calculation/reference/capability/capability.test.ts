import { describe, expect, it } from 'vitest';
import { capability } from '../../src/control/capability.ts';
import { indexValues, potentialIndex } from '../../src/control/capability-indices.ts';
import { seriesStatistics } from '../../src/control/series-statistics.ts';
import values from './values.json' with { type: 'json' };

describe('handbook 6.1.6', () => {
  const { inputs, printed } = values.handbook;
  const found = indexValues(
    { lowerLimit: inputs.LSL, upperLimit: inputs.USL },
    { middle: inputs.mean, widthBelow: 3 * inputs.s, widthAbove: 3 * inputs.s },
  );

  it('Cp, Cpu, Cpl and Cpk to four decimals', () => {
    expect(found.potential?.toFixed(4)).toBe(printed.Cp.toFixed(4));
    expect(found.toUpperLimit?.toFixed(4)).toBe(printed.Cpu.toFixed(4));
    expect(found.toLowerLimit?.toFixed(4)).toBe(printed.Cpl.toFixed(4));
    expect(found.actual.toFixed(4)).toBe(printed.Cpk.toFixed(4));
  });

  it('Cpk is Cp(1 − k) with the printed k', () => {
    const k =
      Math.abs((inputs.USL + inputs.LSL) / 2 - inputs.mean) / ((inputs.USL - inputs.LSL) / 2);
    expect(k.toFixed(4)).toBe(printed.k.toFixed(4));
    expect(found.actual).toBeCloseTo((found.potential ?? 0) * (1 - k), 12);
  });

  it('the same through the catalogue entry', () => {
    const output = capability({
      data: {
        kind: 'summary',
        mean: inputs.mean,
        standardDeviation: inputs.s,
        countPieces: 100,
      },
      method: 'normal',
      lowerLimit: inputs.LSL,
      upperLimit: inputs.USL,
      confidence: 0.95,
    });
    expect(output.overall.potential?.value).toBeCloseTo(printed.Cp, 12);
    expect(output.words).toContain('could not be tested');
  });
});

describe('interval of Cp', () => {
  it('is that of the textbook example, to its two decimals', () => {
    const {
      index,
      countPieces: count,
      confidence,
      lowerBound,
      upperBound,
    } = values.textbookInterval;
    const found = potentialIndex(index, { count, degreesOfFreedom: count - 1, confidence });
    expect(found.lowerBound?.toFixed(2)).toBe(lowerBound);
    expect(found.upperBound?.toFixed(2)).toBe(upperBound);
  });
});

describe('hardness of dental gold', () => {
  it('cannot be normal: refused with the reason and what would be accepted', () => {
    const input = {
      data: { kind: 'individuals' as const, values: values.dentalGold.values },
      method: 'normal' as const,
      lowerLimit: 300,
      confidence: 0.95,
    };
    expect(() => capability(input)).toThrow(/not normal \(Anderson–Darling.*percentile/s);
    const { mean, standardDeviation } = seriesStatistics(values.dentalGold.values);
    expect(mean).toBeCloseTo(values.dentalGold.computed.mean, 8);
    expect(standardDeviation).toBeCloseTo(values.dentalGold.computed.sd, 8);
  });
});
