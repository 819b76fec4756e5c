import { describe, expect, it } from 'vitest';
import {
  columnNames,
  firstCells,
  missingColumns,
  proposedColumns,
  proposedForm,
} from './proposed-columns.ts';

describe('the proposed columns of a packing list', () => {
  it('are found by their usual names, in any order and language', () => {
    const text = 'Plombe;Schmelze;Fass;Stück;Brutto kg;Tara kg;Feingehalt\n';
    expect(proposedColumns(text)).toEqual({
      drum: 'Fass',
      melt: 'Schmelze',
      pieces: 'Stück',
      gross: 'Brutto kg',
      tare: 'Tara kg',
      seal: 'Plombe',
      supplierFinenessPerMille: 'Feingehalt',
    });
  });

  it('leave out what the list does not have', () => {
    expect(proposedColumns('drum,melt,pieces\n')).toMatchObject({
      gross: '',
      supplierFinenessPerMille: null,
    });
  });

  it('take what was kept for the supplier before a guess', () => {
    const kept = { ...proposedColumns(''), drum: 'Nr' };
    expect(proposedColumns('Nr;drum colour;melt', kept).drum).toBe('Nr');
  });
});

describe('columnNames', () => {
  it('reads quoted names and a byte order mark', () => {
    expect(columnNames('\uFEFF"drum";"gross kg"\n1;2')).toEqual(['drum', 'gross kg']);
  });
});

describe('the proposed form of the masses', () => {
  const form = (text: string) => proposedForm(text, proposedColumns(text));

  it('follows the unit in the header and the mark in the first row', () => {
    expect(form('Drum;Brutto kg;Tara kg\nD-1;5,01;2,0')).toEqual({
      massUnit: 'kg',
      decimalMark: 'comma',
    });
    expect(form('Drum;Gross (g);Tare (g)\nD-1;5010.0;2000')).toEqual({
      massUnit: 'g',
      decimalMark: 'point',
    });
  });

  it('is kilograms with a point where the list does not say', () => {
    expect(form('drum,gross,tare\nD-1,5,2')).toEqual({ massUnit: 'kg', decimalMark: 'point' });
  });
});

describe('firstCells', () => {
  it('are those of the first row, by column', () => {
    expect(firstCells('\uFEFF"Drum";Seal\r\n"D-1";S-1').get('Drum')).toBe('D-1');
    expect(firstCells('Drum;Seal\nD-1').get('Seal')).toBe('');
  });
});

describe('missingColumns', () => {
  it('names those that must be there; the fineness may be missing', () => {
    expect(missingColumns(proposedColumns('drum;melt;pieces'))).toEqual(['gross', 'tare', 'seal']);
  });
});
