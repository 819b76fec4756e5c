import type { MetalBalanceOutput } from '@cupel/calculation';
import { describe, expect, it } from 'vitest';
import {
  type AccountTrial,
  bodyOf,
  close,
  found,
  refusalOf,
  tally,
  withPieces,
} from './account-trial.ts';
import type { ShiftClosed } from './bodies.ts';
import { balanceSeriesBook } from './books-periods.ts';
import { accountDocket } from './docket.ts';
import { seriesOf } from './series.ts';

const shiftHours = 8;

/** Closes one shift after another with the grams that each tally of receiving shows. */
async function closeShifts(trial: AccountTrial, grams: readonly string[]): Promise<void> {
  for (const one of grams) {
    await tally(trial, 'receiving', [found(100, one)]);
    const at = new Date(trial.now).toISOString();
    const name = { '07': 'early', '15': 'late', '23': 'night' }[at.slice(11, 13)];
    const outcome = await close(trial, `${at.slice(0, 10)}-${name}`);
    if (outcome.outcome === 'refused') throw new RangeError(JSON.stringify(outcome.refusals));
    trial.now += shiftHours * 3_600_000;
  }
}

/** Grams of a stock that loses 0.2 g in every shift. */
const leaking = (count: number, first = 3110.3): string[] =>
  Array.from({ length: count }, (_, index) => (first - 0.2 * index).toFixed(1));

const history = (trial: AccountTrial, person = 'accountant') =>
  trial.ask(
    'difference-history',
    { place: 'receiving', pieceStandard: 'trial-piece' },
    person,
  ) as Promise<{ series: Record<string, unknown> | null; seesBook: boolean }>;

const resolve = (trial: AccountTrial) =>
  trial.do(
    'resolve-drift',
    {
      place: 'receiving',
      pieceStandard: 'trial-piece',
      finding: 'The balance B-IN stood on a warped table; it was levelled and checked.',
    },
    'chief',
    'accountant',
  );

describe('the series of a place', () => {
  it('splits the variance of each balance into stocks, transfers and scales, and loses nothing', async () => {
    const trial = await withPieces();
    await closeShifts(trial, ['3110.3']);
    await trial.move({ from: 'receiving', to: 'put-up', pieces: 10, grossMicrograms: 311_030_000 });
    await tally(trial, 'put-up', [found(10, '311.0', 'B-UP')]);
    await tally(trial, 'receiving', [found(90, '2799.2')]);
    const closed = bodyOf<ShiftClosed>(await close(trial, '2026-03-02-late'));
    const rows = await trial.books.select(balanceSeriesBook, {
      prefix: ['receiving', 'trial-piece'],
    });
    expect(rows.map(({ shift, isCarried }) => [shift, isCarried])).toEqual([
      ['2026-03-02-early', false],
      ['2026-03-02-late', true],
    ]);
    const last = rows[1];
    const balance = closed.places[0]?.lines[0]?.balance?.output as MetalBalanceOutput | undefined;
    const variance =
      (last?.openingStandardUncertaintyGrams ?? 0) ** 2 +
      (last?.endingStandardUncertaintyGrams ?? 0) ** 2 +
      (last?.transferStandardUncertaintyGrams ?? 0) ** 2 +
      (last?.persistent ?? []).reduce((sum, { effectGrams }) => sum + effectGrams ** 2, 0);
    expect(Math.sqrt(variance)).toBeCloseTo(balance?.standardUncertaintyGrams ?? 0, 12);
    // 3 110.3 − 311.03 − 2 799.2 g.
    expect(last?.differenceGrams).toBeCloseTo(0.07, 9);
  });

  it('begins anew where a close in between was not weighed', async () => {
    const trial = await withPieces();
    await closeShifts(trial, ['3110.3']);
    await tally(trial, 'receiving', [found(100, null)]);
    await close(trial, '2026-03-02-late');
    trial.now += shiftHours * 3_600_000;
    await closeShifts(trial, ['3110.3']);
    const rows = await trial.books.select(balanceSeriesBook, {
      prefix: ['receiving', 'trial-piece'],
    });
    expect(rows.map(({ isCarried }) => isCarried)).toEqual([false, false]);
  });

  it('is no series before there are two balances', async () => {
    const trial = await withPieces();
    await closeShifts(trial, ['3110.3']);
    expect(await seriesOf(trial.books, 'receiving', 'trial-piece')).toBeUndefined();
    expect(await history(trial)).toMatchObject({ series: null, seesBook: true });
  });

  it('shows the metal accountant residuals, both kinds of limits and the chart, and a counter nothing', async () => {
    const trial = await withPieces();
    await closeShifts(trial, new Array(10).fill('3110.3'));
    const { series } = await history(trial);
    expect(series).toMatchObject({
      decisionInterval: 5,
      referenceValue: 0.5,
      signal: null,
      history: { residuals: 9 },
      drawings: [{ kind: 'chart' }, { kind: 'chart' }],
    });
    // 465.4 for k = 0.5, h = 5, both sides, reference/average-run-length.
    expect(series?.inControlRunLengthPeriods).toBeCloseTo(465.4, 0);
    expect(await history(trial, 'custodian')).toMatchObject({ series: null, seesBook: false });
  });
});

describe('a drift', () => {
  it('too small for any single shift comes on the docket, and leaves it when it is answered', async () => {
    const trial = await withPieces();
    await closeShifts(trial, leaking(14));
    const papers = async () => {
      const all = await accountDocket(trial.books, new Date(trial.now).toISOString());
      return all.filter(({ paper }) => paper.startsWith('account/drift'));
    };
    const closings = (await trial.ask('differences', {}, 'chief')) as { differences: unknown[] };
    expect(closings.differences).toEqual([]);
    const [paper] = await papers();
    expect(paper).toMatchObject({
      paper: 'account/drift/receiving/trial-piece',
      path: '/account/history/receiving/trial-piece',
    });
    expect(paper?.what).toContain('missing over many shifts');
    const body = bodyOf<{ way: string; closing: number }>(await resolve(trial));
    expect(body).toMatchObject({ way: 'missing', sinceShift: expect.stringMatching(/^2026-03/) });
    expect(await papers()).toEqual([]);
    // The scales go on as they stand, and nothing more leaks: the series begins anew.
    await closeShifts(trial, ['3107.7']);
    expect((await history(trial)).series).toMatchObject({ signal: null });
    await closeShifts(trial, ['3107.7', '3107.7']);
    const { series } = await history(trial);
    expect(series).toMatchObject({ signal: null, resolved: { closing: body.closing } });
    expect(series?.periods).toHaveLength(3);
    expect(await papers()).toEqual([]);
  });

  it('is answered only where the sums signal, and only once', async () => {
    const trial = await withPieces();
    await closeShifts(trial, ['3110.3', '3110.3']);
    expect(refusalOf(await resolve(trial))).toEqual(['DriftNotSignalled']);
    await closeShifts(trial, leaking(14));
    expect((await resolve(trial)).outcome).toBe('recorded');
    expect(refusalOf(await resolve(trial))).toEqual(['DriftNotSignalled']);
  });
});
