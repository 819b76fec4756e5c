import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CsvValue } from '../../../tables/csv.ts';
import { workbookBytes } from '../../../tables/workbook.ts';
import { cutMelt, laboratoryTrial, sampleMelt } from '../laboratory-trial.ts';
import { paper, readBack } from './exchange-trial.ts';
import {
  type LibreOffice,
  savedAgain,
  startLibreOffice,
  typedIntoTextCells,
} from './trial-libreoffice.ts';

let office: LibreOffice;
beforeAll(() => {
  office = startLibreOffice();
});
afterAll(() => office.end());

describe('a reading in a workbook', () => {
  it('keeps the zeros that were typed into our own worksheet for blanks', async () => {
    const trial = await laboratoryTrial();
    const { all } = await sampleMelt(trial, 'M-1');
    const book = await paper(trial, 'blank-sheet', 'M-1');
    // As people type them here and elsewhere, with a comma too.
    const texts = all.flatMap(() => ['8.010', '22,00', '1.500']);
    const back = await readBack(typedIntoTextCells(office, book, texts));
    if (back.worksheet !== 'blanks') throw new Error(JSON.stringify(back));
    expect(back.measurements).toHaveLength(all.length);
    expect(back.measurements[0]).toEqual({
      blank: all[0],
      mass: { text: '8.010', unit: 'g', typed: true },
      diameter: { text: '22.00', unit: 'mm', typed: true },
      thickness: { text: '1.500', unit: 'mm', typed: true },
    });
  });

  it('keeps the zeros that were typed into our own worksheet for a run', async () => {
    const trial = await laboratoryTrial();
    const { forAssay } = await cutMelt(trial, 'M-1');
    const book = await paper(trial, 'cupellation-sheet', 'M-1');
    const texts = ['P1', 'P2', ...forAssay].flatMap(() => ['250.000', '229.350']);
    const back = await readBack(typedIntoTextCells(office, book, texts));
    if (back.worksheet !== 'cupellation') throw new Error(JSON.stringify(back));
    expect(back.samples.map(({ sample, cornet }) => [sample.text, cornet.text])).toEqual(
      forAssay.map(() => ['250.000', '229.350']),
    );
  });

  const heads = ['Blank', 'Mass, g', 'Diameter, mm', 'Thickness, mm'];
  const sheetOf = (mass: CsvValue, diameter: CsvValue, thickness: CsvValue) =>
    workbookBytes(heads, [['B-1', mass, diameter, thickness]], 'own');

  it('has the decimals that its format shows, also when LibreOffice has saved it', async () => {
    const own = await sheetOf({ digits: '8.010' }, { digits: '22.00' }, 1.5);
    for (const bytes of [own, savedAgain(office, { name: 'own.xlsx', bytes: own })]) {
      const back = await readBack(bytes);
      if (back.worksheet !== 'blanks') throw new Error(JSON.stringify(back));
      const [{ mass, diameter, thickness } = {}] = back.measurements;
      expect([mass?.text, diameter?.text, thickness?.text]).toEqual(['8.010', '22.00', '1.5']);
    }
  });

  it('is refused by its cell where the sheet shows another number than it holds', async () => {
    const { default: writeWorkbook } = await import('write-excel-file/node');
    const number = (value: number, format: string) => ({ value, type: Number, format });
    const rows = [
      heads.map((value) => ({ value, type: String })),
      [
        { value: 'B-1', type: String },
        number(8.0104, '0.00'),
        number(22, '0.00'),
        number(1.5, '0%'),
      ],
    ];
    const own = new Uint8Array(await writeWorkbook(rows as never).toBuffer());
    for (const bytes of [own, savedAgain(office, { name: 'own.xlsx', bytes: own })]) {
      const back = await readBack(bytes);
      expect(back).toMatchObject({
        worksheet: 'none',
        problems: [
          {
            line: 2,
            column: 'Mass, g',
            value: '8.0104',
            accepted:
              'a cell that shows the whole reading; it holds 8.0104 and shows it as 8.01: write it as text',
          },
          { line: 2, column: 'Thickness, mm', value: '1.5' },
        ],
      });
    }
  });
});
