import { describe, expect, it } from 'vitest';
import { structureInput } from '../examine-structure.ts';
import {
  firstStructure,
  otherPhotograph,
  pointTaken,
  type StructureDraft,
  scaleOf,
  structureInputOf,
  structureNotYet,
} from './structure-draft.ts';

const picture = { widthPixels: 1000, heightPixels: 750 };
const photographSha256 = 'ab'.repeat(32);

/** The draft after points were taken on its picture, one after the other. */
function drawn(draft: StructureDraft, ...points: readonly (readonly [number, number])[]) {
  let after = draft;
  for (const [x, y] of points) after = { ...after, ...pointTaken(after, { x, y }) };
  return after;
}

const ready: StructureDraft = { ...firstStructure, blank: 'M-1/1', photographSha256, picture };
const scaled = { ...drawn(ready, [20, 700], [532, 700]), barLength: '200' };
const lined = drawn(scaled, [100, 90], [900, 90], [100, 180], [900, 180]);
const marked = drawn({ ...lined, tool: 'mark' }, [300, 92], [500, 88], [700, 181]);

describe('drawing on a photograph', () => {
  it('takes both ends of the scale bar, and goes on to the lines', () => {
    expect(scaled).toMatchObject({ tool: 'line', pending: null });
    expect(scaleOf(scaled)).toEqual({
      kind: 'bar',
      bar: { from: { x: 20, y: 700 }, to: { x: 532, y: 700 } },
      lengthMicrometres: 200,
    });
  });

  it('takes both ends of each line under a label of its own', () => {
    expect(lined.lines.map(({ label }) => label)).toEqual(['L1', 'L2']);
  });

  it('takes marks on the line that is near, and takes them away again', () => {
    expect(marked.lines.map(({ marks }) => marks.map(({ at }) => at))).toEqual([
      [0.25, 0.5],
      [0.75],
    ]);
    const again = drawn(marked, [301, 90]);
    expect(again.lines[0]?.marks.map(({ at }) => at)).toEqual([0.5]);
    expect(drawn(marked, [300, 400]).lines).toEqual(marked.lines);
  });

  it('takes a slip of the hand for nothing', () => {
    expect(drawn(scaled, [100, 90], [102, 91])).toMatchObject({ lines: [], pending: null });
    expect(drawn({ ...firstStructure, tool: 'line' }, [100, 90])).toMatchObject({ pending: null });
  });

  it('begins anew with another photograph', () => {
    const other = { ...marked, ...otherPhotograph('cd'.repeat(32)) };
    expect(other).toMatchObject({ picture: null, bar: null, lines: [], tool: 'scale' });
    expect(other.blank).toBe('M-1/1');
  });
});

describe('a structure while it is made', () => {
  it('is what the command takes once it is complete', () => {
    const given = { melt: 'M-1', instrument: 'X-1', window: null };
    expect(structureNotYet(marked)).toBeUndefined();
    const parsed = structureInput.safeParse(structureInputOf(marked, given));
    expect(parsed.error?.issues).toBeUndefined();
    const stated = { ...marked, scaleKind: 'stated' as const, statedScale: '0,39' };
    expect(structureInputOf(stated, given).scale).toEqual({
      kind: 'stated',
      micrometresPerPixel: 0.39,
    });
  });

  it.each([
    [firstStructure, 'Choose the blank.'],
    [{ ...firstStructure, blank: 'M-1/1' }, 'Bring the photograph.'],
    [ready, 'Mark both ends of the scale bar and state its length.'],
    [{ ...ready, scaleKind: 'stated' as const }, 'State what a pixel is.'],
    [scaled, 'Draw a test line.'],
    [lined, 'Mark where the lines cross boundaries of grains.'],
  ])('says what is missing', (draft, words) => {
    expect(structureNotYet(draft)).toBe(words);
  });
});
