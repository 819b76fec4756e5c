import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type CsvValue, csvBytes } from '../../../tables/csv.ts';
import { readTableFile } from '../../../tables/table-file.ts';
import { workbookBytes } from '../../../tables/workbook.ts';
import {
  cupel,
  cutMelt,
  laboratoryTrial,
  measure,
  recorded,
  refusals,
  sampleMelt,
} from '../laboratory-trial.ts';
import { determinationHeads } from './determination-rows.ts';
import { paper, readBack } from './exchange-trial.ts';
import {
  commas,
  type LibreOffice,
  opened,
  savedAsWorkbook,
  semicolons,
  shownCells,
  startLibreOffice,
} from './trial-libreoffice.ts';
import { readWorksheet } from './worksheet-readers.ts';

let office: LibreOffice;
beforeAll(() => {
  office = startLibreOffice();
});
afterAll(() => office.end());

/** A melt with a void run, a discarded determination and a signed result. */
async function assayed() {
  const trial = await laboratoryTrial();
  const { forAssay } = await cutMelt(trial, 'M-1');
  const [a = '', b = ''] = forAssay;
  const portions = [
    [a, 917.4],
    [b, 917.4],
  ] as const;
  const proofCornets = ['229.200', '229.400'];
  recorded(await cupel(trial, { assayRun: 'R-0', melt: 'M-1', portions, proofCornets }));
  const three = [...portions, [b, 930] as const];
  recorded(await cupel(trial, { assayRun: 'R-1', melt: 'M-1', portions: three }));
  const discard = { assayRun: 'R-1', label: 'S3', reason: '=1+1 is what the clerk wrote; "so"' };
  recorded(await trial.do('discard-determination', discard, 'assayer'));
  recorded(await trial.do('sign-result', { melt: 'M-1' }, 'assayer'));
  return { trial, a, b };
}

/** What a workbook must hold, cell by cell. */
function expectCells(
  found: readonly (readonly { readonly isText: boolean; readonly text: string }[])[],
  heads: readonly string[],
  rows: readonly (readonly CsvValue[])[],
  marked: boolean,
) {
  expect(found).toHaveLength(rows.length + 1);
  expect(found[0]?.map(({ text }) => text)).toEqual([...heads]);
  for (const [line, row] of rows.entries()) {
    for (const [place, value] of row.entries()) {
      const cell = found[line + 1]?.[place];
      const at = `row ${line + 1}, ${heads[place]}`;
      if (value === null || value === '' || (typeof value === 'object' && 'room' in value)) {
        expect(cell?.text, at).toBe('');
      } else if (typeof value === 'string') {
        const isMarked = marked && /^[=+\-@]/.test(value);
        expect(cell, at).toEqual({ isText: true, text: isMarked ? `'${value}` : value });
      } else {
        const number = typeof value === 'number' ? value : Number(value.digits);
        expect(cell?.isText, at).toBe(false);
        // LibreOffice writes fifteen significant digits.
        expect(Number(cell?.text), at).toBeCloseTo(number, 11);
      }
    }
  }
}

const strange: readonly (readonly CsvValue[])[] = [
  ['=1+1', '+49 30', '-3', '@SUM(A1)', null],
  ['a, b; c', 'two\nlines', 'said "so"', 'Fût Nº 7 ‰', -0.25],
  ['', ' blank at the ends ', '0012', '2026-03-02', { digits: '250.000' }],
  ["'quoted", '1E5', '3/4', 'µ', 1e-7],
];
const strangeHeads = ['A', 'B', 'C', 'D', 'Number, mg'];

