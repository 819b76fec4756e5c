import type { GrainSizeOutput } from '@cupel/calculation';
import { beforeEach, describe, expect, it } from 'vitest';
import type { Trial } from '../../../journal/trial.ts';
import { examinationTrial } from '../examination/examination-trial.ts';
import { recorded, refusals } from '../laboratory-trial.ts';
import type { StructureExaminedBody } from './entries.ts';

let trial: Trial;
let blanks: readonly string[];
let free: readonly string[];
beforeEach(async () => {
  ({ trial, blanks, free } = await examinationTrial());
});

/** A line of 800 pixels with so many marks on it, evenly. */
const line = (label: string, y: number, marks: number) => ({
  label,
  from: { x: 100, y },
  to: { x: 900, y },
  marks: Array.from({ length: marks }, (_, index) => ({
    at: (index + 1) / (marks + 1),
    counts: 1,
  })),
});

/**
 * The example of the textbook: seven lines of 50 mm at 160 times with 58 intersections, 0.0377 mm
 * (Callister and Rethwisch, Example Problem 4.5: reference/grain-size/SOURCE.md). 800 pixels are
 * 50 mm / 160 on the metal, so that a pixel is 0.390625 µm.
 */
const counts = [8, 8, 8, 9, 9, 9, 7];
const sheet = (change: object = {}) => ({
  melt: 'M-1',
  blank: blanks[0],
  instrument: 'X-1',
  photographSha256: 'ab'.repeat(32),
  picture: { widthPixels: 1000, heightPixels: 750 },
  scale: { kind: 'stated', micrometresPerPixel: 0.390625 },
  preparation: 'Ground, etched in ammonia and hydrogen peroxide',
  lines: counts.map((count, index) => line(`L${index + 1}`, 90 * (index + 1), count)),
  ...change,
});

const examine = (change: object = {}) => trial.do('examine-structure', sheet(change), 'inspector');
const bodyOf = async (change: object = {}) =>
  recorded(await examine(change))[0] as unknown as StructureExaminedBody;
const outputOf = ({ grainSize }: StructureExaminedBody) =>
  grainSize.output as unknown as GrainSizeOutput;

describe('a structure on a photograph', () => {
  it('has the intercept of the textbook, and its grain size number with its interval', async () => {
    const output = outputOf(await bodyOf());
    expect(output.meanInterceptMillimetres).toBeCloseTo(0.0377, 4);
    expect(output.grainSize).toBeCloseTo(6.17, 2);
    expect(output.grainSizeLower).toBeLessThan(output.grainSize);
    expect(output.grainSizeUpper).toBeGreaterThan(output.grainSize);
  });

  it('is the same by the scale bar as by the stated scale', async () => {
    // 200 µm over 512 pixels are 0.390625 µm for each.
    const bar = { from: { x: 20, y: 700 }, to: { x: 532, y: 700 } };
    const scale = { kind: 'bar', bar, lengthMicrometres: 200 };
    const byBar = await bodyOf({ scale });
    expect(byBar.micrometresPerPixel).toBe(0.390625);
    expect(outputOf(byBar)).toEqual(outputOf(await bodyOf()));
  });

  it('keeps every mark, so that somebody else sees them again', async () => {
    const lines = [line('L1', 90, 3), line('L2', 180, 2)];
    const [first] = lines;
    const marks = [{ at: 0, counts: 0.5 }, ...(first?.marks ?? []).slice(1)];
    const body = await bodyOf({ lines: [{ ...first, marks }, lines[1]] });
    const { examinations: rows } = (await trial.ask(
      'melt-examinations',
      { melt: 'M-1' },
      'auditor',
    )) as { examinations: { body: StructureExaminedBody }[] };
    expect(rows[0]?.body.lines).toEqual(body.lines);
    expect(rows[0]?.body.photographSha256).toBe('ab'.repeat(32));
    const { input } = body.grainSize as unknown as {
      input: { count: { fields: { intercepts: number }[] } };
    };
    expect(input.count.fields.map(({ intercepts }) => intercepts)).toEqual([2.5, 2]);
  });

  it('is held to the limits of the piece standard, or of the order, or of none', async () => {
    expect(await bodyOf()).toMatchObject({ finding: 'inside', limits: { least: 5, greatest: 8 } });
    const coarse = { lines: [line('L1', 90, 2), line('L2', 180, 3)] };
    expect(await bodyOf(coarse)).toMatchObject({ finding: 'outside' });
    const where = { melt: 'M-2', blank: free[0] };
    expect(await bodyOf(where)).toMatchObject({ finding: 'no limits' });
    const orderedLimits = { least: 7, greatest: null, order: 'Order 17' };
    expect(await bodyOf({ ...where, orderedLimits })).toMatchObject({ finding: 'outside' });
  });
});

describe('refusals of a structure', () => {
  it('wants a scale that can be read', async () => {
    const bar = { from: { x: 20, y: 700 }, to: { x: 30, y: 700 } };
    const short = { kind: 'bar', bar, lengthMicrometres: 200 };
    expect(refusals(await examine({ scale: short }))).toEqual(['ScaleNotUsable']);
    const away = { ...short, bar: { from: { x: 20, y: 700 }, to: { x: 1200, y: 700 } } };
    expect(refusals(await examine({ scale: away }))).toEqual(['PlaceOutsidePicture']);
  });

  it('wants test lines on the picture, long enough, with something on them', async () => {
    const out = { ...line('L1', 90, 3), to: { x: 1001, y: 90 } };
    const outcome = await examine({ lines: [line('L2', 180, 3), out] });
    expect(refusals(outcome)).toEqual(['PlaceOutsidePicture']);
    expect(outcome).toMatchObject({ refusals: [{ field: 'lines.1' }] });
    const short = { ...line('L1', 90, 3), to: { x: 110, y: 90 } };
    expect(refusals(await examine({ lines: [short] }))).toEqual(['TestLineTooShort']);
    expect(refusals(await examine({ lines: [line('L1', 90, 0)] }))).toEqual([
      'ReadingsNotAccepted',
    ]);
  });

  it('wants a microscope', async () => {
    expect(refusals(await examine({ instrument: 'H-1' }))).toEqual(['InstrumentUnknown']);
  });
});
