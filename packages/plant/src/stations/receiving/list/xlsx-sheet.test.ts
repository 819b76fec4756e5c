import { describe, expect, it } from 'vitest';
import writeWorkbook from 'write-excel-file/node';
import { readTableFile, type TableFileRead, textOfBytes } from '../../../tables/table-file.ts';
import { listMappingSchema } from './list-bodies.ts';
import { proposeMapping } from './proposal.ts';
import { readList } from './read-list.ts';

const head = {
  consignment: 'C-1',
  supplier: 'NORTH',
  document: 'List 12',
  pieceStandard: 'GOLD-10',
};

type Value = string | number | Date | null;

async function workbook(rows: readonly (readonly Value[])[]): Promise<TableFileRead> {
  const cells = rows.map((row) =>
    row.map((value) =>
      value === null ? null : value instanceof Date ? { value, format: 'yyyy-mm-dd' } : { value },
    ),
  );
  return readTableFile(new Uint8Array(await writeWorkbook(cells as never).toBuffer()));
}

function sheetsOf(file: TableFileRead) {
  if (file.read.outcome === 'problem') throw new Error(JSON.stringify(file.read.problem));
  return file.read.sheets;
}

function result(file: TableFileRead) {
  const sheets = sheetsOf(file);
  const mapping = listMappingSchema.parse(proposeMapping(sheets, undefined)?.mapping);
  return readList(sheets, mapping, head);
}

const header = ['Fass', 'Schmelze', 'Stück', 'Brutto kg', 'Tara kg', 'Plombe', 'Gefüllt am'];
const filled = new Date(Date.UTC(2026, 2, 2));

