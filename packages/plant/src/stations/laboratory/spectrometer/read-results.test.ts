import { describe, expect, it } from 'vitest';
import writeWorkbook from 'write-excel-file/node';
import { readTableFile } from '../../../tables/table-file.ts';
import { readResults } from './read-results.ts';
import { proposeResultMapping } from './result-proposal.ts';
import { proposed, readText, rowsOf, sheetsOf, tableOf } from './result-trial.ts';

const two = [
  'B1 | sample | Cu 12.5, Fe 3.1, Pb <0.5',
  'B1 | sample | Cu 12.7, Fe 3.0, Pb <0.5',
  'B2 | sample | Cu 13.1, Fe 3.2, Pb 0.6',
];

function problems(read: ReturnType<typeof readText>) {
  if (read.outcome === 'read') throw new Error('the table was read');
  return read.problems.map(({ line, column, value }) => [line, column, value]);
}

describe('elements as columns, replicates as rows', () => {
  it.each([
    ['English', 'Sample;Cu;Fe;Pb'],
    ['German', 'Probe;Kupfer;Eisen;Blei'],
    ['French', 'Échantillon;Cuivre;Fer;Plomb'],
    ['Italian', 'Campione;Rame;Ferro;Piombo'],
    ['Spanish', 'Muestra;Cobre;Hierro;Plomo'],
    ['Portuguese', 'Amostra;Cobre;Ferro;Chumbo'],
    ['lines of a spectrum', 'Sample;Cu 324.754;Fe 259.940 (mg/kg);Pb 220.353 nm'],
    ['isotopes', 'Label;63Cu [ppm];56Fe [ppm];208Pb [ppm]'],
  ])('in the words of %s', (_language, header) => {
    const rows = ['B1;12.5;3.1;<0.5', 'B1;12.7;3.0;<0.5', 'B2;13.1;3.2;0.6'];
    expect(rowsOf(readText([header, ...rows].join('\n')))).toEqual(two);
  });

  it('in any order, with decimal comma and a label at the first replicate only', () => {
    const text = [
      'Messung vom 2. März;;;',
      ';;;',
      'Pb;Cu;Probe;Fe',
      'mg/kg;mg/kg;;mg/kg',
      '< 0,5;12,5;B1;3,1',
      '<0,5;12,7;;3,0',
      '0,6;13,1;B2;3,2',
      'Mittelwert;12,8;;3,1',
    ].join('\n');
    const mapping = proposed(text).mapping;
    expect(mapping).toMatchObject({
      layout: 'elements across',
      decimalMark: 'comma',
      fillDown: true,
      columns: { label: 'Probe' },
    });
    // The last line says Mittelwert in the column of an element, so that it is no content.
    const read = readText(text);
    expect(problems(read)).toEqual([[8, 'Pb mg/kg', 'Mittelwert']]);
    const aside = [{ line: 8, reason: 'The mean, in the wrong column.' }];
    expect(rowsOf(readText(text, {}, aside))).toEqual([
      'B1 | sample | Pb <0.5, Cu 12.5, Fe 3.1',
      'B1 | sample | Pb <0.5, Cu 12.7, Fe 3.0',
      'B2 | sample | Pb 0.6, Cu 13.1, Fe 3.2',
    ]);
  });

  it('tells standards, drift, blanks and limits by their labels, and leaves means out', () => {
    const text = [
      'Sample,Cu,Fe',
      'Std 0,0.1,0.0',
      'Std 1,10.2,9.9',
      'Drift (1),5.01,5.00',
      'Reagent,0,0',
      'B1 (1),12.5,3.1',
      'B1 (2),12.7,3.0',
      'B1 mean,12.6,3.05',
      'B1 RSD %,1.1,2.3',
      'Drift (2),5.05,4.99',
      'LOD,0.3,0.2',
    ].join('\n');
    const { marks } = proposed(text).mapping;
    expect(marks).toEqual({ calibration: 'Std', drift: 'Drift', blank: '' });
    const read = readText(text, { marks: { ...marks, blank: 'Reagent' } });
    expect(rowsOf(read)).toEqual([
      'Std 0 | calibration | Cu 0.1, Fe 0.0',
      'Std 1 | calibration | Cu 10.2, Fe 9.9',
      'Drift | drift | Cu 5.01, Fe 5.00',
      'Reagent | blank | Cu 0, Fe 0',
      'B1 | sample | Cu 12.5, Fe 3.1',
      'B1 | sample | Cu 12.7, Fe 3.0',
      'Drift | drift | Cu 5.05, Fe 4.99',
      'LOD | limit | Cu 0.3, Fe 0.2',
    ]);
    expect(read).toMatchObject({
      leftOut: [
        { line: 8, words: 'reckoned by the instrument' },
        { line: 9, words: 'reckoned by the instrument' },
      ],
    });
  });

  it('reads the kind of a row from its own column where there is one', () => {
    const text = ['Type;Name;Cu;Fe', 'Standard;K7;10;10', 'Sample;B1;12;3', 'QC;K3;5;5'].join('\n');
    expect(rowsOf(readText(text))).toEqual([
      'K7 | calibration | Cu 10, Fe 10',
      'B1 | sample | Cu 12, Fe 3',
      'K3 | drift | Cu 5, Fe 5',
    ]);
  });

  it('takes one line of an element that has two, and says so', () => {
    const text = ['Sample,Cu 324.754,Cu 327.395,Fe', 'B1,12.5,12.9,3.1'].join('\n');
    expect(proposed(text).doubts).toContain(
      'Cu 327.395 is left out: another column has the same element.',
    );
    expect(rowsOf(readText(text))).toEqual(['B1 | sample | Cu 12.5, Fe 3.1']);
  });
});

