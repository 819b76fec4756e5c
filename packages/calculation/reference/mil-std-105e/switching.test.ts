import { describe, expect, it } from 'vitest';
import { type SeriesEvent, severityOfSeries } from '../../src/sampling/switching.ts';
import values from './switching.json' with { type: 'json' };

/** Lots 1, 2, 3 … as they are printed: A accepted, R rejected, each under the severity in force. */
function seriesOf(example: (typeof values.cases)[number]): readonly SeriesEvent[] {
  return example.lots.split(' ').map((letter, index) => ({
    event: 'lot judged',
    lot: String(index + 1),
    outcome: letter === 'A' ? 'accepted' : 'not accepted',
    severity: example.severityBefore[index] === 'tightened' ? 'tightened' : 'normal',
  }));
}

describe('the switching rules of MIL-STD-105E', () => {
  it.each(values.cases)('$name: $lots', (example) => {
    const series = seriesOf(example);
    const begins = example.beginsUnder === 'tightened' ? 'tightened' : 'normal';
    // The severity before each lot, from the lots before it alone.
    expect(
      series.map((_, index) => severityOfSeries(series.slice(0, index), begins).severity),
    ).toEqual(example.severityBefore);
    expect(severityOfSeries(series, begins)).toMatchObject({
      severity: example.severityAfter,
      decidedBy: example.decidedBy,
    });
  });
});
