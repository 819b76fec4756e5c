import { describe, expect, it } from 'vitest';
import { emptyRow, impurityOf, isBlankRow, isList, rowsIn } from './impurity-rows.ts';

// The rows are made up; what they must become follows from the input of the command record-difference.

describe('a row of a solution', () => {
  it('becomes numbers, with a decimal comma as with a point', () => {
    const row = { element: ' Cu ', content: '402,1', uncertainty: '2.1', limit: '0.5' };
    expect(impurityOf(row)).toEqual({
      element: 'Cu',
      contentMilligramsPerKilogram: 402.1,
      standardUncertaintyMilligramsPerKilogram: 2.1,
      detectionLimitMilligramsPerKilogram: 0.5,
    });
  });

  it('is not found where < stands, and takes its detection limit from behind it', () => {
    const row = { ...emptyRow, element: 'Pd', content: '< 0.3' };
    expect(impurityOf(row)).toEqual({
      element: 'Pd',
      contentMilligramsPerKilogram: null,
      standardUncertaintyMilligramsPerKilogram: 0,
      detectionLimitMilligramsPerKilogram: 0.3,
    });
  });

  it('keeps its own detection limit where both are given', () => {
    const row = { ...emptyRow, element: 'Pd', content: '<0.3', limit: '0.2' };
    expect(impurityOf(row).detectionLimitMilligramsPerKilogram).toBe(0.2);
  });

  it('never makes an empty content a thing not found', () => {
    const sent = impurityOf({ ...emptyRow, element: 'Fe', limit: '0.2' });
    expect(sent.contentMilligramsPerKilogram).toBe('');
    expect(sent.standardUncertaintyMilligramsPerKilogram).toBe('');
  });

  it('goes as it was typed where it is no number', () => {
    const row = { element: 'Fe', content: '1..2', uncertainty: 'x', limit: '' };
    expect(impurityOf(row)).toEqual({
      element: 'Fe',
      contentMilligramsPerKilogram: '1..2',
      standardUncertaintyMilligramsPerKilogram: 'x',
      detectionLimitMilligramsPerKilogram: '',
    });
  });

  it('is blank only without element and content', () => {
    expect(isBlankRow({ ...emptyRow, limit: '0.3' })).toBe(true);
    expect(isBlankRow({ ...emptyRow, content: '1' })).toBe(false);
  });
});

describe('a pasted list', () => {
  it('is told from a single value', () => {
    expect(isList('402.1')).toBe(false);
    expect(isList(' 402.1\n')).toBe(false);
    expect(isList('Cu\t402.1')).toBe(true);
    expect(isList('Cu 402.1\nPb 150.2')).toBe(true);
  });

  it('gives one row for each line, with tabs, semicolons or blanks between', () => {
    expect(rowsIn('Cu\t402,1\t2.1\t0.5\r\n\nPb; 150.2; 1.1; 0.3\nPd < 0.3\n')).toEqual([
      { element: 'Cu', content: '402,1', uncertainty: '2.1', limit: '0.5' },
      { element: 'Pb', content: '150.2', uncertainty: '1.1', limit: '0.3' },
      { element: 'Pd', content: '<0.3', uncertainty: '', limit: '' },
    ]);
  });
});
