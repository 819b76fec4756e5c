import { describe, expect, it } from 'vitest';
import { sheetsOfCsv } from '../../../tables/csv-sheet.ts';
import type { Sheet } from '../../../tables/sheet.ts';
import type { ListMapping } from './list-bodies.ts';
import { listMappingSchema } from './list-bodies.ts';
import type { ListHead, PackingListResult, SetAside } from './list-result.ts';
import { missingFields, type Proposal, proposeMapping } from './proposal.ts';
import { readList } from './read-list.ts';

const head: ListHead = {
  consignment: 'C-1',
  supplier: 'NORTH',
  document: 'List 12',
  pieceStandard: 'GOLD-10',
};

function sheetsOf(text: string): readonly Sheet[] {
  const read = sheetsOfCsv(text);
  if (read.outcome === 'problem') throw new Error(JSON.stringify(read.problem));
  return read.sheets;
}

function proposed(text: string): Proposal {
  const proposal = proposeMapping(sheetsOf(text), undefined);
  if (!proposal) throw new Error('no table was found');
  return proposal;
}

/** Reads a list by the mapping that is proposed for it, with what a person changed. */
function read(
  text: string,
  change: Partial<ListMapping> = {},
  setAside: readonly SetAside[] = [],
): PackingListResult {
  const mapping = listMappingSchema.parse({ ...proposed(text).mapping, ...change });
  return readList(sheetsOf(text), mapping, head, setAside);
}

/** Each drum as one line: id, melt, pieces, gross, tare, seal. */
function drums(result: PackingListResult): readonly string[] {
  if (result.outcome === 'problems') throw new Error(JSON.stringify(result.problems));
  return result.input.drums.map(({ drum, melt, pieces, gross, tare, seal }) =>
    [drum, melt, pieces, `${gross.text} ${gross.unit}`, `${tare.text} ${tare.unit}`, seal].join(
      ' | ',
    ),
  );
}

function problems(result: PackingListResult) {
  if (result.outcome === 'read') throw new Error('the list was read');
  return result.problems.map(({ line, column, value }) => [line, column, value]);
}

const finenesses = (result: PackingListResult) =>
  result.outcome === 'read'
    ? result.input.melts.map(({ supplierFinenessPerMille }) => supplierFinenessPerMille)
    : [];

const three = [
  'D-1 | M-1 | 300 | 5.0100 kg | 2.0 kg | S-1',
  'D-2 | M-1 | 300 | 5.0000 kg | 2.0 kg | S-2',
  'D-3 | M-2 | 200 | 4.0000 kg | 2.0 kg | S-3',
];

const rows = [
  'D-1;M-1;300;5,0100;2,0;S-1',
  'D-2;M-1;300;5,0000;2,0;S-2',
  'D-3;M-2;200;4,0000;2,0;S-3',
];

describe('headers in six languages', () => {
  it.each([
    ['English', 'Drum no.;Melt;Pieces;Gross weight kg;Tare kg;Seal no.'],
    ['German', 'Fassnummer;Schmelze;Stückzahl;Bruttogewicht kg;Taragewicht kg;Plombennr.'],
    ['French', 'Fût n°;Coulée;Nombre de pièces;Poids brut kg;Tare kg;N° de scellé'],
    ['Italian', 'Fusto;Colata;Pezzi;Peso lordo kg;Tara kg;Sigillo'],
    ['Spanish', 'Tambor;Colada;Cantidad;Peso bruto kg;Tara kg;Precinto'],
    ['Portuguese', 'Tambor;Fusão;Peças;Peso bruto kg;Tara kg;Lacre'],
  ])('%s', (_language, header) => {
    expect(drums(read([header, ...rows].join('\n')))).toEqual(three);
  });

  it('in any order', () => {
    const text = [
      'Plombe;Tara kg;Brutto kg;Menge;Charge;Fass',
      'S-1;2,0;5,0100;300;M-1;D-1',
      'S-2;2,0;5,0000;300;M-1;D-2',
      'S-3;2,0;4,0000;200;M-2;D-3',
    ].join('\n');
    expect(drums(read(text))).toEqual(three);
  });
});

const header = 'Drum;Melt;Pieces;Gross kg;Tare kg;Seal';

