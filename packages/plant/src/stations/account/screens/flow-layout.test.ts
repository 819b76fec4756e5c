import { describe, expect, it } from 'vitest';
import type { ShiftFlow } from '../shift-flows.ts';
import { bandPath, flowFrame, flowPicture } from './flow-layout.ts';

const flow = (from: string, to: string, grams: number, pieces = 1): ShiftFlow => ({
  from,
  to,
  metal: 'gold',
  pieceStandard: 'trial-piece',
  movements: 1,
  pieces,
  grossMicrograms: grams * 1e6,
  fineMicrograms: grams * 1e6,
  estimated: false,
});

const flows = [
  flow('press-room', 'put-up', 3000, 96),
  flow('receiving', 'press-room', 6000, 192),
  flow('receiving', 'laboratory', 60, 2),
  flow('press-room', 'scrap', 940, 30),
];

describe('the picture of a shift', () => {
  const picture = flowPicture(flows);

  it('draws bands as thick as their gross mass, and a mere trace so that it is seen', () => {
    const thickness = picture.bands.map((band) => band.thickness);
    // 3 000, 6 000, 60 and 940 of 10 000 g on 240 units; 60 g would be 1.44 and are drawn as 2.
    expect(thickness).toEqual([72, 144, 2, 22.56]);
  });

  it('lists places in the order of the metal, with pieces and grams that add up', () => {
    expect(picture.from.map(({ place }) => place)).toEqual(['receiving', 'press-room']);
    expect(picture.to.map(({ place }) => place)).toEqual([
      'laboratory',
      'press-room',
      'put-up',
      'scrap',
    ]);
    expect(picture.from[0]).toMatchObject({ pieces: 194, grossMicrograms: 6_060_000_000 });
    const sum = (ends: readonly { pieces: number }[]) =>
      ends.reduce((total, { pieces }) => total + pieces, 0);
    expect(sum(picture.from)).toBe(sum(picture.to));
  });

  it('lets no band and no label stand on another', () => {
    for (const side of ['from', 'to'] as const) {
      const ends = picture[side];
      for (const [index, end] of ends.entries()) {
        const next = ends[index + 1];
        if (next) {
          expect(next.top).toBeGreaterThanOrEqual(end.top + Math.max(end.height, flowFrame.label));
        }
        const starts = picture.bands
          .filter((band) => band.flow[side] === end.place)
          .map((band) => ({
            top: side === 'from' ? band.left : band.right,
            thickness: band.thickness,
          }))
          .sort((one, other) => one.top - other.top);
        let expected = end.top;
        for (const start of starts) {
          expect(start.top).toBeCloseTo(expected, 9);
          expected += start.thickness;
        }
        expect(expected).toBeCloseTo(end.top + end.height, 9);
        expect(expected).toBeLessThanOrEqual(picture.height + 1e-9);
      }
    }
  });

  it('does not depend on the order in which the movements come', () => {
    const turned = flowPicture(flows.toReversed());
    expect(turned.from).toEqual(picture.from);
    expect(turned.to).toEqual(picture.to);
  });

  it('draws pieces that left the ledger of pieces without a gram', () => {
    const ceased = flowPicture([flow('laboratory', 'ceased', 0, 2)]);
    expect(ceased.bands[0]?.thickness).toBe(2);
    expect(bandPath(ceased.bands[0] as (typeof ceased.bands)[number])).toBe(
      'M210 0 C360 0 360 0 510 0 V2 C360 2 360 2 210 2 Z',
    );
  });

  it('is empty for a shift in which nothing moved', () => {
    expect(flowPicture([])).toEqual({ height: 0, from: [], to: [], bands: [] });
  });
});
