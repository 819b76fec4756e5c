import { describe, expect, it } from 'vitest';
import { emptyReport, reportInputOf } from './report-draft.ts';

const typed = { ...emptyReport, fineness: '916,50', document: 'R 1', reportedOn: '2026-03-02' };

describe('a report that is typed in', () => {
  it('keeps the decimals of the document, with a point for the comma', () => {
    const input = reportInputOf('P-1', { ...typed, uncertainty: ' 0,20' }, false);
    expect(input).toMatchObject({
      portion: 'P-1',
      fineness: '916.50',
      uncertainty: '0.20',
      coverageFactor: 2,
      splittingLimit: null,
      correction: null,
    });
  });

  it('states no coverage factor where no uncertainty is stated', () => {
    expect(reportInputOf('P-1', typed, false)).toMatchObject({
      uncertainty: null,
      coverageFactor: null,
    });
  });

  it('gives the reason of a correction', () => {
    const input = reportInputOf('P-1', { ...typed, correction: 'Read wrongly.' }, true);
    expect(input).toMatchObject({ correction: 'Read wrongly.' });
  });
});