describe('what stands around the table', () => {
  it('a title, an address and blank rows above it, and notes below it', () => {
    const text = [
      '"Silverthorn & Daughters; Refiners";;;;;',
      'Packing list 12;;;;2026-03-02;',
      '',
      header,
      ...rows,
      ';;;;;',
      'Seals fixed by K. Amsel;;;;;',
    ].join('\n');
    const result = read(text);
    expect(drums(result)).toEqual(three);
    expect(result).toMatchObject({
      account: {
        leftOut: [
          { line: 1, words: 'above the table' },
          { line: 2, words: 'above the table' },
          { line: 9, words: 'below the table' },
        ],
        rows: [{ line: 5, drum: 'D-1', gross: '5,0100 kg', tare: '2,0 kg' }, {}, {}],
      },
    });
  });

  it('blank rows between the drums', () => {
    const text = [header, rows[0], ';;;;;', '', rows[1], rows[2]].join('\n');
    expect(drums(read(text))).toEqual(three);
  });

  it('the header again at the top of each page', () => {
    const text = [header, rows[0], rows[1], header, rows[2]].join('\n');
    expect(drums(read(text))).toEqual(three);
  });
});

describe('headers over several lines', () => {
  it('a line of units under the words', () => {
    const text = ['Drum;Melt;Pieces;Gross;Tare;Seal', ';;;(kg);(kg);', ...rows].join('\n');
    expect(proposed(text).names[3]).toBe('Gross (kg)');
    expect(drums(read(text))).toEqual(three);
  });

  it('a cell merged over two columns', () => {
    const text = ['Drum;Melt;Pieces;Mass in kg;;Seal', ';;;gross;tare;', ...rows].join('\n');
    expect(proposed(text).names.slice(3, 5)).toEqual(['Mass in kg gross', 'Mass in kg tare']);
    expect(drums(read(text))).toEqual(three);
  });

  it('a line break inside a cell', () => {
    const text = ['"Drum\nno.";Melt;Pieces;"Gross\nkg";"Tare\nkg";Seal', ...rows].join('\n');
    expect(proposed(text).names[0]).toBe('Drum no.');
    expect(drums(read(text))).toEqual(three);
  });
});

describe('numbers', () => {
  const one = (gross: string, tare: string, pieces = '1200', separator = ';') =>
    [
      ['Drum', 'Melt', 'Pieces', 'Gross g', 'Tare g', 'Seal'].join(separator),
      ['D-1', 'M-1', pieces, gross, tare, 'S-1'].join(separator),
    ].join('\n');

  it.each([
    ['decimal comma, thousands with a point', '14.010,5', '2.000,0', '1.200'],
    ['decimal point, thousands with a comma', '14,010.5', '2,000.0', '1,200'],
    ['decimal comma, thousands with a blank', '14 010,5', '2 000,0', '1 200'],
    ['decimal comma, thousands with a narrow blank', '14\u202f010,5', '2\u00a0000,0', '1200'],
    ['decimal point, thousands with an apostrophe', "14'010.5", "2'000.0", "1'200"],
    ['decimal point, thousands with a curved apostrophe', '14’010.5', '2’000.0', '1’200'],
    ['decimal comma, no groups', '14010,5', '2000,0', '1200'],
  ])('%s', (_how, gross, tare, pieces) => {
    expect(drums(read(one(gross, tare, pieces)))).toEqual([
      'D-1 | M-1 | 1200 | 14010.5 g | 2000.0 g | S-1',
    ]);
  });

  it('says that a mark before three digits could mark thousands', () => {
    const text = one('14,010', '2,000');
    expect(proposed(text).mapping).toMatchObject({ decimalMark: 'comma', groupMark: 'none' });
    expect(proposed(text).doubts).toEqual([
      'Every comma stands before three digits: it is taken as the decimal mark, and could mark thousands.',
    ]);
    const asThousands = read(text, { decimalMark: 'point', groupMark: 'comma' });
    expect(drums(asThousands)).toEqual(['D-1 | M-1 | 1200 | 14010 g | 2000 g | S-1']);
  });

  it('refuses thousands that are not grouped by three', () => {
    const text = one('14.010,5', '2.00,0');
    expect(problems(read(text))).toEqual([[2, 'Tare g', '2.00,0']]);
  });
});

