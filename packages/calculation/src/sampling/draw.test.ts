import { describe, expect, it } from 'vitest';
import type { Calculation } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import { allocateSample } from './allocation.ts';
import { draw, drawCalculation } from './draw.ts';
import { seededIntegers } from './seeded-integers.ts';

const calculation = drawCalculation as unknown as Calculation;
const { example } = drawCalculation;
const seed = '0123456789abcdef';

describe('draw', () => {
  it('gives the examples of its documentation', () => {
    const containers = [{ container: 'drum 1', pieces: 10 }];
    expect(draw({ seed, containers, sampleSizePieces: 2 }).picks).toHaveLength(2);
    expect(allocateSample([100, 50, 50], 8, seededIntegers(seed))).toEqual([4, 2, 2]);
    const number = seededIntegers('0'.repeat(32)).below(100);
    expect(Number.isInteger(number) && number >= 0 && number < 100).toBe(true);
  });

  it('gives every container at least one piece where the sample suffices', () => {
    const allocation = allocateSample([10_000, 1, 1, 5], 6, seededIntegers(seed));
    expect(allocation).toEqual([3, 1, 1, 1]);
  });

  it('shares by the largest remainder', () => {
    // Shares 4.75, 3.2 and 2.05: the one piece left goes to the first.
    expect(allocateSample([475, 320, 205], 10, seededIntegers(seed))).toEqual([5, 3, 2]);
  });

  it('draws every piece when the sample is the whole lot', () => {
    const containers = [
      { container: 'a', pieces: 3, trayPieces: 2 },
      { container: 'b', pieces: 2 },
    ];
    expect(draw({ seed, containers, sampleSizePieces: 5 }).picks).toEqual([
      { pick: 1, container: 'a', tray: 1, position: 1 },
      { pick: 2, container: 'a', tray: 1, position: 2 },
      { pick: 3, container: 'a', tray: 2, position: 1 },
      { pick: 4, container: 'b', position: 1 },
      { pick: 5, container: 'b', position: 2 },
    ]);
  });

  it('refuses a sample above the pieces there are', () => {
    const result = runCalculation(calculation, { ...example, sampleSizePieces: 3201 });
    expect(result).toMatchObject({
      outcome: 'refused',
      problems: [
        {
          field: 'sampleSizePieces',
          value: 3201,
          accepted: 'a whole number from 1 to the 3200 pieces in the containers',
        },
      ],
    });
  });

  it('refuses a container named twice', () => {
    const containers = [
      { container: 'drum 1', pieces: 5 },
      { container: 'drum 1', pieces: 5 },
    ];
    expect(runCalculation(calculation, { ...example, containers })).toMatchObject({
      outcome: 'refused',
      problems: [{ field: 'containers.1.container', value: 'drum 1' }],
    });
  });

  it.each(['', '0123456789abcde', 'g123456789abcdef', ' 123456789abcdef', 123])(
    'refuses the seed %j',
    (value) => {
      const result = runCalculation(calculation, { ...example, seed: value });
      if (result.outcome !== 'refused') throw new Error('was not refused');
      expect(result.problems[0]).toMatchObject({ field: 'seed', value });
      expect(result.problems[0]?.accepted).toContain('at least 16 hexadecimal digits');
    },
  );

  it('refuses bounds without a whole number below them', () => {
    const stream = seededIntegers(seed);
    expect(() => stream.below(0)).toThrow('bound is 0');
    expect(() => stream.below(2.5)).toThrow('bound is 2.5');
    expect(() => seededIntegers('12')).toThrow('at least 16 hexadecimal digits');
  });

  it('shows how many pieces come from each container', () => {
    const charts = drawCalculation.draw?.(example, draw(example)) ?? [];
    expect(charts[0]).toMatchObject({ series: [{ x: [1, 2, 3], y: [3, 3, 2] }] });
  });
});
