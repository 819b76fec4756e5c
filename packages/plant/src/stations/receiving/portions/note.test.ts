import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { beforeAll, describe, expect, it } from 'vitest';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import type { Trial } from '../../../journal/trial.ts';
import { grams, makeOrderedTrial } from '../trial-receiving.ts';
import { portions, sendings } from './books.ts';
import { portionNotePage } from './note-page.ts';
import { portionNotePaper } from './note-paper.ts';

/** The drawing as a printer would set it, black on white with a quiet zone, by the even-odd rule. */
function rasterise(svg: string): ImageData {
  const side = Number(/viewBox="0 0 (\d+) \d+"/.exec(svg)?.[1]);
  const polygons = [...svg.matchAll(/[ML]([^MZ]*)/g)].map(([part]) =>
    [...(part ?? '').matchAll(/(\d+) (\d+)/g)].map(([, x, y]) => [Number(x), Number(y)] as const),
  );
  const isInside = (x: number, y: number) =>
    polygons.reduce((inside, points) => {
      const crossings = points.filter(([x1, y1], index) => {
        const [, y2] = points[(index + 1) % points.length] ?? [0, 0];
        return y1 > y !== y2 > y && x1 > x;
      });
      return inside !== (crossings.length % 2 === 1);
    }, false);
  const [scale, quiet] = [4, 16];
  const width = side * scale + 2 * quiet;
  const data = new Uint8ClampedArray(width * width * 4).fill(255);
  for (let row = 0; row < side * scale; row += 1) {
    for (let column = 0; column < side * scale; column += 1) {
      if (!isInside((column + 0.5) / scale, (row + 0.5) / scale)) continue;
      const at = ((row + quiet) * width + column + quiet) * 4;
      data.fill(0, at, at + 3);
    }
  }
  return { data, width, height: width, colorSpace: 'srgb' } as ImageData;
}

beforeAll(() => {
  const file = createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm');
  const wasmBinary = readFileSync(file).buffer as ArrayBuffer;
  prepareZXingModule({ overrides: { wasmBinary } });
});

const day = (trial: Trial, more: number) =>
  new Date(trial.now + more * 86_400_000).toISOString().slice(0, 10);

const send = (trial: Trial, more: object = {}) =>
  trial.do(
    'send-portion',
    { portion: 'SP/7', to: 'umpire', sealFound: 'Z-7', document: 'Note 12', ...more },
    'custodian',
    'inspector',
  );

/** A portion of cuttings in the laboratory, sealed for the umpire. */
async function sealed() {
  const trial = await makeOrderedTrial();
  await trial.recorded(
    'record-draw',
    { melt: 'M-2', gross: grams('200.1'), instrument: 'BALANCE-1' },
    'inspector',
  );
  const portion = {
    portion: 'SP/7',
    for: 'umpire',
    blanks: [],
    gross: grams('5.250'),
    seal: 'Z-7',
    place: 'Shelf 1',
    keptUntil: null,
  };
  await trial.recorded(
    'seal-portions',
    { melt: 'M-2', portions: [portion], instrument: 'BALANCE-1' },
    'inspector',
    'custodian',
  );
  return trial;
}

const sources = (trial: Trial) => ({
  books: trial.books,
  instant: '',
  signer: trial.signer,
  proofOf: async () => undefined,
});

async function pageOf(trial: Trial) {
  const portion = await trial.books.get(portions, 'SP/7');
  const [sending] = await trial.books.select(sendings, { prefix: ['SP/7'] });
  if (!portion || !sending) throw new RangeError('nothing was sent');
  return portionNotePage({
    plantTitle: 'Trial Plant',
    supplierName: 'North Metals',
    standardTitle: 'Ten grams of gold',
    assayMethod: 'cupellation',
    portion,
    sending,
    entryHash: undefined,
    nameOf: (person) => `The ${person}`,
  });
}

describe('the note of a portion', () => {
  it('says what it is, from which melt, its mass, seal, by whom, until when, and what to take care of', async () => {
    const trial = await sealed();
    const answerBy = day(trial, 14);
    expect(await send(trial, { answerBy })).toMatchObject({
      outcome: 'recorded',
      entries: [{ body: { answerBy } }],
    });
    const page = await pageOf(trial);
    expect(Object.fromEntries(page.facts)).toEqual({
      Melt: 'M-2',
      Consignment: 'C-1',
      'Delivered by': 'North Metals',
      Mass: '5.250 g',
      'Whole blanks': 'none: cuttings',
      Seal: 'Z-7',
      'Sealed for': 'umpire',
      'Sent with': 'Note 12',
      'Answer by': answerBy,
    });
    expect(page.asked).toContain(`Asked for, until ${answerBy}: the fineness of melt M-2`);
    expect(page.signatures.slice(0, 2)).toEqual([
      ['Handed over by', 'The custodian'],
      ['Witness', 'The inspector'],
    ]);
    expect(page.cautions.join(' ')).toMatch(/molten lead.*nitric acid.*local law/);
  });

  it('bears a Data Matrix that decodes to the portion', async () => {
    const trial = await sealed();
    await send(trial);
    const { code } = await pageOf(trial);
    const read = await readBarcodes(rasterise(code.drawing), { formats: ['DataMatrix'] });
    expect(read.map(({ text }) => text)).toEqual(['SP/7']);
  });

  it('is printed once the portion was sent, alike each time', async () => {
    const trial = await sealed();
    expect(await portionNotePaper.render(sources(trial), 'SP/7')).toBeUndefined();
    await send(trial);
    const printed = await portionNotePaper.render(sources(trial), 'SP/7');
    expect(printed?.fileName).toBe('portion-SP-7.pdf');
    expect(
      Buffer.from(printed?.bytes ?? [])
        .subarray(0, 5)
        .toString(),
    ).toBe('%PDF-');
    expect((await portionNotePaper.render(sources(trial), 'SP/7'))?.bytes).toEqual(printed?.bytes);
  });

  it('asks for no answer until a day that has passed', async () => {
    const trial = await sealed();
    expect(await send(trial, { answerBy: day(trial, -1) })).toMatchObject({
      refusals: [{ refusal: 'AnswerDayPast', field: 'answerBy' }],
    });
  });
});
