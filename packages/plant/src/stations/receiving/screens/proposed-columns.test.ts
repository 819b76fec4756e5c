import { describe, expect, it } from 'vitest';
import { columnNames, proposedColumns } from './proposed-columns.ts';

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
