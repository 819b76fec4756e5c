import { describe, expect, it } from 'vitest';
import { limitsIn, standardsIn, textOfLimits, textOfStandards } from './method-text.ts';
import { method } from './result-trial.ts';

describe('a method as it is typed', () => {
  it('names limits and standards with either decimal mark, and reads back what it shows', () => {
    const limits = [
      { element: 'Cu', detectionLimit: 0.5 },
      { element: 'Fe', detectionLimit: 1.25 },
    ];
    expect(limitsIn('Cu 0,5; Eisen 1.25')).toEqual({ limits });
    expect(limitsIn(textOfLimits({ ...method, limits }))).toEqual({ limits });
    const standards = [
      { label: 'Std 1', contents: [{ element: 'Cu', content: 10 }] },
      {
        label: 'Std 2',
        contents: [
          { element: 'Cu', content: 20.5 },
          { element: 'Fe', content: 5 },
        ],
      },
    ];
    expect(standardsIn('Std 1: Cu 10\nStd 2: Cu 20,5; Fe 5')).toEqual({ standards });
    expect(standardsIn(textOfStandards({ ...method, standards }))).toEqual({ standards });
    expect(limitsIn('')).toEqual({ limits: [] });
  });

  it('says which part is none', () => {
    expect(limitsIn('Cu 0.5; Xy 1')).toEqual({
      problem: '“Xy 1” is no element with its content, as “Cu 0.5”',
    });
    expect(standardsIn('Std 1 Cu 10')).toEqual({
      problem: '“Std 1 Cu 10” is no standard, as “Std 1: Cu 10; Fe 5”',
    });
    expect(standardsIn('Std 1: Cu ten')).toEqual({
      problem: '“Cu ten” is no element with its content, as “Cu 0.5”',
    });
  });
});