describe('a table with text that a spreadsheet would take for something else', () => {
  it('comes as text in a workbook, and readings show their digits', async () => {
    const bytes = await workbookBytes(strangeHeads, strange, 'strange');
    const file = { name: 'strange.xlsx', bytes };
    const [found = []] = opened(office, [file]);
    expectCells(found, strangeHeads, strange, false);
    expect(shownCells(office, file)[3]?.[4]).toBe('250.000');
  });

  it('shows every reading with the very digits that were sent, trailing zeros too', async () => {
    const sent = [
      '1.250',
      '250.000',
      '8.0100',
      '0.000',
      '1200',
      '0',
      '-0.50',
      '31.10347680',
      '12345678.9',
    ];
    const rows = sent.map((digits) => [digits, { digits }]);
    const bytes = await workbookBytes(['Sent', 'Reading, mg'], rows, 'readings');
    const file = { name: 'readings.xlsx', bytes };
    expect(shownCells(office, file).slice(1)).toEqual(sent.map((digits) => [digits, digits]));
    // They are numbers all the same, that can be reckoned with.
    const [found = []] = opened(office, [file]);
    expect(found.slice(1).map((row) => row[1]?.isText)).toEqual(sent.map(() => false));
  });

  it.each([
    ['point', commas],
    ['comma', semicolons],
  ] as const)('comes marked as text in separated values with a %s', (mark, infilter) => {
    const rows = strange.slice(0, 2);
    const bytes = csvBytes(strangeHeads, rows, mark);
    const [found = []] = opened(office, [{ name: 'strange.csv', bytes }], infilter);
    expectCells(found, strangeHeads, rows, true);
  });

  it('would be reckoned where it did not: the check can fail', () => {
    const bytes = new TextEncoder().encode('A\r\n=1+1\r\n');
    const [found = []] = opened(office, [{ name: 'planted.csv', bytes }], commas);
    expect(found[1]?.[0]).toEqual({ isText: false, text: '2' });
  });
});