describe('a workbook', () => {
  it('is read with its numbers as they are held, in whatever language it was shown', async () => {
    const file = await workbook([
      ['Packliste 12', null, null, null, null, null, null],
      [null, null, null, null, null, null, null],
      header,
      ['D-1', 'M-1', 300, 5.01, 2, 'S-1', filled],
      [1002, null, 300, 5.000_5, 2, 90_417, filled],
      ['Summe', null, 600, 5.01 + 5.000_5, 4, null, null],
    ]);
    expect(result(file)).toMatchObject({
      outcome: 'read',
      input: {
        melts: [{ melt: 'M-1' }],
        drums: [
          { drum: 'D-1', gross: { text: '5.01', unit: 'kg' }, tare: { text: '2', unit: 'kg' } },
          { drum: '1002', gross: { text: '5.0005', unit: 'kg' }, seal: '90417' },
        ],
      },
      account: {
        rows: [
          { line: 4, drum: 'D-1' },
          { line: 5, drum: '1002' },
        ],
        totals: [{ check: 'agrees' }, { check: 'agrees' }, { check: 'agrees' }],
      },
    });
  });

  it('has a day as a day: where an id is asked for, that is said', async () => {
    const file = await workbook([header, [filled, 'M-1', 300, 5.01, 2, 'S-1', filled]]);
    expect(result(file)).toMatchObject({
      problems: [
        {
          line: 2,
          column: 'Fass',
          value: '2026-03-02',
          accepted: 'an id; the sheet holds a day here: write the cell as text',
        },
      ],
    });
  });

  it('is read under a header of merged cells, with thousands written out as text', async () => {
    const spanning = (value: string, columnSpan: number) => [
      { value, columnSpan },
      ...Array.from({ length: columnSpan - 1 }, () => null),
    ];
    const tall = (value: string) => ({ value, rowSpan: 2 });
    const cells = [
      spanning('Consignment of 2 March', 7),
      [tall('Drum'), tall('Melt'), tall('Pieces'), ...spanning('Mass, g', 2), tall('Seal'), null],
      [null, null, null, { value: 'Gross' }, { value: 'Tare' }, null, null],
      ['D-1', 'M-1', '1,200', '14,012.50', '2,004.00', 'S-1'].map((value) => ({ value })),
      [
        { value: 'D-2' },
        null,
        { value: 1200 },
        { value: 14_010.25, format: '#,##0.00' },
        { value: '2,004.00' },
        { value: 'S-2' },
      ],
      ['Total', '', '2,400', '28,022.75', '4,008.00', ''].map((value) =>
        value === '' ? null : { value },
      ),
    ];
    const file = await readTableFile(
      new Uint8Array(await writeWorkbook(cells as never).toBuffer()),
    );
    expect(result(file)).toMatchObject({
      outcome: 'read',
      input: {
        drums: [
          {
            drum: 'D-1',
            melt: 'M-1',
            pieces: 1200,
            gross: { text: '14012.50', unit: 'g' },
            tare: { text: '2004.00', unit: 'g' },
            seal: 'S-1',
          },
          {
            drum: 'D-2',
            melt: 'M-1',
            pieces: 1200,
            gross: { text: '14010.25', unit: 'g' },
            seal: 'S-2',
          },
        ],
      },
      account: { totals: [{ check: 'agrees' }, { check: 'agrees' }, { check: 'agrees' }] },
    });
  });

  it('is read with the marks of another country, and a melt merged over its drums', async () => {
    const cells = [
      [
        { value: 'Gebinde', columnSpan: 2 },
        null,
        { value: 'Inhalt', columnSpan: 4 },
        null,
        null,
        null,
      ],
      ['Fass', 'Plombe', 'Schmelze', 'Stück', 'Brutto g', 'Netto g'].map((value) => ({ value })),
      [
        { value: 'D-1' },
        { value: 'S-1' },
        { value: 'M-7', rowSpan: 2 },
        { value: '1.200' },
        { value: '14.012,50' },
        { value: '12.008,50' },
      ],
      [
        { value: 'D-2' },
        { value: 'S-2' },
        null,
        { value: '1.150' },
        { value: '13.510,00' },
        { value: '11.506,00' },
      ],
    ];
    const file = await readTableFile(
      new Uint8Array(await writeWorkbook(cells as never).toBuffer()),
    );
    expect(result(file)).toMatchObject({
      outcome: 'read',
      input: {
        melts: [{ melt: 'M-7' }],
        drums: [
          { drum: 'D-1', pieces: 1200, gross: { text: '14012.50' }, tare: { text: '2004' } },
          { drum: 'D-2', melt: 'M-7', pieces: 1150, gross: { text: '13510.00' } },
        ],
      },
    });
  });

  it('keeps no more of a number than a sheet shows: fifteen digits', async () => {
    // 0.1 + 0.2 is 0.30000000000000004 as a double.
    const file = await workbook([header, ['D-1', 'M-1', 300, 5.01, 0.1 + 0.2, 'S-1', filled]]);
    expect(result(file)).toMatchObject({ input: { drums: [{ tare: { text: '0.3' } }] } });
  });

  it('is kept as its cells where the file itself cannot be kept', async () => {
    const file = await workbook([['Drum "A"', 2.5]]);
    expect(file.text).toBe('"Drum ""A""";"2.5"');
  });

  it('refuses one that is broken', async () => {
    const broken = new Uint8Array([0x50, 0x4b, 0x03, 0x04, 1, 2, 3]);
    expect((await readTableFile(broken)).read).toMatchObject({
      outcome: 'problem',
      problem: { line: 0, accepted: 'a workbook that is whole, or CSV' },
    });
  });

  it('refuses one in which nothing stands', async () => {
    const { read } = await workbook([[null]]);
    expect(read).toMatchObject({
      problem: { value: 'a workbook without a filled cell' },
    });
  });

  it('refuses one that is too large', async () => {
    const large = new Uint8Array(16 * 1024 * 1024 + 1);
    large.set([0x50, 0x4b, 0x03, 0x04]);
    expect((await readTableFile(large)).read).toMatchObject({
      problem: { value: '16777217 bytes' },
    });
  });
});

describe('a file of text', () => {
  // "Fût" as the three encodings write it.
  it.each([
    ['UTF-8', [0x46, 0xc3, 0xbb, 0x74]],
    ['windows-1252', [0x46, 0xfb, 0x74]],
    ['UTF-16, small end first', [0xff, 0xfe, 0x46, 0, 0xfb, 0, 0x74, 0]],
    ['UTF-16, great end first', [0xfe, 0xff, 0, 0x46, 0, 0xfb, 0, 0x74]],
  ])('is read in %s', (_encoding, bytes) => {
    expect(textOfBytes(new Uint8Array(bytes))).toBe('Fût');
  });
});
