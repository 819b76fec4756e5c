import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { describe, expect, it } from 'vitest';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import { certificatePdf } from './certificate-pdf.ts';
import { certificateCode, dataMatrixSvg } from './data-matrix.ts';
import { certificatePage } from './page-content.ts';
import { trialContent } from './trial-content.ts';

const record = { entry: 70, entryHash: '5c'.repeat(32), publicKey: 'A'.repeat(43) };

const bytesOf = (content = trialContent()) => certificatePdf(content, record);
const textOf = (pdf: Uint8Array) => Buffer.from(pdf).toString('latin1');

/** A drawing of polygons with whole corners, filled by the even-odd rule, as black and white pixels. */
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
  const [scale, quiet] = [4, 24];
  const width = side * scale + 2 * quiet;
  const data = new Uint8ClampedArray(width * width * 4).fill(255);
  for (let row = 0; row < side * scale; row += 1) {
    for (let column = 0; column < side * scale; column += 1) {
      if (!isInside((column + 0.5) / scale, (row + 0.5) / scale)) continue;
      data.fill(
        0,
        ((row + quiet) * width + column + quiet) * 4,
        ((row + quiet) * width + column + quiet) * 4 + 3,
      );
    }
  }
  return { data, width, height: width, colorSpace: 'srgb' } as ImageData;
}

describe('the Data Matrix of a certificate', () => {
  it('decodes to the number of the certificate and the hash of its entry', async () => {
    const file = createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm');
    const wasmBinary = readFileSync(file).buffer as ArrayBuffer;
    prepareZXingModule({ overrides: { wasmBinary } });
    const image = rasterise(dataMatrixSvg(certificateCode('CERT-2026-0001', record.entryHash)));
    const found = await readBarcodes(image, { formats: ['DataMatrix'] });
    expect(found.map((one) => one.text)).toEqual([`CERT-2026-0001 ${record.entryHash}`]);
  });
});

describe('certificatePdf', () => {
  it('makes a tagged PDF/A-2a of two pages with the fonts that are shipped', () => {
    const pdf = textOf(bytesOf());
    expect(pdf.startsWith('%PDF-1.7')).toBe(true);
    // The identification schema of ISO 19005-2, clause 6.6.4.
    expect(pdf).toContain('<pdfaid:part>2</pdfaid:part>');
    expect(pdf).toContain('<pdfaid:conformance>A</pdfaid:conformance>');
    expect(pdf.match(/\/Type\s*\/Page\b/g)).toHaveLength(2);
    const fonts = new Set(
      [...pdf.matchAll(/\/BaseFont\s*\/[A-Z]{6}\+([A-Za-z-]+)/g)].map(([, name]) => name),
    );
    expect([...fonts].filter((name) => !name?.startsWith('AtkinsonHyperlegible'))).toEqual([]);
    expect(fonts.size).toBe(3);
  });

  it('gives the same bytes for the same certificate', () => {
    expect(Buffer.compare(bytesOf(), bytesOf())).toBe(0);
  });

  it('sets names in other scripts, with code points where no font has the letters', () => {
    const content = trialContent(1);
    const [melt] = content.melts;
    if (melt) melt.supplier = 'Ελληνικό Нова Łódź';
    expect(textOf(bytesOf(content))).toContain('/Type');
    if (melt) melt.supplier = '造幣';
    expect(textOf(bytesOf(content))).toContain('<pdfaid:part>2</pdfaid:part>');
  });

  it('grows page by page with many boxes', () => {
    const pages = textOf(bytesOf(trialContent(60))).match(/\/Type\s*\/Page\b/g) ?? [];
    expect(pages.length).toBeGreaterThan(2);
  });
});

describe('certificatePage', () => {
  // 8 001.6 g at 900 ‰ are 7 201.44 g, 231.532 troy ounces of 31.1034768 g: by hand.
  it('prints masses, ounces and results with no more digits than their uncertainty', () => {
    const page = certificatePage(trialContent(), record);
    expect(page).toMatchObject({
      pieces: '400',
      gross: '8001.6',
      fine: '7201.440',
      fineOunces: '231.532',
      declaredFineness: '900.0',
      extent: '2 sealed boxes, 20 tubes',
      issued: '3 March 2026, 12:30',
    });
    expect(page.melts[0]).toMatchObject({
      fineness: '900.45',
      uncertainty: '0.18',
      limit: '900.00',
      verdict: 'Passes',
      conformance: '> 99.99 %',
    });
  });

  it('stands every dot of the limit rules between the ends, with the limit at the same place', () => {
    const rules = certificatePage(trialContent(), record).melts.map((melt) => melt.rule);
    for (const rule of rules) {
      expect(rule.barFrom).toBeLessThan(rule.dot);
      expect(rule.barTo).toBeGreaterThan(rule.dot);
      expect(rule.limit).toBe(rules[0]?.limit);
      expect(rule.ticks.every(({ at }) => at >= 0 && at <= 1)).toBe(true);
    }
  });
});