describe('units', () => {
  it('in the cells', () => {
    const text = [
      'Drum;Melt;Pieces;Gross;Tare;Seal',
      'D-1;M-1;300 pcs;5.0100 kg;2000 g;S-1',
      'D-2;M-1;300 pcs;5000.0 g;2 kg;S-2',
    ].join('\n');
    expect(drums(read(text))).toEqual([
      'D-1 | M-1 | 300 | 5.0100 kg | 2000 g | S-1',
      'D-2 | M-1 | 300 | 5000.0 g | 2 kg | S-2',
    ]);
  });

  it('in a line above the table', () => {
    const text = ['All weights in grams', 'Drum;Melt;Pieces;Gross;Tare;Seal', rows[0]].join('\n');
    expect(proposed(text).mapping.units.gross).toBe('g');
    expect(proposed(text).doubts).toEqual([]);
  });

  it('nowhere: kilograms are taken, and the person is told', () => {
    const text = ['Drum;Melt;Pieces;Gross;Tare;Seal', rows[0]].join('\n');
    expect(proposed(text).doubts).toEqual([
      'The list does not say in which unit its masses are; kg is taken.',
    ]);
  });

  it('troy ounces, taken as grams to the microgram and kept as sent', () => {
    const text = [
      'Drum;Melt;Pieces;Gross (ozt);Tare (ozt);Seal',
      'D-1;M-1;300;161.075;64.3;S-1',
    ].join('\n');
    const result = read(text);
    // 161.075 × 31.1034768 g = 5009.99252556 g; 64.3 × 31.1034768 g = 1999.95355824 g, by hand.
    expect(drums(result)).toEqual(['D-1 | M-1 | 300 | 5009.992526 g | 1999.953558 g | S-1']);
    expect(result).toMatchObject({
      account: { rows: [{ gross: '161.075 ozt', tare: '64.3 ozt' }] },
    });
  });

  it.each([
    ['Fineness ‰', '999,93', 'per mille'],
    ['Feingehalt %', '99,993', 'percent'],
    ['Titre', '0,99993', 'fraction'],
    ['Titolo', '99,993 %', 'percent'],
  ])('of fineness: %s', (name, value, unit) => {
    const text = [`${header};${name}`, `${rows[0]};${value}`].join('\n');
    expect(proposed(text).mapping.finenessUnit).toBe(unit);
    expect(finenesses(read(text))).toEqual([999.93]);
  });
});

describe('melts', () => {
  it('in the first row of their drums only, as merged cells leave them', () => {
    const text = [
      `${header};Fineness`,
      'D-1;M-1;300;5,0100;2,0;S-1;999,93',
      'D-2;;300;5,0000;2,0;S-2;',
      'D-3;M-2;200;4,0000;2,0;S-3;',
    ].join('\n');
    expect(proposed(text).mapping.fillDown).toBe(true);
    expect(drums(read(text))).toEqual(three);
    expect(finenesses(read(text))).toEqual([999.93, null]);
    expect(problems(read(text, { fillDown: false }))).toContainEqual([3, 'Melt', '']);
  });

  it('in lines of their own', () => {
    const text = [
      'Drum;Pieces;Gross kg;Tare kg;Seal',
      'Melt no. M-1;;;;',
      'D-1;300;5,0100;2,0;S-1',
      'D-2;300;5,0000;2,0;S-2',
      'Melt no. M-2;;;;',
      'D-3;200;4,0000;2,0;S-3',
    ].join('\n');
    expect(drums(read(text))).toEqual(three);
  });

  it('once above the table', () => {
    const text = ['Schmelze: M-1', 'Fass;Stück;Brutto kg;Tara kg;Plombe', 'D-1;300;5,01;2,0;S-1'];
    expect(drums(read(text.join('\n')))).toEqual(['D-1 | M-1 | 300 | 5.01 kg | 2.0 kg | S-1']);
  });
});

