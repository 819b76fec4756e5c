import { describe, expect, it } from 'vitest';
import { milligramsPerKilogram, readComposition } from './content.ts';

describe('a composition as it is typed', () => {
  it('is read with either decimal mark and any separator', () => {
    expect(readComposition('Ag 12; Cu: 5,5,fe <2\nPb = 0.4')).toEqual({
      contents: [
        { element: 'Ag', content: 12, isBelow: false },
        { element: 'Cu', content: 5.5, isBelow: false },
        { element: 'Fe', content: 2, isBelow: true },
        { element: 'Pb', content: 0.4, isBelow: false },
      ],
      notRead: '',
    });
    expect(readComposition('')).toEqual({ contents: [], notRead: '' });
  });

  it('says what it could not read', () => {
    expect(readComposition('Ag 12; traces of Cu')).toMatchObject({ notRead: 'traces of Cu' });
  });
});

describe('a content in mg/kg', () => {
  it('is exact in its digits', () => {
    // 1 % is 10 000 mg/kg and 1 ‰ is 1000 mg/kg; 0.07 × 10 000 in doubles is 700.0000000000001.
    expect(milligramsPerKilogram(0.07, '%')).toBe(700);
    expect(milligramsPerKilogram(0.065, '‰')).toBe(65);
    expect(milligramsPerKilogram(5, 'ppm')).toBe(5);
    expect(milligramsPerKilogram(1e-7, '%')).toBe(0.001);
  });
});
