import { describe, expect, it } from 'vitest';
import { type ExaminedRun, heldByFault, piecesHeld, type SeenFault } from './hold-scope.ts';

const [night, early] = ['2026-03-01-night', '2026-03-02-early'];

const examined = (
  run: string,
  strikes: readonly (readonly [strikeNumber: number, verdict: string, shift: string])[],
  strokes: number | null = null,
): ExaminedRun => ({
  run,
  melt: 'M-1',
  strokes,
  strikes: strikes.map(([strikeNumber, verdict, shift]) => ({ strikeNumber, verdict, shift })),
});

const fault = (family: SeenFault['family'], more: Partial<SeenFault> = {}): SeenFault => ({
  family,
  run: examined('R-2', [
    [1, 'approved', night],
    [200, 'approved', night],
    [400, 'approved', early],
  ]),
  strikeNumber: 650,
  shift: early,
  otherRunsOfMelt: [],
  otherRunsOfShift: [],
  ...more,
});

const range = (run: string, strikeFrom: number, strikeTo: number) => ({
  run,
  melt: 'M-1',
  strikeFrom,
  strikeTo,
});

describe('a fault of a die or collar', () => {
  it('holds the bracket behind the last approved strike, the faulty one included', () => {
    const held = heldByFault(fault('die or collar'));
    expect(held).toEqual([range('R-2', 401, 650)]);
    expect(piecesHeld(held)).toBe(250);
  });

  it('holds the run from its beginning where nothing was approved', () => {
    const run = examined('R-2', [[3, 'fault', early]]);
    expect(heldByFault(fault('die or collar', { run, strikeNumber: 5 }))).toEqual([
      range('R-2', 1, 5),
    ]);
  });

  it('reaches back over an earlier fault to the strike that was approved', () => {
    const run = examined('R-2', [
      [1, 'approved', night],
      [100, 'fault', early],
    ]);
    expect(heldByFault(fault('die or collar', { run, strikeNumber: 120 }))).toEqual([
      range('R-2', 2, 120),
    ]);
  });

  it('leaves other runs of the melt and of the press alone', () => {
    const others = [examined('R-1', [[300, 'approved', early]], 300)];
    const held = heldByFault(
      fault('die or collar', { otherRunsOfMelt: others, otherRunsOfShift: others }),
    );
    expect(held.map(({ run }) => run)).toEqual(['R-2']);
  });
});

describe('a fault of the metal', () => {
  it('holds every piece struck from the melt, in closed runs and in open ones', () => {
    const closed = examined('R-1', [[300, 'approved', night]], 310);
    const open = examined('R-3', [[70, 'approved', early]]);
    const empty = examined('R-4', []);
    expect(heldByFault(fault('metal', { otherRunsOfMelt: [closed, open, empty] }))).toEqual([
      range('R-2', 1, 650),
      range('R-1', 1, 310),
      range('R-3', 1, 70),
    ]);
  });
});

describe('a fault of feeding or handling', () => {
  it('holds what the press struck in the shift, behind the last strike approved before it', () => {
    const before = examined(
      'R-1',
      [
        [90, 'approved', night],
        [120, 'approved', early],
      ],
      120,
    );
    expect(heldByFault(fault('feeding or handling', { otherRunsOfShift: [before] }))).toEqual([
      range('R-2', 201, 650),
      range('R-1', 91, 120),
    ]);
  });
});
