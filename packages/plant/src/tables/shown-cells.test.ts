import { describe, expect, it } from 'vitest';
import writeWorkbook from 'write-excel-file/node';
import { formatsOfWorkbook } from './shown-cells.ts';
import { readTableFile } from './table-file.ts';
import { zipTexts } from './zip-entries.ts';

const numbers = (formats: readonly (string | undefined)[], value = 12.34) =>
  formats.map((format) => ({ value, type: Number, ...(format === undefined ? {} : { format }) }));

async function written(rows: readonly unknown[], sheet?: string): Promise<Uint8Array> {
  const made = writeWorkbook(rows as never, (sheet ? { sheet } : {}) as never);
  return new Uint8Array(await made.toBuffer());
}

async function cells(bytes: Uint8Array) {
  const { read } = await readTableFile(bytes);
  if (read.outcome === 'problem') throw new Error(JSON.stringify(read.problem));
  return read.sheets.map(({ rows }) => rows.map((row) => row.cells));
}

describe('a number in a workbook', () => {
  it('is held as it is, and shown with the decimals of its format', async () => {
    const bytes = await written([numbers([undefined, '0.000', '0.0', '0%', '#,##0.00'])]);
    expect(await cells(bytes)).toEqual([
      [
        [
          { kind: 'number', text: '12.34' },
          { kind: 'number', text: '12.34', shown: '12.340' },
          { kind: 'number', text: '12.34', shown: '12.3' },
          { kind: 'number', text: '12.34', shown: null },
          { kind: 'number', text: '12.34', shown: '12.34' },
        ],
      ],
    ]);
  });

  it('takes the format of its own cell, wherever the table begins', async () => {
    const bytes = await written([[], [null, null, ...numbers(['0.000'])], numbers(['0.0000'])]);
    const [rows = []] = await cells(bytes);
    expect(rows.map((row) => row.map(({ shown }) => shown))).toEqual([
      [undefined, undefined, undefined],
      [undefined, undefined, '12.340'],
      ['12.3400', undefined, undefined],
    ]);
  });

  it('takes the formats of its own sheet', async () => {
    const data = [[numbers(['0.000'])], [numbers(['0.0000'])]];
    const sheets = data.map((rows, index) => ({ data: rows, sheet: `S & ${index}` }));
    const bytes = new Uint8Array(await writeWorkbook(sheets as never).toBuffer());
    const shown = (await cells(bytes)).map((rows) => rows[0]?.[0]?.shown);
    expect(shown).toEqual(['12.340', '12.3400']);
    expect([...formatsOfWorkbook(bytes).keys()]).toEqual(['S & 0', 'S & 1']);
  });
});

describe('an archive', () => {
  it('gives those of its entries that are wanted', async () => {
    const bytes = await written([numbers([undefined])]);
    const texts = zipTexts(bytes, (name) => name === 'xl/styles.xml');
    expect([...texts.keys()]).toEqual(['xl/styles.xml']);
    expect(texts.get('xl/styles.xml')).toContain('<cellXfs');
  });

  it('is refused without its directory', async () => {
    const bytes = await written([numbers([undefined])]);
    expect(() => zipTexts(bytes.subarray(0, 200), () => true)).toThrow('invalid zip data');
  });
});
