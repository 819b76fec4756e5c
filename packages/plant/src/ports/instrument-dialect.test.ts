import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Dialect,
  decodeLine,
  type NumberAlone,
  type StatusFirst,
  type VolumeAndPotential,
} from './instrument-dialect.ts';

/*
 * Lines of our own making, in shapes that the manuals of bench balances and gauges commonly
 * describe; what each should say is read off the line by eye.
 */

const statusFirst: StatusFirst = {
  shape: 'status first',
  decimalSign: 'point',
  stable: 'ST',
  unstable: 'US',
  overload: 'OL',
  net: 'NT',
  gross: 'GS',
};
const unitWhenStable: Dialect = {
  shape: 'unit when stable',
  decimalSign: 'point',
};
const numberAlone: NumberAlone = {
  shape: 'number alone',
  decimalSign: 'comma',
  unit: 'mm',
};
const stable = (text: string, unit: string, net = false) => ({ says: 'stable', text, unit, net });

describe('status letters, sign, number, unit', () => {
  it.each<[string, object]>([
    ['ST,+00250.013mg', stable('00250.013', 'mg')],
    ['ST  +   12.3456 g  ', stable('12.3456', 'g')],
    ['ST,NT,-  1.204 kg', stable('-1.204', 'kg', true)],
    ['ST,GS,  18.04 kg', stable('18.04', 'kg')],
    ['US,NT,+  12.3411 g', { says: 'unstable', text: '12.3411' }],
    ['US', { says: 'unstable', text: null }],
    ['OL', { says: 'overload' }],
    ['OL,GS,+9999999 g', { says: 'overload' }],
  ])('says what stands in %j', (raw, said) => {
    expect(decodeLine(raw, statusFirst)).toEqual(said);
  });

  it.each<[string, string]>([
    ['QT,+12.3 g', 'QT is no status that is set'],
    ['+12.3456 g', 'it does not begin with a status'],
    ['NT,+12.3456 g', 'it does not begin with a status'],
    ['ST,', 'no number follows the status'],
    ['ST,+12,3456 g', 'no number follows the status'],
    ['ST,+12.3.4 g', 'no number follows the status'],
    ['ST,+12.3456', 'no unit is not one of the plant’s units'],
    ['ST,+61.7 ct', 'ct is not one of the plant’s units'],
    ['ST,+12.3456 g ST,+12.3456 g', 'no number follows the status'],
    ['', 'it does not begin with a status'],
    [`ST,+1.${'0'.repeat(30)} g`, 'the number has more than 24 characters'],
    [`ST,+1 g${' '.repeat(80)}`, 'it is longer than 80 characters'],
  ])('takes nothing from %j', (raw, why) => {
    expect(decodeLine(raw, statusFirst)).toEqual({ says: 'not understood', why });
  });
});

describe('sign, number, and the unit once it is stable', () => {
  it.each<[string, object]>([
    ['+    12.3456 g ', stable('12.3456', 'g')],
    ['-     0.0002 g', stable('-0.0002', 'g')],
    ['+    12.34', { says: 'unstable', text: '12.34' }],
    ['    H     ', { says: 'overload' }],
    ['-----', { says: 'overload' }],
    ['', { says: 'not understood', why: 'it is no number with a unit' }],
    ['12.3 g 4', { says: 'not understood', why: 'it is no number with a unit' }],
    ['+ 61.7 ct', { says: 'not understood', why: 'ct is not one of the plant’s units' }],
  ])('says what stands in %j', (raw, said) => {
    expect(decodeLine(raw, unitWhenStable)).toEqual(said);
  });
});

describe('a number, and perhaps its unit', () => {
  it.each<[string, object]>([
    ['22,051', stable('22.051', 'mm')],
    ['+1003,3 \u00b5m', stable('1003.3', 'µm')],
    ['1850um', stable('1850', 'µm')],
    ['22.051', { says: 'not understood', why: 'it is no number' }],
    ['22,051 in', { says: 'not understood', why: 'in is not one of the plant’s units' }],
    ['ST 22,051', { says: 'not understood', why: 'it is no number' }],
  ])('says what stands in %j', (raw, said) => {
    expect(decodeLine(raw, numberAlone)).toEqual(said);
  });
});

describe('any line', () => {
  const dialects = fc.constantFrom<Dialect>(statusFirst, unitWhenStable, numberAlone);

  it('of any characters is decoded without a fault, and a stable one is a decimal number', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 100 }), dialects, (raw, dialect) => {
        const decoded = decodeLine(raw, dialect);
        if (decoded.says === 'stable') expect(decoded.text).toMatch(/^-?\d+(\.\d+)?$/);
      }),
      { seed: 4001, numRuns: 2000 },
    );
  });

  it('keeps every digit that was sent, with the leading and trailing zeros', () => {
    const digits = fc.stringMatching(/^\d{1,9}\.\d{1,9}$/);
    fc.assert(
      fc.property(digits, fc.constantFrom('g', 'mg', 'kg'), (text, unit) => {
        expect(decodeLine(`ST,+ ${text} ${unit}`, statusFirst)).toEqual(stable(text, unit));
      }),
      { seed: 4002, numRuns: 300 },
    );
  });

  it('that lost its end never says another number than the whole one while its status or unit is told', () => {
    const whole = 'ST,+00250.013mg';
    for (let length = 0; length < whole.length; length += 1) {
      const decoded = decodeLine(whole.slice(0, length), statusFirst);
      expect(decoded.says, whole.slice(0, length)).not.toBe('stable');
    }
  });
});

describe('volume and potential', () => {
  const pairs: VolumeAndPotential = {
    shape: 'volume and potential',
    decimalSign: 'point',
    partedBy: 'semicolon',
    potentialUnit: 'mV',
  };
  const point = (volume: string, potential: string) => ({ says: 'point', volume, potential });

  it.each<[string, Partial<VolumeAndPotential>, object]>([
    ['12.340; -123.40', {}, point('12.340', '-123.40')],
    [' 12.340 mL ;+ 123.4 mV ', {}, point('12.340', '123.4')],
    ['12,340;123,4', { decimalSign: 'comma' }, point('12.340', '123.4')],
    ['12.340,0.1234', { partedBy: 'comma', potentialUnit: 'V' }, point('12.340', '0.1234')],
    ['12.340\t-0.1234', { partedBy: 'tab', potentialUnit: 'V' }, point('12.340', '-0.1234')],
    ['  12.340   123.4', { partedBy: 'blanks' }, point('12.340', '123.4')],
  ])('in %j is a point with its digits', (raw, change, decoded) => {
    expect(decodeLine(raw, { ...pairs, ...change })).toEqual(decoded);
  });

  it.each([
    '',
    '12.340',
    '12.340;',
    '12.340;123.4;5',
    '12,340;123.4',
    '-0.100;123.4',
    '12.340 L;123.4',
    '12.340;0.1234 V',
    'VOL;POT',
  ])('in %j is not understood', (raw) => {
    expect(decodeLine(raw, pairs)).toMatchObject({ says: 'not understood' });
  });
});
