import { describe, expect, it } from 'vitest';
import { calculationById } from './catalogue.ts';
import { runCalculation } from './run.ts';
import { withRealMinus, wordsInPrint } from './words-in-print.ts';

describe('words of a result', () => {
  it('have a real minus where a hyphen is the sign of a number', () => {
    expect(withRealMinus('from -0.3 to -12 (-5 g), r -0.98')).toBe(
      'from −0.3 to −12 (−5 g), r −0.98',
    );
  });

  it('keep the hyphens of names, dates, ranges and powers', () => {
    const text = 'Melt M-1, box 7-12 of 2026-03-02, ISO 5725-6, 5.8e-7, mass-weighted, T-3/-4';
    expect(withRealMinus(text)).toBe(text);
  });

  it('are changed wherever they stand, and nothing else is', () => {
    const output = {
      words: 'about -1',
      label: '-1',
      parts: [{ words: '-2', value: -2 }],
      none: null,
    };
    expect(wordsInPrint(output)).toEqual({
      words: 'about −1',
      label: '-1',
      parts: [{ words: '−2', value: -2 }],
      none: null,
    });
    const plain = { words: 'about 1', parts: [1, 2] };
    expect(wordsInPrint(plain)).toBe(plain);
  });

  it('are so in what a calculation of the catalogue answers', () => {
    const result = runCalculation(calculationById('calibration-line'), {
      model: 'straight line',
      weighting: 'equal',
      points: [0, 1, 2, 3].map((content) => ({
        content,
        signal: -1 + content + (content % 2) / 10,
      })),
      readings: [],
      confidencePercent: 95,
    });
    if (result.outcome === 'refused') throw new Error('it was refused');
    expect((result.output as { words: string }).words).toMatch(/^Intercept −0\.98/);
  });
});
