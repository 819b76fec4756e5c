import { describe, expect, it } from 'vitest';
import type { StreamedCurve } from '../../../../ports/instrument-line.ts';
import { readCurve } from '../read-curve.ts';
import { curveOfStream, textOfStream } from './streamed-text.ts';

const curve = (begun: string, more: Partial<StreamedCurve> = {}): StreamedCurve => ({
  begun,
  lastAt: begun,
  potentialUnit: 'mV',
  points: [],
  gap: null,
  ...more,
});
const curves = ['10:30', '10:20', '10:10'].map((time) => curve(`2026-03-02T${time}:00.000Z`));

describe('the curve that is collected', () => {
  it('is the one that was chosen, however many follow', () => {
    const chosen = { begun: '2026-03-02T10:20:00.000Z', after: '' };
    expect(curveOfStream(curves, chosen)).toBe(curves[1]);
    expect(curveOfStream(curves.slice(0, 1), chosen)).toBeUndefined();
  });

  it('or else the first that begins after all that were there', () => {
    const next = { begun: null, after: '2026-03-02T10:10:00.000Z' };
    expect(curveOfStream(curves, next)).toBe(curves[1]);
    expect(curveOfStream(curves, { ...next, after: '2026-03-02T10:30:00.000Z' })).toBeUndefined();
  });
});

describe('a curve that was collected', () => {
  // Three decimals and a whole volume among them: no mark is taken for another.
  const points = [
    ['0', '312.4'],
    ['5.000', '305.1'],
    ['10.000', '297.9'],
    ['20.125', '281.3'],
    ['25.500', '262.0'],
    ['27.300', '231.7'],
    ['27.812', '-12.5'],
    ['28.400', '-140.2'],
  ].map(([volume = '', potential = '']) => ({ volume, potential }));

  it.each([
    ['mV', 1],
    ['V', 1000],
  ] as const)('in %s is read as its points were sent', (potentialUnit, factor) => {
    const text = textOfStream(curve('2026-03-02T10:10:00.000Z', { potentialUnit, points }));
    const read = readCurve(text);
    expect(read).toMatchObject({ outcome: 'read', as: { potentialUnit } });
    if (read.outcome !== 'read') throw new Error('it was not read');
    expect(read.points.map((point) => point.volumeMillilitres)).toEqual(
      points.map(({ volume }) => Number(volume)),
    );
    for (const [index, point] of read.points.entries()) {
      const sent = Number(points[index]?.potential) * factor;
      expect(point.potentialMillivolts).toBeCloseTo(sent, 9);
    }
  });
});
