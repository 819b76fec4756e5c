import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { beforeAll, describe, expect, it } from 'vitest';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import type { Trial } from '../../journal/trial.ts';
import { recorded } from '../laboratory/laboratory-trial.ts';
import { boxLabel, dataMatrixSvg, tubeReceipt } from './papers.ts';
import { filledTrial, pack, weigh } from './put-up-trial.ts';

type Point = readonly [x: number, y: number];

/** The polygons of a drawn code, in its own units. */
function polygonsOf(drawing: string): readonly (readonly Point[])[] {
  const path = / d="([^"]+)"/.exec(drawing)?.[1] ?? '';
  return path
    .split('M')
    .map((part) =>
      [...part.matchAll(/(\d+) (\d+)/g)].map(([, x, y]): Point => [Number(x), Number(y)]),
    );
}

/** Even-odd rule: inside where a ray to the right crosses an odd number of upright edges. */
function isInside(polygons: readonly (readonly Point[])[], [x, y]: Point): boolean {
  const crossings = polygons.flatMap((points) =>
    points.filter(([x1, y1], index) => {
      const [, y2] = points[(index + 1) % points.length] ?? [0, 0];
      return y1 > y !== y2 > y && x1 > x;
    }),
  );
  return crossings.length % 2 === 1;
}

/** The drawing as a printer would set it, one dot per unit, in black on white. */
function rasterise(drawing: string, side: number): ImageData {
  const polygons = polygonsOf(drawing);
  const data = new Uint8ClampedArray(side * side * 4).fill(255);
  for (let row = 0; row < side; row += 1) {
    for (let column = 0; column < side; column += 1) {
      const at = (row * side + column) * 4;
      if (isInside(polygons, [column + 0.5, row + 0.5])) data.fill(0, at, at + 3);
    }
  }
  return { data, width: side, height: side, colorSpace: 'srgb' } as ImageData;
}

/** The texts of the Data Matrix codes in a paper or in the drawing of a code alone. */
async function decoded(drawing: string, side: number): Promise<readonly string[]> {
  const found = await readBarcodes(rasterise(drawing, side), { formats: ['DataMatrix'] });
  return found.map((one) => one.text);
}

const sourcesOf = (trial: Trial) => ({
  books: trial.books,
  instant: new Date(trial.now).toISOString(),
  signer: trial.signer,
  proofOf: async () => undefined,
});

async function drawn(trial: Trial, paper: typeof boxLabel, id: string): Promise<string> {
  const made = await paper.render(sourcesOf(trial), id);
  if (!made) throw new RangeError(`no ${paper.paper} of ${id}`);
  expect(made.mediaType).toBe('image/svg+xml');
  return new TextDecoder().decode(made.bytes);
}

/** Side of the code in a paper, in the units of its drawing, from the scale it is set with. */
function codeOf(svg: string, millimetres: number): { code: string; side: number } {
  const code = /<g transform='translate\([^)]*\) scale\([^)]*\)'>.*?<\/g>/s.exec(svg)?.[0] ?? '';
  const scale = Number(/scale\(([^)]*)\)/.exec(code)?.[1]);
  return { code, side: Math.round(millimetres / scale) };
}

const wordsOf = (svg: string) =>
  [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, words]) => words);

beforeAll(() => {
  const file = createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm');
  const wasmBinary = readFileSync(file).buffer as ArrayBuffer;
  prepareZXingModule({ overrides: { wasmBinary } });
});

describe('a Data Matrix', () => {
  it.each(['B', 'BOX-2026.03_001/7', 'A'.repeat(40)])('decodes to the id %s', async (id) => {
    const { inside, side } = dataMatrixSvg(id);
    expect(await decoded(inside, side)).toEqual([id]);
  });

  it('that is spoilt does not decode to the id', async () => {
    const { inside, side } = dataMatrixSvg('BOX-1');
    const spoilt = inside.replace(/ d="M/, ' d="M0 0L64 0L64 128L0 128ZM');
    expect(await decoded(spoilt, side)).not.toContain('BOX-1');
  });
});

describe('the label of a box', () => {
  it('bears the code of the box and says the same in words', async () => {
    const trial = await filledTrial();
    recorded(await pack(trial));
    const svg = await drawn(trial, boxLabel, 'BOX-1');
    const { code, side } = codeOf(svg, 30);
    expect(await decoded(code, side)).toEqual(['BOX-1']);
    const words = wordsOf(svg);
    for (const wanted of ['Trial Plant', 'Box BOX-1', 'Lark 8 g', '40 pieces', 'seal SEAL-1']) {
      expect(words).toContain(wanted);
    }
    expect(words).toContain('gold, fineness 916.7\u2009‰');
    expect(words).toContain('net 320.40\u2009g in 2 tubes');
    expect(words).toContain('2026-03-02 07:00');
  });

  it('sets the longest id small enough to stay left of its code', async () => {
    const trial = await filledTrial();
    const box = 'W'.repeat(40);
    recorded(await pack(trial, { box }));
    const svg = await drawn(trial, boxLabel, box);
    const size = Number(new RegExp(`font-size='([^']+)'[^>]*>Box ${box}<`).exec(svg)?.[1]);
    // 44 letters in the 60 mm left of the code, at 0.58 of their height each.
    expect(size).toBeCloseTo(60 / (44 * 0.58), 2);
  });

  it('is made of sealed boxes only', async () => {
    const trial = await filledTrial();
    expect(await boxLabel.render(sourcesOf(trial), 'BOX-1')).toBeUndefined();
  });
});

describe('the receipt of a tube', () => {
  it('is 80 mm wide and bears its code, its masses and what the weighing says', async () => {
    const trial = await filledTrial();
    const svg = await drawn(trial, tubeReceipt, 'T-101');
    expect(svg).toMatch(/^<svg [^>]*width='80mm'/);
    const { code, side } = codeOf(svg, 22);
    expect(await decoded(code, side)).toEqual(['T-101']);
    const words = wordsOf(svg);
    for (const wanted of [
      'Tube T-101',
      '20 pieces',
      'proved',
      '180.20\u2009g',
      '160.200\u2009g',
      'Tare of the piece standard',
    ]) {
      expect(words).toContain(wanted);
    }
  });

  it('says that a typed weight was typed, and that a light tube is to be weighed again', async () => {
    const trial = await filledTrial();
    const typed = { text: '68.06', unit: 'g', typed: true };
    recorded(await weigh(trial, 'T-103', 0, { pieces: 7, gross: typed }));
    const words = wordsOf(await drawn(trial, tubeReceipt, 'T-103'));
    expect(words).toContain('68.06\u2009g typed');
    expect(words).toContain('weigh again');
    expect(await tubeReceipt.render(sourcesOf(trial), 'T-999')).toBeUndefined();
  });
});
