import type { Chance } from '../chance.ts';
import { greyPng } from './photographs.ts';

/** Size of the picture of a section, and the mean distance of its grains, in pixels. */
export const section = { width: 320, height: 240 } as const;
const pitch = 32;

interface Middle {
  readonly x: number;
  readonly y: number;
  /** How bright the grain looks: each takes the light in its own way. */
  readonly grey: number;
}

/** The grains of a section: each pixel belongs to the grain whose middle is nearest. */
interface Grains {
  /** The grain of a pixel, up to one beyond the right and lower edge. */
  readonly at: (x: number, y: number) => Middle | undefined;
}

/** The grains around middles that were shaken off a grid. */
export function makeGrains(chance: Chance): Grains {
  const columns = Math.ceil(section.width / pitch) + 3;
  const rows = Math.ceil(section.height / pitch) + 3;
  const middles = Array.from({ length: columns * rows }, (_, index) => ({
    x: ((index % columns) - 0.5) * pitch + chance.normal(0, pitch / 4),
    y: (Math.floor(index / columns) - 0.5) * pitch + chance.normal(0, pitch / 4),
    grey: 96 + 64 * chance.uniform(),
  }));
  const near = (x: number, y: number): readonly number[] => {
    const [column, row] = [Math.floor(x / pitch) + 1, Math.floor(y / pitch) + 1];
    return [-2, -1, 0, 1, 2].flatMap((down) =>
      [-2, -1, 0, 1, 2].map((over) => (row + down) * columns + column + over),
    );
  };
  const width = section.width + 1;
  const pixels = Array.from({ length: width * (section.height + 1) }, (_, pixel) => {
    const [x, y] = [pixel % width, Math.floor(pixel / width)];
    let [nearest, least] = [undefined as Middle | undefined, Number.POSITIVE_INFINITY];
    for (const index of near(x, y)) {
      const middle = middles[index];
      const distance = middle ? (x - middle.x) ** 2 + (y - middle.y) ** 2 : least;
      if (distance < least) [nearest, least] = [middle, distance];
    }
    return nearest;
  });
  return { at: (x, y) => pixels[y * width + x] };
}

/** A drawn stand-in for a photograph of an etched section: grains of different grey, dark boundaries. */
export function sectionPhotograph({ at }: Grains): Uint8Array {
  return greyPng((x, y) => {
    const own = at(x, y);
    return own === at(x + 1, y) && own === at(x, y + 1) ? (own?.grey ?? 0) : 40;
  }, section);
}

/** A test line across the picture, with a mark wherever it passes from one grain into the next. */
export function testLine({ at }: Grains, label: string, y: number) {
  const [from, to] = [10, section.width - 10];
  const marks: { at: number; counts: 1 }[] = [];
  for (let x = from + 1; x <= to; x += 1) {
    if (at(x, y) === at(x - 1, y)) continue;
    marks.push({ at: Number(((x - 0.5 - from) / (to - from)).toFixed(4)), counts: 1 });
  }
  return { label, from: { x: from, y }, to: { x: to, y }, marks };
}