describe('the table of determinations', () => {
  it('has a row for each, with readings, uncertainties and verdict, the same in every form', async () => {
    const { trial, a, b } = await assayed();
    const csv = await paper(trial, 'melt-determinations', 'M-1@csv');
    const book = await paper(trial, 'melt-determinations', 'M-1');
    const comma = await paper(trial, 'melt-determinations', 'M-1@csv@comma');
    const [fromBook = []] = opened(office, [book]);
    const [fromCsv = []] = opened(office, [csv], commas);
    const [fromComma = []] = opened(office, [comma], semicolons);
    const plain = (rows: typeof fromBook) => rows.map((row) => row.map(({ text }) => text));
    expect(plain(fromBook)[0]).toEqual([...determinationHeads]);
    const numbers = (rows: typeof fromBook) =>
      rows.map((row) =>
        row.map((cell) => (cell.isText ? cell.text.replace(/^'=/, '=') : Number(cell.text))),
      );
    expect(numbers(fromCsv)).toEqual(numbers(fromBook));
    expect(numbers(fromComma)).toEqual(numbers(fromBook));
    const column = (name: string) => determinationHeads.indexOf(name as never);
    const at = (row: number, name: string) => plain(fromBook)[row]?.[column(name)];
    const labels = [1, 2, 3, 4, 5].map((row) => [
      at(row, 'Run'),
      at(row, 'Determination'),
      at(row, 'Blank'),
      at(row, 'State'),
    ]);
    expect(labels).toEqual([
      ['R-0', 'S1', a, 'void'],
      ['R-0', 'S2', b, 'void'],
      ['R-1', 'S1', a, 'valid'],
      ['R-1', 'S2', b, 'valid'],
      ['R-1', 'S3', b, 'discarded'],
    ]);
    expect(at(1, 'Why it does not count')).toMatch(/^The losses of the proofs spread over 0.2 mg/);
    expect(at(5, 'Why it does not count')).toBe('=1+1 is what the clerk wrote; "so"');
    // As the readings were sent: 250.000 mg in, 917.4/4 mg left.
    expect(shownCells(office, book)[3]?.slice(8, 10)).toEqual(['250.000', '229.350']);
    expect(Number(at(3, 'Fineness, ‰'))).toBeCloseTo(917.4, 9);
    expect(at(3, 'Verdict')).toBe('passes');
    // By hand in the test of the result: u = 0.187662 ‰.
    expect(Number(at(3, 'Standard uncertainty of the result, ‰'))).toBeCloseTo(0.187662, 6);
  });

  it('is given for a month as well; none where there is none', async () => {
    const { trial } = await assayed();
    const month = await paper(trial, 'month-determinations', '2026-03@csv');
    const melt = await paper(trial, 'melt-determinations', 'M-1@csv');
    expect(new TextDecoder().decode(month.bytes)).toBe(new TextDecoder().decode(melt.bytes));
    for (const id of ['2026-04', 'March', 'M-9@csv', '2026-03@pdf']) {
      await expect(paper(trial, 'month-determinations', id)).rejects.toThrow('no month');
    }
    await expect(paper(trial, 'melt-determinations', 'M-9')).rejects.toThrow('no melt');
  });

  it('follows the decimal sign that the chief assayer chose for the plant', async () => {
    const { trial } = await assayed();
    const text = async (id: string) =>
      new TextDecoder().decode((await paper(trial, 'melt-determinations', id)).bytes);
    expect(await text('M-1@csv')).toContain(',229.350,');
    recorded(await trial.do('choose-decimal-sign', { decimalMark: 'comma' }, 'chief'));
    expect(await trial.ask('decimal-sign', {}, 'auditor')).toEqual({ decimalMark: 'comma' });
    expect(await text('M-1@csv')).toContain(';229,350;');
    expect(await text('M-1@csv@point')).toContain(',229.350,');
  });

  it('has impurities and their sum for a run by difference', async () => {
    const trial = await laboratoryTrial();
    const { forAssay } = await cutMelt(trial, 'M-1', 'heron-31');
    const impurity = (element: string, content: number | null) => ({
      element,
      contentMilligramsPerKilogram: content,
      standardUncertaintyMilligramsPerKilogram: 5,
      detectionLimitMilligramsPerKilogram: 2,
    });
    const solutions = [
      {
        label: 'L1',
        blank: forAssay[0],
        impurities: [impurity('Cu', 300.5), impurity('Au', null)],
      },
    ];
    const run = { assayRun: 'D-1', melt: 'M-1', policy: 'limit', solutions, instrument: 'S-1' };
    recorded(await trial.do('record-difference', run, 'assayer'));
    const csv = await paper(trial, 'melt-determinations', 'M-1@csv');
    expect(new TextDecoder().decode(csv.bytes)).toContain(',Cu 300.5; Au < 2,302.5,');
  });
});

/** A template as text, filled in by hand: readings by blank, with the sign that the file has. */
function filled(
  bytes: Uint8Array,
  readings: (row: readonly string[], at: number) => string[],
): string {
  const text = new TextDecoder().decode(bytes);
  const separator = text.includes(';') ? ';' : ',';
  const [head = '', ...rows] = text.trim().split('\r\n');
  const full = rows.map((line, at) => readings(line.split(separator), at).join(separator));
  return [head, ...full].join('\r\n');
}

const sha = (letter: string) => ({ name: 'sheet', sha256: letter.repeat(64), kept: 'as sent' });

describe('a worksheet for measuring blanks', () => {
  const measured = (mark: string) => (row: readonly string[]) => [
    ...row.slice(0, 5),
    `8${mark}010`,
    `22${mark}00`,
    `1${mark}500`,
    'sound',
  ];

  it.each([
    ['point', 'M-1@csv@point', '.'],
    ['comma', 'M-1@csv@comma', ','],
  ])('comes back digit by digit as text with a %s', async (_mark, id, mark) => {
    const trial = await laboratoryTrial();
    const { all } = await sampleMelt(trial, 'M-1');
    const sheet = await paper(trial, 'blank-sheet', id);
    const back = await readBack(new TextEncoder().encode(filled(sheet.bytes, measured(mark))));
    if (back.worksheet !== 'blanks') throw new Error(JSON.stringify(back));
    expect(back.measurements.map(({ blank }) => blank)).toEqual([...all]);
    expect(back.measurements[0]).toEqual({
      blank: all[0],
      mass: { text: '8.010', unit: 'g', typed: true },
      diameter: { text: '22.00', unit: 'mm', typed: true },
      thickness: { text: '1.500', unit: 'mm', typed: true },
    });
  });

  it('comes back from a workbook that LibreOffice saved, and is recorded as it was measured', async () => {
    const trial = await laboratoryTrial();
    const { all } = await sampleMelt(trial, 'M-1');
    const sheet = await paper(trial, 'blank-sheet', 'M-1@csv@comma');
    const text = filled(sheet.bytes, measured(','));
    const bytes = new TextEncoder().encode(`\ufeff${text}`);
    const book = savedAsWorkbook(office, { name: 'blanks.csv', bytes }, semicolons);
    const back = await readBack(book);
    if (back.worksheet !== 'blanks') throw new Error(JSON.stringify(back));
    expect(back.rows[0]).toEqual({ line: 2, label: all[0] });
    const { measurements, rows } = back;
    const work = { melt: 'M-1', balance: 'B-1', micrometer: 'M-1', measurements };
    const input = { file: sha('a'), rows, setAside: [], work };
    const [first, , taken] = recorded(await trial.do('take-blank-sheet', input, 'inspector'));
    expect(first).toMatchObject({
      measurements: all.map((blank) => ({ blank, massMicrograms: 8_010_000, faults: [] })),
    });
    expect(taken).toMatchObject({ worksheet: 'blanks', melt: 'M-1', assayRun: null });
    // Nothing is left to be measured: the sheet has its heading alone.
    const left = await paper(trial, 'blank-sheet', 'M-1@csv');
    expect(new TextDecoder().decode(left.bytes).trim().split('\r\n')).toHaveLength(1);
    expect(refusals(await trial.do('take-blank-sheet', input, 'inspector'))).toEqual([
      'WorksheetAlreadyTaken',
    ]);
  });

  it('is opened by LibreOffice as it was made', async () => {
    const trial = await laboratoryTrial();
    const { all } = await sampleMelt(trial, 'M-1');
    const book = await paper(trial, 'blank-sheet', 'M-1');
    const [found = []] = opened(office, [book]);
    expect(found[0]?.map(({ text }) => text).slice(5)).toEqual([
      'Mass, g',
      'Diameter, mm',
      'Thickness, mm',
      'Remark',
    ]);
    expect(found.slice(1).map((row) => row[1])).toEqual(
      all.map((blank) => ({ isText: true, text: blank })),
    );
  });
});

describe('a worksheet for a cupellation run', () => {
  it('comes back with proofs and portions and makes the run', async () => {
    const trial = await laboratoryTrial();
    const { forAssay } = await cutMelt(trial, 'M-1');
    const sheet = await paper(trial, 'cupellation-sheet', 'M-1@csv');
    const text = filled(sheet.bytes, (row) =>
      row[1] === 'proof'
        ? [...row.slice(0, 4), '229.200', '229.200', '']
        : [...row.slice(0, 4), '250.000', '229.350', ''],
    );
    const bytes = new TextEncoder().encode(`\ufeff${text}`);
    const book = savedAsWorkbook(office, { name: 'run.csv', bytes }, commas);
    for (const file of [bytes, book]) {
      const back = await readBack(file);
      if (back.worksheet !== 'cupellation') throw new Error(JSON.stringify(back));
      expect(back.proofs.map(({ label, goldTaken }) => [label, Number(goldTaken.text)])).toEqual([
        ['P1', 229.2],
        ['P2', 229.2],
      ]);
      expect(back.samples.map(({ blank, cornet }) => [blank, Number(cornet.text)])).toEqual(
        forAssay.map((blank) => [blank, 229.35]),
      );
    }
    const back = await readBack(bytes);
    if (back.worksheet !== 'cupellation') throw new Error('no run');
    const { proofs, samples, rows } = back;
    const work = {
      assayRun: 'R-1',
      melt: 'M-1',
      correction: 'absolute',
      proofs,
      samples,
      instrument: 'B-1',
      extractionConfirmed: true,
    };
    const input = { file: sha('b'), rows, setAside: [], work };
    const [run, taken] = recorded(await trial.do('take-cupellation-sheet', input, 'assayer'));
    expect(run).toMatchObject({ assayRun: 'R-1', state: 'valid' });
    expect(taken).toMatchObject({ worksheet: 'cupellation', assayRun: 'R-1', rows });
  });

  it('is held to everything that a typed run is held to, and to its own rows', async () => {
    const trial = await laboratoryTrial();
    const { forAssay } = await cutMelt(trial, 'M-1');
    const [a = ''] = forAssay;
    const mg = (text: string) => ({ text, unit: 'mg', typed: true });
    const proof = (label: string) => ({ label, goldTaken: mg('229.2'), cornet: mg('229.2') });
    const work = (sample: string) => ({
      assayRun: 'R-1',
      melt: 'M-1',
      correction: 'absolute',
      proofs: [proof('P1'), proof('P2')],
      samples: [{ label: 'A1', blank: a, sample: mg(sample), cornet: mg('229.35') }],
      instrument: 'B-1',
      extractionConfirmed: true,
    });
    const rows = ['P1', 'P2', 'A1'].map((label, index) => ({ line: index + 2, label }));
    const take = (change: object, sample = '250') =>
      trial.do(
        'take-cupellation-sheet',
        { file: sha('c'), rows, setAside: [], work: work(sample), ...change },
        'assayer',
      );
    expect(refusals(await take({ rows: rows.slice(1) }))).toEqual(['WorksheetRowsDiffer']);
    const setAside = [{ line: 3, reason: 'The cupel cracked.' }];
    expect(refusals(await take({ setAside }))).toEqual(['LineTakenAndAside']);
    expect(await take({}, '100')).toMatchObject({
      refusals: [{ refusal: 'ReadingsNotAccepted', field: 'work.samples.0.cornet' }],
    });
  });
});

describe('a worksheet that is wrong', () => {
  const read = (text: string, setAside: readonly { line: number; reason: string }[] = []) =>
    readTableFile(new TextEncoder().encode(text)).then(({ read: laid }) => {
      if (laid.outcome === 'problem') throw new Error('not laid out');
      return readWorksheet(laid.sheets, 'M-1', setAside);
    });
  const problems = async (text: string) => {
    const back = await read(text);
    if (back.worksheet !== 'none') throw new Error('it was read');
    return back.problems.map(({ line, column, value }) => [line, column, value]);
  };
  const head = 'Melt,Blank,Mass (mg),Diameter [mm],"Thickness, µm"';

  it('is shown line by line, and nothing is taken', async () => {
    const text = [
      head,
      'M-1,B-1,8010,22.00,1500',
      'M-2,B-2,8010,22.00,1500',
      'M-1,,8010,22.00,1500',
      'M-1,B-4,eight,22.00,',
      'M-1,B-5,"8.010,5",22.00,1500',
      'M-1,B-6,,,',
    ].join('\n');
    expect(await problems(text)).toEqual([
      [3, 'Melt', 'M-2'],
      [4, 'Blank', ''],
      [5, 'Mass (mg)', 'eight'],
      [5, 'Thickness, µm', ''],
      [6, 'Mass (mg)', '8.010,5'],
    ]);
    const aside = [3, 4, 5, 6].map((line) => ({ line, reason: 'Measured anew.' }));
    expect(await read(text, aside)).toMatchObject({
      worksheet: 'blanks',
      measurements: [{ blank: 'B-1', mass: { text: '8010', unit: 'mg' } }],
      leftOut: [{ line: 7, words: 'without a reading' }],
    });
    expect(await read(text, [...aside, { line: 44, reason: 'None such.' }])).toMatchObject({
      problems: [{ line: 44, column: 'set aside' }],
    });
  });

  it('needs units in its headings, rows with readings, and proofs or portions', async () => {
    expect(
      await problems('Melt,Blank,Mass,"Diameter, mm","Thickness, mm"\nM-1,B-1,8,22,1'),
    ).toEqual([[0, 'Mass', 'Mass']]);
    expect(await problems(`${head}\nM-1,B-1,,,`)).toEqual([[0, 'file', 'no row with readings']]);
    const run = 'Kind,Label,Blank,"Taken, mg","Cornet, mg"';
    expect(await problems(`${run}\nspare,X1,,10,9`)).toEqual([[2, 'Kind', 'spare']]);
    expect(await problems('Something,Else\n1,2')).toEqual([[1, 'header', 'Something;Else']]);
  });

  it('is refused for what the plant does not know, as typed readings are', async () => {
    const trial = await laboratoryTrial();
    const { all } = await sampleMelt(trial, 'M-1');
    recorded(await measure(trial, 'M-1', all.slice(0, 1)));
    const back = await read(`${head}\nM-1,${all[0]},8010,22.00,1500\nM-1,X-9,8010,22.00,1500`);
    if (back.worksheet !== 'blanks') throw new Error('not read');
    const { measurements, rows } = back;
    const work = { melt: 'M-1', balance: 'B-1', micrometer: 'M-1', measurements };
    const input = { file: sha('d'), rows, setAside: [], work };
    expect(refusals(await trial.do('take-blank-sheet', input, 'inspector'))).toEqual([
      'BlankNotDrawn',
      'BlankAlreadyMeasured',
    ]);
  });
});
