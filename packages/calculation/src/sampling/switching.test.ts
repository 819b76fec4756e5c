import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type JudgedLot,
  type SeriesEvent,
  type SeriesSeverity,
  severityOfSeries,
  whyNotReduced,
} from './switching.ts';

const lot = (
  id: string,
  outcome: JudgedLot['outcome'],
  severity: JudgedLot['severity'] = 'normal',
): JudgedLot => ({ event: 'lot judged', lot: id, outcome, severity });

const tightenedLots = (outcomes: string, from = 1): readonly JudgedLot[] =>
  [...outcomes].map((letter, index) =>
    lot(`T${index + from}`, letter === 'A' ? 'accepted' : 'not accepted', 'tightened'),
  );

const twoBad = [lot('M-1', 'not accepted'), lot('M-2', 'not accepted')];
const resumed: SeriesEvent = { event: 'inspection resumed' };

describe('the severity of a series', () => {
  it('begins under normal inspection and says so', () => {
    expect(severityOfSeries([])).toEqual({
      severity: 'normal',
      reason: 'Every series of lots begins under normal inspection.',
      decidedBy: [],
    });
    expect(severityOfSeries([lot('M-1', 'accepted'), lot('M-2', 'not accepted')]).reason).toBe(
      'Every series of lots begins under normal inspection. Of the last 2 lots, M-2 was not accepted.',
    );
  });

  it('is tightened by two lots in five, which it names', () => {
    expect(severityOfSeries([...twoBad, ...tightenedLots('AAR')]).reason).toBe(
      'Tightened inspection since lot M-2: lots M-1 and M-2 were not accepted, two within 5 consecutive lots. Since then 0 of 5 lots accepted in a row, 1 of 5 not accepted.',
    );
  });

  it('is normal again after five accepted lots, and starts its count of five lots anew', () => {
    const back = [...twoBad, ...tightenedLots('AAAAA')];
    expect(severityOfSeries(back)).toEqual({
      severity: 'normal',
      reason:
        'Normal inspection since lot T5: lots T1, T2, T3, T4 and T5 were accepted one after the other under tightened inspection.',
      decidedBy: ['T1', 'T2', 'T3', 'T4', 'T5'],
    });
    // By the rules read by hand: one lot not accepted since the return does not tighten again.
    expect(severityOfSeries([...back, lot('M-3', 'not accepted')]).severity).toBe('normal');
  });

  it('is discontinued at the fifth lot not accepted, and tightened once it is resumed', () => {
    const ended = [...twoBad, ...tightenedLots('RARARARAR')];
    expect(severityOfSeries(ended)).toMatchObject({
      severity: 'discontinued',
      decidedBy: ['T1', 'T3', 'T5', 'T7', 'T9'],
    });
    expect(severityOfSeries([...ended, lot('M-3', 'accepted')]).severity).toBe('discontinued');
    expect(severityOfSeries([...ended, resumed])).toMatchObject({ severity: 'tightened' });
    const again = [...ended, resumed, ...tightenedLots('RRRR', 20)];
    expect(severityOfSeries(again).severity).toBe('tightened');
    expect(severityOfSeries([...again, ...tightenedLots('R', 30)]).severity).toBe('discontinued');
  });

  it('takes no notice of a resumption of what was not discontinued', () => {
    expect(severityOfSeries([lot('M-1', 'accepted'), resumed])).toEqual(
      severityOfSeries([lot('M-1', 'accepted')]),
    );
  });

  it('counts lots of the normal plan judged under tightened inspection only against it', () => {
    const late = (outcome: JudgedLot['outcome']) => [
      ...twoBad,
      ...tightenedLots('AAAA'),
      lot('M-3', outcome),
    ];
    expect(severityOfSeries(late('accepted')).severity).toBe('tightened');
    const broken = [...late('not accepted'), ...tightenedLots('A', 9)];
    expect(severityOfSeries(broken).severity).toBe('tightened');
    expect(severityOfSeries(broken).reason).toContain('1 of 5 lots accepted in a row, 0 of 5');
  });

  it('says why reduced inspection is not entered once ten lots in a row were accepted', () => {
    const good = (count: number) =>
      Array.from({ length: count }, (_, index) => lot(`M-${index}`, 'accepted'));
    expect(severityOfSeries(good(9)).reason).not.toContain(whyNotReduced);
    expect(severityOfSeries(good(10)).reason).toContain(whyNotReduced);
  });

  it('refuses a lot that stands twice and a word that is no outcome, with its place', () => {
    const twice = [lot('M-1', 'accepted'), lot('M-1', 'accepted')];
    expect(() => severityOfSeries(twice)).toThrow(/^series\.1\.lot is M-1; accepted: /);
    const odd = [{ ...lot('M-1', 'accepted'), outcome: 'good' as 'accepted' }];
    expect(() => severityOfSeries(odd)).toThrow(/^series\.0\.outcome is good/);
    const reduced = [lot('M-1', 'accepted', 'reduced' as 'normal')];
    expect(() => severityOfSeries(reduced)).toThrow(/^series\.0\.severity is reduced/);
  });

  it('never leaves tightened inspection by fewer than five accepted lots, whatever the series', () => {
    const outcomes = fc.array(fc.boolean(), { maxLength: 60 });
    fc.assert(
      fc.property(outcomes, (accepted) => {
        const series: JudgedLot[] = [];
        let before: SeriesSeverity = 'normal';
        for (const [index, isAccepted] of accepted.entries()) {
          const severity = before === 'tightened' ? 'tightened' : 'normal';
          series.push(lot(`L${index}`, isAccepted ? 'accepted' : 'not accepted', severity));
          const now = severityOfSeries(series).severity;
          const lastFive = series.slice(-5);
          if (before === 'tightened' && now === 'normal') {
            expect(lastFive.map(({ outcome }) => outcome)).toEqual(Array(5).fill('accepted'));
          }
          if (before === 'normal' && now === 'tightened') {
            const bad = lastFive.filter(({ outcome }) => outcome === 'not accepted');
            expect(bad.length).toBeGreaterThanOrEqual(2);
          }
          if (before === 'discontinued') expect(now).toBe('discontinued');
          before = now;
        }
      }),
      { seed: 105, numRuns: 200 },
    );
  });
});
