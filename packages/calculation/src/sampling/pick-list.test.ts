import { describe, expect, it } from 'vitest';
import type { Calculation } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import { draw, drawCalculation } from './draw.ts';
import { pickList, pickListCalculation } from './pick-list.ts';

const calculation = pickListCalculation as unknown as Calculation;
const { example } = pickListCalculation;

describe('pickList', () => {
  it('puts containers, trays and positions into walking order', () => {
    expect(pickList(example)).toEqual({
      stops: [
        {
          container: 'drum 3',
          melt: 'M-118',
          pieces: 1,
          takenBefore: 0,
          trays: [{ tray: null, positions: [511] }],
        },
        {
          container: 'drum 1',
          melt: 'M-117',
          pieces: 3,
          takenBefore: 1,
          trays: [
            { tray: 1, positions: [30] },
            { tray: 4, positions: [2, 12] },
          ],
        },
      ],
      pieces: 4,
      containersPassedBy: 1,
      words: 'Take 4 pieces at 2 of 3 containers. 1 are passed by.',
    });
  });

  it('holds every pick of a draw, in its order, and is the same for picks in any order', () => {
    const input = drawCalculation.example;
    const picks = draw(input).picks.map(({ pick: _, ...place }) => place);
    const walk = input.containers.map(({ container }) => ({ container }));
    const list = pickList({ walk, picks });
    const flat = list.stops.flatMap(({ container, trays }) =>
      trays.flatMap(({ tray, positions }) =>
        positions.map((position) => ({
          container,
          ...(tray === null ? {} : { tray }),
          position,
        })),
      ),
    );
    expect(flat).toEqual(picks);
    expect(pickList({ walk, picks: picks.toReversed() })).toEqual(list);
    expect(list.stops.every(({ melt }) => melt === null)).toBe(true);
  });

  it.each([
    [
      'a container twice on the walk',
      { walk: [...example.walk, { container: 'drum 1' }] },
      'walk.3.container',
    ],
    ['a container that is not on the walk', { walk: example.walk.slice(1) }, 'picks.3.container'],
    [
      'a place twice',
      { picks: [...example.picks, { container: 'drum 3', position: 511 }] },
      'picks.4.position',
    ],
    ['no pick', { picks: [] }, 'picks'],
  ])('refuses %s', (_, change, field) => {
    const result = runCalculation(calculation, { ...example, ...change });
    if (result.outcome !== 'refused') throw new Error('was not refused');
    expect(result.problems[0]?.field).toBe(field);
    expect(result.problems[0]?.accepted.length).toBeGreaterThan(5);
  });
});
