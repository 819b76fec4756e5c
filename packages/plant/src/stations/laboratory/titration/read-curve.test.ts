import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readCurve } from './read-curve.ts';

/** Nine points of an invented curve. */
const points = [
  [20, 283.9],
  [23, 274.1],
  [26, 259.1],
  [28, 240.9],
  [29, 222.9],
  [29.5, 205],
  [30.5, -118.6],
  [31, -136.3],
  [32, -153.9],
] as const;

const expected = points.map(([volumeMillilitres, potentialMillivolts]) => ({
  volumeMillilitres,
  potentialMillivolts,
}));

const comma = (value: number) => String(value).replace('.', ',');
const table = (separator: string, write: (value: number) => string = String) =>
  points.map((row) => row.map((value) => write(value)).join(separator)).join('\n');

const pointsIn = (text: string, choice = {}) => {
  const read = readCurve(text, choice);
  if (read.outcome === 'problems') throw new RangeError(JSON.stringify(read.problems));
  return read.points;
};

const problemsIn = (text: string) => {
  const read = readCurve(text);
  if (read.outcome === 'read') throw new RangeError('the table was read');
  return read.problems;
};

describe('a curve as text', () => {
  it.each([
    ['commas', table(',')],
    ['semicolons', table(';')],
    ['tabs', table('\t')],
    ['blanks', table('   ')],
    ['semicolons and decimal commas', table(';', comma)],
    ['tabs and decimal commas', table('\t', comma)],
    ['blanks and decimal commas', table(' ', comma)],
    ['powers of ten', table('\t', (value) => value.toExponential())],
    ['the minus of typesetters', table('\t').replaceAll('-', '−')],
    ['a header and a mark of its encoding', `\ufeffVolume (mL);Potential (mV)\n${table(';')}`],
    ['empty lines and a last line end', `\r\n${table('\t').replaceAll('\n', '\r\n')}\r\n\r\n`],
  ])('is read with %s', (_what, text) => {
    expect(pointsIn(text)).toEqual(expected);
  });

  it('finds its columns by their names, and volts by their unit', () => {
    const rows = points.map(([v, e], index) => [index + 1, e / 1000, 22.5, v].join(';'));
    const text = ['No.;E / V;T / °C;V / mL', ...rows].join('\n');
    const found = pointsIn(text);
    expect(found.map((one) => one.volumeMillilitres)).toEqual(points.map(([v]) => v));
    for (const [index, one] of found.entries()) {
      expect(one.potentialMillivolts).toBeCloseTo(points[index]?.[1] ?? 0, 9);
    }
  });

  it('takes the columns and the unit that a person names', () => {
    const text = points.map(([v, e], index) => [index, e / 1000, v].join('\t')).join('\n');
    const choice = { volumeColumn: 2, potentialColumn: 1, potentialUnit: 'V' as const };
    expect(pointsIn(text, choice)[0]).toEqual({
      volumeMillilitres: 20,
      potentialMillivolts: 283.9,
    });
  });

  it('skips what stands above the table', () => {
    const above = ['Titration of portion A1', 'Electrode: silver', 'V mL\tE mV'].join('\n');
    expect(pointsIn(`${above}\n${table('\t')}`)).toEqual(expected);
  });
});

describe('a bad row', () => {
  it('is named by its line, with everything else that is wrong', () => {
    const lines = table(';').split('\n');
    lines[3] = '28;n/a';
    lines[7] = '30.4;-136.3';
    expect(problemsIn(['V/mL;E/mV', ...lines].join('\n'))).toEqual([
      { line: 5, column: 'potential', value: 'n/a', accepted: 'a number' },
      {
        line: 9,
        column: 'volume',
        value: '30.4',
        accepted: 'a volume above 30.5, which stands before it',
      },
    ]);
  });

  it('is one with a volume below nothing', () => {
    const text = table(';').replace('20;', '-20;');
    expect(problemsIn(text)).toEqual([
      { line: 1, column: 'volume', value: '-20', accepted: 'a volume of 0 or more' },
    ]);
  });

  it('is every one where commas stand between numbers and in them', () => {
    // 29,5,205 may be 29.5 and 205 or 29 and 5.205: nobody can tell.
    expect(problemsIn(table(',', comma)).length).toBeGreaterThan(0);
  });
});

describe('a table that is no curve', () => {
  it('has too few points', () => {
    expect(problemsIn(table(';').split('\n').slice(0, 7).join('\n'))).toEqual([
      { line: 0, column: 'table', value: '7 points', accepted: 'from 8 to 2000 points' },
    ]);
  });

  it('has no numbers, or columns that nobody can tell apart', () => {
    expect(problemsIn('burette\nelectrode')).toMatchObject([{ value: 'no row with two numbers' }]);
    const three = points.map(([v, e]) => `${v};${e};22.5`).join('\n');
    expect(problemsIn(three)).toMatchObject([{ value: '3 columns' }]);
  });

  it('has an open quote', () => {
    expect(problemsIn('V;E\n"20;283.9\n23;274.1')).toHaveLength(1);
  });
});

describe('a published curve', () => {
  // Dickson, Sabine and Christian (2007), SOP 3b: see the SOURCE.md beside the values.
  const { dickson } = JSON.parse(
    readFileSync(
      new URL('../../../../../calculation/reference/titration-curves/values.json', import.meta.url),
      'utf8',
    ),
  ) as { dickson: { columns: string[]; rows: [number, number][] } };

  it('is read as it was printed, volts as millivolts', () => {
    const text = [dickson.columns, ...dickson.rows].map((row) => row.join(',')).join('\n');
    const read = readCurve(text);
    expect(read).toMatchObject({ outcome: 'read', as: { potentialUnit: 'V' } });
    expect(pointsIn(text)).toHaveLength(21);
    expect(pointsIn(text)[0]).toEqual({ volumeMillilitres: 3.5, potentialMillivolts: 186.07 });
    expect(pointsIn(text)[20]).toEqual({ volumeMillilitres: 4.5, potentialMillivolts: 217.32 });
  });

  it('is read alike with decimal commas between tabs', () => {
    const rows = dickson.rows.map(([v, e]) => `${comma(v)}\t${comma(e)}`);
    const text = [dickson.columns.join('\t'), ...rows].join('\n');
    expect(pointsIn(text)[0]).toEqual({ volumeMillilitres: 3.5, potentialMillivolts: 186.07 });
  });
});
