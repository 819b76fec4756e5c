import { describe, expect, it } from 'vitest';
import { type PackingListReading, readPackingList } from './packing-list.ts';
import { makeReceivingTrial } from './trial-receiving.ts';

const reading: PackingListReading = {
  consignment: 'C-1',
  supplier: 'NORTH',
  document: 'Packing list 12',
  pieceStandard: 'GOLD-10',
  columns: {
    drum: 'Drum no',
    melt: 'Melt',
    pieces: 'Pcs',
    gross: 'Gross kg',
    tare: 'Tare kg',
    seal: 'Seal',
    supplierFinenessPerMille: 'Au permille',
  },
  massUnit: 'kg',
  decimalMark: 'comma',
};

const semicolons = [
  'Drum no;Melt;Pcs;Gross kg;Tare kg;Seal;Au permille;Remark',
  'D-1;M-1;300;5,0100;2,0;S-1;999,93;',
  'D-2;M-1;300;5,0000;2,0;S-2;999,93;"top; dented"',
  'D-3;M-2;200;4,0000;2,0;S-3;;',
].join('\r\n');

const kilograms = (text: string) => ({ text, unit: 'kg', typed: true });

const expected = {
  consignment: 'C-1',
  supplier: 'NORTH',
  document: 'Packing list 12',
  pieceStandard: 'GOLD-10',
  melts: [
    { melt: 'M-1', supplierFinenessPerMille: 999.93 },
    { melt: 'M-2', supplierFinenessPerMille: null },
  ],
  drums: [
    {
      drum: 'D-1',
      melt: 'M-1',
      pieces: 300,
      gross: kilograms('5.0100'),
      tare: kilograms('2.0'),
      seal: 'S-1',
    },
    {
      drum: 'D-2',
      melt: 'M-1',
      pieces: 300,
      gross: kilograms('5.0000'),
      tare: kilograms('2.0'),
      seal: 'S-2',
    },
    {
      drum: 'D-3',
      melt: 'M-2',
      pieces: 200,
      gross: kilograms('4.0000'),
      tare: kilograms('2.0'),
      seal: 'S-3',
    },
  ],
};

const withPoints = { ...reading, decimalMark: 'point' } as const;
const pointed = semicolons.replaceAll(',', '.');

/** Line, column and value of each problem. */
function problems(text: string, how: PackingListReading = reading) {
  const result = readPackingList(text, how);
  if (result.outcome === 'read') throw new Error('the list was read');
  return result.problems.map(({ line, column, value }) => [line, column, value]);
}

const accepted = (text: string, how: PackingListReading = reading) => {
  const result = readPackingList(text, how);
  return result.outcome === 'read' ? [] : result.problems.map((problem) => problem.accepted);
};

/** The list with one cell changed; the header is line 1. */
function change(line: number, cell: number, value: string): string {
  const lines = semicolons.split('\r\n');
  const cells = (lines[line - 1] ?? '').split(';');
  cells[cell] = value;
  lines[line - 1] = cells.join(';');
  return lines.join('\r\n');
}