describe('units', () => {
  it.each([
    ['mg/kg', 'mg/kg'],
    ['ppm', 'ppm'],
    ['%', '%'],
    ['‰', '‰'],
    ['µg/g', 'µg/g'],
    ['g/t', 'g/t'],
    ['ppb', 'ppb'],
  ])('%s is known in the header', (written, unit) => {
    const text = [`Sample;Cu (${written});Fe [${written}]`, 'B1;0.0012;0.0003'].join('\n');
    expect(tableOf(readText(text)).elements).toEqual([
      { element: 'Cu', unit },
      { element: 'Fe', unit },
    ]);
  });

  it('are asked for where the file names none', () => {
    expect(proposed('Sample;Cu;Fe\nB1;1;2').doubts).toEqual([
      'The file does not say in which unit its contents are; mg/kg is taken.',
    ]);
  });

  it('refuses a cell in another unit than its column', () => {
    const text = ['Sample;Cu ppm;Fe ppm', 'B1;12 ppm;0.3 %'].join('\n');
    expect(problems(readText(text))).toEqual([[2, 'Fe ppm', '0.3 %']]);
  });
});

describe('elements as rows', () => {
  const text = [
    'Element;Unit;LOD;B1 (1);B1 (2);B2;Mean',
    'Cu;mg/kg;0.3;12.5;12.7;13.1;12.8',
    'Fe;mg/kg;0.2;3.1;3.0;3.2;3.1',
    'Pb;mg/kg;0.5;<0.5;<0.5;0.6;0.5',
  ].join('\n');

  it('with solutions as columns', () => {
    expect(proposed(text).mapping).toMatchObject({ layout: 'elements down', leftOut: ['Mean'] });
    expect(rowsOf(readText(text))).toEqual([
      ...two,
      'detection limits | limit | Cu 0.3, Fe 0.2, Pb 0.5',
    ]);
  });

  it('with one value in a row, in the order of solutions or of elements', () => {
    const bySolution = [
      'Drift;Cu;5.0',
      'Drift;Fe;5.1',
      'B1;Cu;12.5',
      'B1;Fe;3.1',
      'B1;Cu;12.7',
      'B1;Fe;3.0',
      'Drift;Cu;5.2',
      'Drift;Fe;5.0',
    ];
    const byElement = bySolution.toSorted((a, b) =>
      (a.split(';')[1] ?? '').localeCompare(b.split(';')[1] ?? ''),
    );
    const expected = [
      'Drift | drift | Cu 5.0, Fe 5.1',
      'B1 | sample | Cu 12.5, Fe 3.1',
      'B1 | sample | Cu 12.7, Fe 3.0',
      'Drift | drift | Cu 5.2, Fe 5.0',
    ];
    for (const rows of [bySolution, byElement]) {
      const read = readText(['Probe;Element;Gehalt (ppm)', ...rows].join('\n'));
      expect(rowsOf(read)).toEqual(expected);
    }
  });

  it('refuses a row of no element, an element twice, and another unit for the same element', () => {
    const twice = ['Element;B1;B2', 'Cu;1;2', 'Fe;1;2', 'Cu;1;2', 'Sum?;4;4'].join('\n');
    expect(problems(readText(twice, { layout: 'elements down', leftOut: [] }))).toEqual([
      [4, 'Element', 'Cu'],
      [5, 'Element', 'Sum?'],
    ]);
    const units = ['Sample;Element;Unit;Value', 'B1;Cu;ppm;1', 'B1;Fe;ppm;1', 'B2;Cu;%;1'];
    expect(problems(readText(units.join('\n')))).toEqual([[4, 'Unit', '%']]);
  });
});