describe('gross, tare and net', () => {
  it('a tare from gross and net', () => {
    const text = ['Drum;Melt;Pieces;Gross kg;Net kg;Seal', 'D-1;M-1;300;5,0100;3,0100;S-1'];
    expect(drums(read(text.join('\n')))).toEqual(['D-1 | M-1 | 300 | 5.0100 kg | 2 kg | S-1']);
  });

  it('a gross from tare and net', () => {
    const text = ['Drum;Melt;Pieces;Tare kg;Net kg;Seal', 'D-1;M-1;300;2,0;3,0100;S-1'];
    expect(drums(read(text.join('\n')))).toEqual(['D-1 | M-1 | 300 | 5.01 kg | 2.0 kg | S-1']);
  });

  it('refuses a net mass that is not gross less tare', () => {
    const text = [
      'Drum;Melt;Pieces;Gross kg;Tare kg;Net kg;Seal',
      'D-1;M-1;300;5,0100;2,0;3,0200;S-1',
    ].join('\n');
    expect(problems(read(text))).toEqual([[2, 'Net kg', '3,0200']]);
  });

  it('refuses a net mass above the gross', () => {
    const text = ['Drum;Melt;Pieces;Gross kg;Net kg;Seal', 'D-1;M-1;300;5,0100;6,0;S-1'];
    expect(problems(read(text.join('\n')))).toEqual([[2, 'Net kg', '6,0']]);
  });
});

describe('sums', () => {
  it('at the end, held against the rows', () => {
    const text = [header, ...rows, 'Total;;800;14,0100;6,0;'].join('\n');
    const result = read(text);
    expect(drums(result)).toEqual(three);
    expect(result).toMatchObject({
      account: {
        totals: [
          { line: 5, column: 'Pieces', stated: '800', check: 'agrees' },
          { line: 5, column: 'Gross kg', stated: '14,0100', check: 'agrees' },
          { line: 5, column: 'Tare kg', stated: '6,0', check: 'agrees' },
        ],
      },
    });
  });

  it('of each melt, with the number of drums beside them', () => {
    const text = [
      header,
      rows[0],
      rows[1],
      '2;Zwischensumme;600;10,01;4,0;',
      rows[2],
      '1;Zwischensumme;200;4,0;2,0;',
      '3;Gesamt;800;14,01;6,0;',
    ].join('\n');
    expect(drums(read(text))).toEqual(three);
  });

  it('without a word beside them', () => {
    expect(drums(read([header, ...rows, ';;800;14,01;6,0;'].join('\n')))).toEqual(three);
  });

  it('refuses one that is not the sum of the rows, with the sum', () => {
    const text = [header, ...rows, 'Summe;;810;14,0100;6,0;'].join('\n');
    const result = read(text);
    expect(problems(result)).toEqual([[5, 'Pieces', '810']]);
    expect(result).toMatchObject({ problems: [{ accepted: 'the sum of the rows, 800 pieces' }] });
  });

  it('takes a wrong one that a person sets aside with a reason', () => {
    const text = [header, ...rows, 'Summe;;810;14,0100;6,0;'].join('\n');
    const aside = [{ line: 5, reason: 'The supplier counted the spare pieces too.' }];
    const result = read(text, {}, aside);
    expect(drums(result)).toEqual(three);
    expect(result).toMatchObject({
      account: { setAside: aside, totals: [{ check: 'not checked' }, {}, {}] },
    });
  });
});