describe('readPackingList', () => {
  it('reads a list with semicolons and decimal commas, keeping the digits as they stand', () => {
    expect(readPackingList(semicolons, reading)).toMatchObject({
      outcome: 'read',
      input: expected,
    });
  });

  it.each([
    ['commas and decimal points', pointed.replaceAll(';', ','), withPoints],
    ['tabs and decimal points', pointed.replaceAll(';', '\t'), withPoints],
    ['tabs and decimal commas', semicolons.replaceAll(';', '\t'), reading],
    ['a byte order mark and blank lines', `\uFEFF${semicolons}\r\n\r\n`, reading],
    ['lines that end in a line feed', semicolons.replaceAll('\r\n', '\n'), reading],
  ])('reads the same list with %s', (_how, text, how) => {
    // The remark with a separator inside stays in its quotes under every separator.
    expect(readPackingList(text, how)).toMatchObject({ outcome: 'read', input: expected });
  });

  it('reads a list that states no fineness', () => {
    const columns = { ...reading.columns, supplierFinenessPerMille: null };
    expect(readPackingList(semicolons, { ...reading, columns })).toMatchObject({
      outcome: 'read',
      input: { melts: [{ supplierFinenessPerMille: null }, { supplierFinenessPerMille: null }] },
    });
  });

  it('gives what the plant then records', async () => {
    const trial = await makeReceivingTrial();
    const result = readPackingList(semicolons, reading);
    const input = result.outcome === 'read' ? result.input : undefined;
    const entries = await trial.recorded('announce-consignment', input, 'custodian');
    expect(entries.map(({ kind }) => kind)).toEqual([
      'ConsignmentAnnounced',
      'SupplierFinenessStated',
    ]);
  });

  it.each([
    ['pieces that are no whole number', change(2, 2, '300,5'), [2, 'Pcs', '300,5']],
    ['pieces grouped by thousands', change(3, 2, '1.300'), [3, 'Pcs', '1.300']],
    ['a mass with a decimal point', change(3, 3, '5.0000'), [3, 'Gross kg', '5.0000']],
    ['a negative mass', change(4, 4, '-2,0'), [4, 'Tare kg', '-2,0']],
    ['a mass of nothing', change(4, 4, '0,0'), [4, 'Tare kg', '0,0']],
    ['an empty seal', change(2, 5, ''), [2, 'Seal', '']],
    ['a drum with a blank', change(2, 0, 'D 1'), [2, 'Drum no', 'D 1']],
    ['a fineness above pure metal', change(4, 6, '1000,1'), [4, 'Au permille', '1000,1']],
    ['a tare above the gross', change(2, 4, '6,0'), [2, 'Tare kg', '6.0']],
    ['a seal used twice', change(3, 5, 'S-1'), [3, 'Seal', 'S-1']],
    ['a drum listed twice', change(4, 0, 'D-1'), [4, 'Drum no', 'D-1']],
    ['two finenesses for one melt', change(3, 6, '999,95'), [3, 'Au permille', '999.95']],
    ['a row that is too short', change(4, 0, 'D-3;M-2'), [4, 'row', '9 cells']],
  ])('refuses %s with its line and column', (_what, text, problem) => {
    expect(problems(text)).toEqual([problem]);
  });

  it('names every problem of every row, and takes nothing', () => {
    const text = change(2, 2, 'many').replace('200;4,0000', '0;4.0000');
    expect(problems(text)).toEqual([
      [2, 'Pcs', 'many'],
      [4, 'Pcs', '0'],
      [4, 'Gross kg', '4.0000'],
    ]);
    expect(accepted(text)).toEqual([
      'a whole number of pieces, digits with a decimal comma, not grouped',
      'a whole number of pieces from 1 to 100000',
      'a mass in kg, digits with a decimal comma, not grouped',
    ]);
  });

  it('refuses a header without one of the columns, or with one of them twice', () => {
    const names = 'Drum no, Melt, Pcs, Gross kg, Tare kg, Seal, Au permille';
    const missing = semicolons.replace('Seal', 'Lock');
    expect(problems(missing)).toEqual([
      [1, 'header', 'Drum no;Melt;Pcs;Gross kg;Tare kg;Lock;Au permille;Remark'],
    ]);
    expect(accepted(missing)).toEqual([`a header with each of these columns once: ${names}`]);
    expect(problems(semicolons.replace('Remark', 'Seal'))).toHaveLength(1);
    expect(problems('')).toEqual([[1, 'header', '']]);
  });

  it('refuses quotes that are not closed, with the line', () => {
    const [problem] = problems(change(4, 7, '"top'));
    expect(problem).toEqual([4, 'row', 'CSV_QUOTE_NOT_CLOSED']);
  });

  it('refuses a list without a drum, one that is too long, and a bad consignment id', () => {
    expect(problems(semicolons.split('\r\n')[0] ?? '')).toEqual([
      [0, 'melts', ''],
      [0, 'drums', ''],
    ]);
    expect(problems('x'.repeat(2_000_001))).toEqual([[0, 'file', '2000001 characters']]);
    expect(problems(semicolons, { ...reading, consignment: 'C 1' })).toEqual([
      [0, 'consignment', 'C 1'],
    ]);
  });
});