describe('a row that is wrong', () => {
  const text = ['Sample;Cu;Fe', 'B1;12,5;3,1', 'B1;sat.;3,0', ';1,0;2,0', 'B2;>900;1,2,3'].join(
    '\n',
  );

  it('is shown with line, column and what would be accepted, and nothing is taken', () => {
    const read = readText(text);
    expect(problems(read)).toEqual([
      [3, 'Cu', 'sat.'],
      [4, 'Sample', ''],
      [5, 'Cu', '>900'],
      [5, 'Fe', '1,2,3'],
    ]);
    expect(read).toMatchObject({
      problems: [
        {
          accepted: 'a content in mg/kg, digits with a decimal comma; < before a detection limit',
        },
        { accepted: 'the label of a solution' },
        {},
        {},
      ],
    });
  });

  it('can be set aside with a reason; a line that is none cannot', () => {
    const aside = [3, 4, 5].map((line) => ({ line, reason: 'The plasma went out.' }));
    expect(rowsOf(readText(text, {}, aside))).toEqual(['B1 | sample | Cu 12.5, Fe 3.1']);
    expect(problems(readText(text, {}, [...aside, { line: 99, reason: 'None such.' }]))).toEqual([
      [99, 'set aside', '99'],
    ]);
  });

  it('with a cell too many is one, in text', () => {
    expect(problems(readText('Sample;Cu;Fe\nB1;1;2\nB2;1;2;3'))).toEqual([[3, 'row', '4 cells']]);
  });

  it('says what n.d. means: not found', () => {
    expect(rowsOf(readText('Sample;Cu;Fe\nB1;n.d.;<LOD\nB2;ND;−0.1'))).toEqual([
      'B1 | sample | Cu <, Fe <',
      'B2 | sample | Cu <, Fe -0.1',
    ]);
  });
});

describe('a workbook', () => {
  it('gives its numbers as it holds them, and a day for a label is refused', async () => {
    const day = new Date(Date.UTC(2026, 2, 2));
    const bytes = await writeWorkbook([
      [{ value: 'Sample' }, { value: 'Cu [mg/kg]' }, { value: 'Fe [mg/kg]' }],
      [{ value: 'B1' }, { value: 12.5 }, { value: '<0.5' }],
      [{ value: day, format: 'yyyy-mm-dd' }, { value: 0.000_000_12 }, { value: 1 }],
    ] as never).toBuffer();
    const { read } = await readTableFile(new Uint8Array(bytes));
    if (read.outcome === 'problem') throw new Error('the workbook was not laid out');
    const mapping = proposeResultMapping(read.sheets, undefined)?.mapping;
    if (!mapping) throw new Error('no table was found');
    expect(problems(readResults(read.sheets, mapping))).toEqual([[3, 'Sample', '2026-03-02']]);
    const aside = [{ line: 3, reason: 'Not a sample.' }];
    expect(rowsOf(readResults(read.sheets, mapping, aside))).toEqual([
      'B1 | sample | Cu 12.5, Fe <0.5',
    ]);
  });
});

describe('a mapping that was confirmed', () => {
  const text = 'Sample;Cu ppm;Fe ppm\nB1;1;2';
  const { mapping } = proposed(text);

  it('is used again in whatever order the columns stand', () => {
    const other = 'Remark;Fe ppm;Sample;Cu ppm\n;2;B9;1';
    expect(proposed(other, mapping)).toMatchObject({ isAsConfirmed: true, mapping });
    expect(rowsOf(readResults(sheetsOf(other), mapping))).toEqual(['B9 | sample | Cu 1, Fe 2']);
  });

  it.each([
    ['an element that it does not know', 'Sample;Cu ppm;Fe ppm;Pb ppm\nB1;1;2;3'],
    ['another unit', 'Sample;Cu %;Fe %\nB1;1;2'],
    ['another layout', 'Element;B1;B2\nCu;1;2\nFe;2;3'],
  ])('gives way to a new proposal where the file has %s', (_what, other) => {
    expect(proposed(other, mapping).isAsConfirmed).toBe(false);
  });

  it('refuses a file without its columns, saying which', () => {
    expect(problems(readResults(sheetsOf('Sample;Zn;Sn\nB1;1;2'), mapping))).toEqual([
      [1, 'header', 'Sample;Zn;Sn'],
    ]);
  });
});
