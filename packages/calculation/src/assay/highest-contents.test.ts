import { describe, expect, it } from 'vitest';
import { highestContents, type SolutionContent } from './highest-contents.ts';

const content = (
  element: string,
  found: number | null,
  u: number,
  limit: number,
): SolutionContent => ({
  element,
  contentMilligramsPerKilogram: found,
  standardUncertaintyMilligramsPerKilogram: u,
  detectionLimitMilligramsPerKilogram: limit,
});

describe('the highest contents of several solutions', () => {
  it('are those with the highest figure to reckon with, one for each element', () => {
    const silver = [content('Ag', 12, 1, 1), content('Ag', 13, 0.1, 1)];
    const copper = [content('Cu', null, 0, 5), content('Cu', 3, 0.5, 1)];
    // 12 + 2 × 1 is above 13 + 2 × 0.1; a detection limit of 5 is above 3 + 2 × 0.5.
    expect(highestContents([...copper, ...silver], 2)).toEqual([silver[0], copper[0]]);
    expect(highestContents([...copper, ...silver], 0)).toEqual([silver[1], copper[0]]);
  });

  it('take a content below its detection limit for the limit', () => {
    const [below, found] = [content('Pb', 0.5, 0.1, 2), content('Pb', 1.5, 0.1, 1)];
    expect(highestContents([found, below], 2)).toEqual([below]);
  });
});