describe('bad rows', () => {
  const bad = [header, rows[0], 'D-2;M-1;many;5,0000;2,0;S-2', rows[2]].join('\n');

  it('are each named with line, column and what would be accepted, and nothing is taken', () => {
    const result = read(bad);
    expect(problems(result)).toEqual([[3, 'Pieces', 'many']]);
    expect(result).toMatchObject({
      problems: [
        { accepted: 'a whole number of pieces, digits with a decimal comma, not grouped' },
      ],
    });
  });

  it('can be set aside; the others are then taken', () => {
    const aside = [{ line: 3, reason: 'Left at the supplier.' }];
    expect(drums(read(bad, {}, aside))).toEqual([three[0], three[2]]);
  });

  it('refuses to set aside a line in which no drum and no sum stands', () => {
    const aside = [{ line: 99, reason: 'No such line.' }];
    expect(problems(read([header, ...rows].join('\n'), {}, aside))).toEqual([
      [99, 'set aside', '99'],
    ]);
  });

  it('refuses a line between the drums that names nothing else', () => {
    const text = [header, rows[0], 'see remark;;;;;', rows[1]].join('\n');
    expect(problems(read(text)).map(([line]) => line)).toContain(3);
  });

  it('refuses a row with more cells than the header', () => {
    const text = [header, `${rows[0]};x`].join('\n');
    expect(problems(read(text))).toEqual([[2, 'row', '7 cells']]);
  });

  it('refuses a list whose header lacks a column of the mapping', () => {
    const { mapping } = proposed([header, ...rows].join('\n'));
    const other = sheetsOf(['Drum;Melt;Pieces;Gross kg;Tare kg;Lock', ...rows].join('\n'));
    const result = readList(other, listMappingSchema.parse(mapping), head);
    expect(problems(result)).toEqual([[1, 'header', 'Drum;Melt;Pieces;Gross kg;Tare kg;Lock']]);
  });
});

describe('columns that no word names', () => {
  it('are told by the shape of their values, and the person is told so', () => {
    const text = [
      'Ref;Nr;A;B;C;D',
      'D-1;M-1;300;5,0100;2,0;S-1',
      'D-2;M-1;300;5,0000;2,1;S-2',
      'D-3;M-2;200;4,0000;2,0;S-3',
    ].join('\n');
    const { mapping, doubts } = proposed(text);
    expect(mapping.columns).toEqual({
      drum: 'column 1',
      melt: 'column 2',
      pieces: 'column 3',
      gross: 'column 4',
      tare: 'column 5',
      net: null,
      seal: 'column 6',
      fineness: null,
    });
    expect(doubts).toContain('column 4 is taken as gross by its values, not by its name.');
  });

  it('count up where they number the rows, and are then none of these', () => {
    const text = [
      '1;D-1;M-1;300;5,0100;2,0;S-1',
      '2;D-2;M-1;300;5,0000;2,1;S-2',
      '3;D-3;M-2;200;4,0000;2,0;S-3',
    ].join('\n');
    expect(proposed(text).mapping.columns).toMatchObject({ drum: 'column 2', pieces: 'column 4' });
    expect(drums(read(text))).toHaveLength(3);
  });
});

describe('a mapping that was confirmed', () => {
  const list = [header, ...rows].join('\n');
  const confirmed = () => listMappingSchema.parse(proposed(list).mapping);

  it('is used again where its columns stand in the header, in whatever order', () => {
    const other = ['Seal;Remark;Drum;Tare kg;Melt;Pieces;Gross kg', 'S-9;;D-9;2,0;M-9;30;5,0'];
    const proposal = proposeMapping(sheetsOf(other.join('\n')), confirmed());
    expect(proposal).toMatchObject({ isAsConfirmed: true, mapping: confirmed() });
  });

  it('gives way to a new proposal where it does not fit', () => {
    const other = ['Fass;Schmelze;Stück;Brutto kg;Tara kg;Plombe', ...rows].join('\n');
    const proposal = proposeMapping(sheetsOf(other), confirmed());
    expect(proposal).toMatchObject({
      isAsConfirmed: false,
      mapping: { columns: { drum: 'Fass' } },
    });
  });

  it.each([
    ['one column for two fields', { drum: 'Seal' }, 'seal'],
    ['one mass alone', { tare: null }, 'gross'],
    ['no column for the drum', { drum: null }, 'drum'],
  ])('refuses %s', (_what, change, field) => {
    const { columns, ...rest } = confirmed();
    const parsed = listMappingSchema.safeParse({ ...rest, columns: { ...columns, ...change } });
    expect(parsed.error?.issues[0]?.path).toEqual(['columns', field]);
  });
});

describe('missingFields', () => {
  it('names what no column was found for', () => {
    const text = ['Drum;Pieces;Gross kg;Remark', 'D-1;300;5,01;', 'D-2;300;5,01;'].join('\n');
    expect(missingFields(proposed(text).mapping, sheetsOf(text))).toEqual([
      'seal',
      'melt',
      'two of gross, tare and net',
    ]);
  });
});
