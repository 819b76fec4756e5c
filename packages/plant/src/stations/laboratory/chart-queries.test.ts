import { describe, expect, it } from 'vitest';
import { MemoryStore } from '../../adapters/memory-store.ts';
import { bookReader, bookWriter } from '../../journal/books.ts';
import {
  type ChartPointRow,
  type ChartRow,
  chartBooks,
  chartPoints,
  charts,
} from './chart-books.ts';
import { chartDocket } from './chart-docket.ts';
import { chartOf } from './chart-queries.ts';

const chart = 'surcharge.lark-8';

/** Books of one chart whose points are those values, the hours of 2026 one by one. */
async function booksWith(values: readonly number[], change: Partial<ChartRow> = {}) {
  const store = new MemoryStore('trial');
  await store.prepare(chartBooks);
  const instantOf = (number: number) => new Date(Date.UTC(2026, 0, 1, number)).toISOString();
  await store.write(async (writer) => {
    const books = bookWriter(writer);
    const points = values.length;
    const row = { chart, subject: 'surcharge' as const, pieceStandard: 'lark-8', points };
    const newestInstant = instantOf(points);
    await books.put(charts, {
      ...row,
      newestInstant,
      judgedFrom: 1,
      answeredThrough: 0,
      ...change,
    });
    for (const [index, value] of values.entries()) {
      const number = index + 1;
      const point: ChartPointRow = {
        chart,
        number,
        value,
        assayRun: `R-${number}`,
        melt: 'M-1',
        instrument: 'B-1',
        labels: [],
        entry: number,
        instant: instantOf(number),
        author: 'assayer',
        state: 'counts',
        why: null,
      };
      await books.put(chartPoints, point);
    }
  });
  return bookReader(store.reader);
}

/** Values about 1 that make no pattern: by turns, with a step that never repeats in a row. */
const quiet = (count: number): number[] =>
  Array.from(
    { length: count },
    (_, index) => 1 + ([0.1, -0.2, 0.3, -0.1, 0.2, -0.3][index % 6] ?? 0),
  );

describe('a chart of many points', () => {
  it('keeps the limits of its first 20 and judges the newest 120 under their own numbers', async () => {
    const books = await booksWith([...quiet(299), 9]);
    const state = await chartOf(books, chart);
    if (state?.reading.state !== 'judged') throw new RangeError('not judged');
    expect(state.reading.limits).toMatchObject({ points: 20, through: 20, isProvisional: false });
    expect(state.points.map(({ number }) => number)).toEqual(
      Array.from({ length: 120 }, (_, index) => 181 + index),
    );
    expect(state.open.map(({ rule, points }) => [rule, points])).toEqual([
      ['Western Electric rule 1', [300]],
      ['Weighted average', [300]],
    ]);
    expect(state.open[0]?.words).toMatch(/^Point 300: more than 3 standard deviations/);
    expect(state.reading.drawings[0]?.series[0]?.x[0]).toBe(181);
    expect(state.reading.drawings[0]?.marks).toBeUndefined();
  });

  it('has a paper that waits since the point that completed the signal', async () => {
    const books = await booksWith([...quiet(40), 9, ...quiet(2)]);
    const [paper] = await chartDocket(books);
    expect(paper?.since).toBe(new Date(Date.UTC(2026, 0, 1, 41)).toISOString());
    expect(paper?.why).not.toContain('provisional');
  });

  it('takes a signal as answered until a newer point is part of one', async () => {
    const answered = await booksWith([...quiet(40), 9], { answeredThrough: 41 });
    expect(await chartDocket(answered)).toEqual([]);
    const again = await booksWith([...quiet(40), 9, 9], { answeredThrough: 41 });
    const [paper] = await chartDocket(again);
    expect(paper?.why).toContain('Points 41 to 42');
  });

  it('sets limits anew from the point at which a new level began', async () => {
    const values = [...quiet(30), ...quiet(25).map((value) => value + 5)];
    const state = await chartOf(await booksWith(values, { judgedFrom: 31 }), chart);
    if (state?.reading.state !== 'judged') throw new RangeError('not judged');
    expect(state.reading.limits).toMatchObject({ points: 20, through: 50 });
    expect(state.reading.limits.centreLine).toBeGreaterThan(5.9);
    expect(state.open).toEqual([]);
  });
});
