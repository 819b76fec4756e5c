import { describe, expect, it } from 'vitest';
import {
  countOf,
  freeLineLabel,
  grainCounts,
  laidLines,
  lineNear,
  micrometresPerPixel,
  nearestOn,
  pixelsOf,
  placeAt,
  type TestLine,
  turnedMark,
} from './picture-marks.ts';

const line = (label: string, y: number, marks: TestLine['marks'] = []): TestLine => ({
  label,
  from: { x: 100, y },
  to: { x: 900, y },
  marks,
});

describe('the scale of a picture', () => {
  it('is stated, or the length of a bar over its pixels', () => {
    expect(micrometresPerPixel({ kind: 'stated', micrometresPerPixel: 0.65 })).toBe(0.65);
    // A bar of 300 by 400 pixels is 500 pixels long; 200 µm on it are 0.4 µm for each.
    const bar = { from: { x: 10, y: 10 }, to: { x: 310, y: 410 } };
    expect(micrometresPerPixel({ kind: 'bar', bar, lengthMicrometres: 200 })).toBe(0.4);
  });
});

describe('a point and a line', () => {
  it('are nearest at the foot of the perpendicular, or at an end', () => {
    expect(nearestOn(line('L1', 200), { x: 300, y: 230 })).toEqual({
      at: 0.25,
      distancePixels: 30,
    });
    expect(nearestOn(line('L1', 200), { x: 60, y: 200 })).toEqual({ at: 0, distancePixels: 40 });
    const slanted = { from: { x: 0, y: 0 }, to: { x: 30, y: 40 } };
    const { at } = nearestOn(slanted, { x: 15, y: 20 });
    expect(placeAt(slanted, at)).toEqual({ x: 15, y: 20 });
  });

  it('belong together where they are near, the nearest of several', () => {
    const lines = [line('L1', 200), line('L2', 240)];
    expect(lineNear(lines, { x: 500, y: 225 }, 20)).toMatchObject({ index: 1, at: 0.5 });
    expect(lineNear(lines, { x: 500, y: 300 }, 20)).toBeUndefined();
  });
});

describe('a mark', () => {
  it('stands in the order along its line, and is taken away by marking it again', () => {
    const once = turnedMark(turnedMark(line('L1', 200), 0.6, 8), 0.2, 8);
    expect(once.marks).toEqual([
      { at: 0.2, counts: 1 },
      { at: 0.6, counts: 1 },
    ]);
    // Eight pixels are a hundredth of this line.
    expect(turnedMark(once, 0.205, 8).marks).toEqual([{ at: 0.6, counts: 1 }]);
    expect(turnedMark(once, 0.22, 8).marks).toHaveLength(3);
  });

  it('counts one, a half or one and a half', () => {
    const marked = line('L1', 200, [
      { at: 0, counts: 0.5 },
      { at: 0.4, counts: 1.5 },
      { at: 0.8, counts: 1 },
    ]);
    expect(countOf(marked)).toBe(3);
  });
});

describe('test lines', () => {
  it('are laid in even distances on the picture', () => {
    const lines = laidLines({ widthPixels: 1000, heightPixels: 600 }, 5);
    expect(lines.map(({ from }) => from.y)).toEqual([100, 200, 300, 400, 500]);
    expect(new Set(lines.map(pixelsOf)).size).toBe(1);
    expect(freeLineLabel(lines)).toBe('L6');
    expect(freeLineLabel(lines.slice(1))).toBe('L1');
  });

  it('are as long on the metal as the scale says', () => {
    const counts = grainCounts([line('L1', 200, [{ at: 0.5, counts: 1 }])], {
      kind: 'stated',
      micrometresPerPixel: 0.5,
    });
    // 800 pixels of 0.5 µm.
    expect(counts.count.fields).toEqual([{ lineLengthMillimetres: 0.4, intercepts: 1 }]);
  });
});
