import { describe, expect, it } from 'vitest';
import { probabilityPercentText, probabilityText } from './probability-text.ts';

const rare = 'less than 1 in 10\u00a0000';

describe('a probability in words', () => {
  it('has two digits of itself, or of what it lacks to 1', () => {
    expect(
      [0.5, 0.03217, 1e-4, 0.95, 0.9876, 0.99996, 0.9999, 0.999_998_6].map((p) =>
        probabilityText(p),
      ),
    ).toEqual(['0.5', '0.032', '0.0001', '0.95', '0.988', '0.99996', '0.9999', '0.9999986']);
  });

  it('is never printed as impossible or as sure', () => {
    for (const probability of [0, 1e-300, 9.99e-5]) {
      expect(probabilityText(probability)).toBe(rare);
      expect(probabilityPercentText(probability)).toBe(rare);
    }
    for (const probability of [1, 1 - 1e-16, 1 - 1e-10]) {
      expect(probabilityText(probability)).toBe('more than 0.999999999');
      expect(probabilityPercentText(probability)).toBe('more than 99.9999999 %');
    }
  });

  it('keeps as many decimals as are asked, and more where they are needed', () => {
    expect(probabilityText(0.8413447, 4)).toBe('0.8413');
    expect(probabilityText(0.5, 4)).toBe('0.5000');
    expect(probabilityText(0.99996, 4)).toBe('0.99996');
    expect(probabilityText(0.999_999, 4)).toBe('0.999999');
  });

  it('is the same in per cent', () => {
    expect([0.5, 0.03217, 0.0012, 0.9876, 0.99996].map((p) => probabilityPercentText(p))).toEqual([
      '50 %',
      '3.2 %',
      '0.12 %',
      '98.8 %',
      '99.996 %',
    ]);
    expect(probabilityPercentText(0.5, 1)).toBe('50.0 %');
  });
});
