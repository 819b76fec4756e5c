import { describe, expect, it } from 'vitest';
import { MemoryStore } from '../../adapters/memory-store.ts';
import type { RecordedEntry } from '../../journal/entry.ts';
import { leafHash, rootHash } from '../../journal/merkle.ts';
import { registerStations } from '../../journal/plant.ts';
import { compareBooks, rebuildInto } from '../../journal/rebuild.ts';
import { trialStation } from '../../journal/trial-station.ts';
import { registersStation } from '../registers/station.ts';
import {
  type AccountTrial,
  bodyOf,
  close,
  found,
  refusalOf,
  sign,
  tally,
  withPieces,
} from './account-trial.ts';
import type { PeriodClosed } from './bodies-periods.ts';
import { accountDocket } from './docket.ts';
import { accountStation } from './station.ts';

// Figures are sums that a reader can do by hand: 100 pieces of 31.103 g are 3 110.3 g.

const day = '2026-03-02';
const nextDay = '2026-03-03T07:00:00.000Z';

const closePeriod = (trial: AccountTrial, period: string) =>
  trial.do(
    period.length === 7 ? 'close-month' : 'close-day',
    { period },
    'accountant',
    'custodian',
  );

const correct = (trial: AccountTrial, changes: object = {}) =>
  trial.do(
    'correct-period',
    {
      period: day,
      entry: 8,
      explanation: 'The drum of entry 8 was booked under the wrong melt.',
      ...changes,
    },
    'accountant',
    'custodian',
  );

/** The early shift closed with 100 pieces, and the clock on the next morning. */
async function nextMorning(): Promise<AccountTrial> {
  const trial = await withPieces();
  await tally(trial, 'receiving', [found(100, '3110.3')]);
  await close(trial);
  trial.now = Date.parse(nextDay);
  return trial;
}

const docketOf = async (trial: AccountTrial) =>
  (await accountDocket(trial.books, new Date(trial.now).toISOString())).map(({ paper }) => paper);

describe('close-day', () => {
  it('freezes entries, hashes, shifts, balances and differences, and signs the head', async () => {
    const trial = await nextMorning();
    const outcome = await closePeriod(trial, day);
    const body = bodyOf<PeriodClosed>(outcome);
    expect(body).toMatchObject({
      period: day,
      firstEntry: 1,
      lastEntry: 9,
      shifts: [{ shift: `${day}-early`, entry: 10, firstEntry: 1, lastEntry: 9 }],
      days: [],
      openDifferences: [],
      lines: [
        {
          place: 'receiving',
          pieceStandard: 'trial-piece',
          piecesOpening: 0,
          piecesReceived: 100,
          piecesSent: 0,
          piecesClosing: 100,
          grossMicrogramsClosing: 3_110_300_000,
          fineMicrogramsClosing: 3_110_300_000,
        },
      ],
      differences: [
        { place: 'receiving', closes: 1, weighedCloses: 1, grossMicrogramsUnexplained: 0 },
      ],
    });
    const last = await trial.store.reader.line(9);
    expect(body.lastEntryLeafHash).toBe(leafHash(last?.hash ?? ''));
    expect(body.treeHash).toBe(await rootHash(trial.books, 9));
    expect(await trial.store.reader.heads()).toHaveLength(2);
  });

  it('counts what moved after the period out again', async () => {
    const trial = await nextMorning();
    await trial.move({
      from: 'receiving',
      to: 'put-up',
      pieces: 40,
      grossMicrograms: 1_244_120_000,
    });
    await trial.move({ drum: 'D-2' });
    const body = bodyOf<PeriodClosed>(await closePeriod(trial, day));
    expect(body.lines).toMatchObject([{ place: 'receiving', piecesReceived: 100, piecesSent: 0 }]);
    expect(body.lines[0]?.piecesClosing).toBe(100);
  });

  it('opens with what the day before left, and sums what was signed and unexplained', async () => {
    const trial = await nextMorning();
    await trial.move({ from: 'receiving', to: 'put-up', pieces: 1, grossMicrograms: 31_103_000 });
    await tally(trial, 'put-up', [found(1, '31.1', 'B-UP')]);
    // 99 pieces of 31.103 g would be 3 079.2 g; one is missing and 0.1 g more.
    await tally(trial, 'receiving', [found(98, '3048.0')]);
    await sign(trial);
    await close(trial, '2026-03-03-early');
    trial.now = Date.parse('2026-03-04T07:00:00.000Z');
    const body = bodyOf<PeriodClosed>(await closePeriod(trial, '2026-03-03'));
    expect(body.lines.find(({ place }) => place === 'receiving')).toMatchObject({
      piecesOpening: 100,
      // The move and the signed difference.
      piecesSent: 2,
      piecesClosing: 98,
    });
    const difference = body.differences.find(({ place }) => place === 'receiving');
    expect(difference).toMatchObject({ piecesSigned: -1, weighedCloses: 1 });
    // 3 110.3 − 31.103 − 3 048.0 = 31.197 g missing.
    expect(difference?.grossMicrogramsUnexplained).toBe(-31_197_000);
    expect(body.openDifferences).toHaveLength(2);
  });

  it('is refused while the day runs, and before it begins', async () => {
    const trial = await withPieces();
    expect(await closePeriod(trial, day)).toMatchObject({
      refusals: [{ refusal: 'PeriodNotOver', figures: { presentShift: `${day}-early` } }],
    });
    expect(refusalOf(await closePeriod(trial, '2026-03-09'))).toEqual(['PeriodNotOver']);
  });

  it('runs until the night shift that began in it is over', async () => {
    const trial = await nextMorning();
    trial.now = Date.parse('2026-03-03T05:59:59.000Z');
    expect(refusalOf(await closePeriod(trial, day))).toEqual(['PeriodNotOver']);
    trial.now = Date.parse('2026-03-03T06:00:00.000Z');
    expect((await closePeriod(trial, day)).outcome).toBe('recorded');
  });

  it('is refused while a shift of it is open', async () => {
    const trial = await withPieces();
    trial.now = Date.parse(nextDay);
    expect(await closePeriod(trial, day)).toMatchObject({
      refusals: [{ refusal: 'ShiftStillOpen', figures: { shift: `${day}-early` } }],
    });
  });

  it('is refused when it is closed, and when no shift of it was', async () => {
    const trial = await nextMorning();
    await closePeriod(trial, day);
    expect(refusalOf(await closePeriod(trial, day))).toEqual(['PeriodAlreadyClosed']);
    expect(refusalOf(await closePeriod(trial, '2026-02-27'))).toEqual(['PeriodWithoutWork']);
  });

  it('is refused while a tally of it shows pieces that nobody signed for', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(100, null)]);
    await close(trial);
    await tally(trial, 'receiving', [found(99, null)]);
    trial.now = Date.parse(nextDay);
    expect(await closePeriod(trial, day)).toMatchObject({
      refusals: [{ refusal: 'PiecesDiffer', figures: { piecesDifference: -1 } }],
    });
    await sign(trial);
    expect((await closePeriod(trial, day)).outcome).toBe('recorded');
  });

  it('is done by the metal accountant, before a witness', async () => {
    const trial = await nextMorning();
    const alone = await trial.do('close-day', { period: day }, 'accountant');
    expect(refusalOf(alone)).toEqual(['WitnessMissing']);
    const other = await trial.do('close-day', { period: day }, 'custodian', 'accountant');
    expect(refusalOf(other)).toEqual(['RoleMissing']);
  });

  it('lets no shift of the closed day be closed any more', async () => {
    const trial = await nextMorning();
    await closePeriod(trial, day);
    expect(refusalOf(await close(trial, `${day}-early`))).toEqual(['ShiftAlreadyClosed']);
    expect(await close(trial, `${day}-late`)).toMatchObject({
      refusals: [{ refusal: 'PeriodClosed', figures: { period: day } }],
    });
  });

  it('waits on the docket from the morning after until it is done', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(100, null)]);
    await close(trial);
    expect(await docketOf(trial)).toEqual([]);
    trial.now = Date.parse(nextDay);
    expect(await docketOf(trial)).toEqual([`account/period/${day}`]);
    await closePeriod(trial, day);
    expect(await docketOf(trial)).toEqual([]);
    trial.now = Date.parse('2026-04-01T07:00:00.000Z');
    expect(await docketOf(trial)).toEqual(['account/period/2026-03']);
  });
});

describe('close-month', () => {
  it('freezes the days and shifts of the month', async () => {
    const trial = await nextMorning();
    await closePeriod(trial, day);
    trial.now = Date.parse('2026-04-01T07:00:00.000Z');
    const body = bodyOf<PeriodClosed>(await closePeriod(trial, '2026-03'));
    expect(body).toMatchObject({ period: '2026-03', days: [day], firstEntry: 1, lastEntry: 9 });
    expect(await trial.ask('period', { period: '2026-03' }, 'accountant')).toMatchObject({
      state: 'closed',
      closed: { author: 'accountant', witness: 'custodian', lines: [{ piecesClosing: 100 }] },
    });
  });

  it('is refused while a day of it is open', async () => {
    const trial = await nextMorning();
    trial.now = Date.parse('2026-04-01T07:00:00.000Z');
    expect(await closePeriod(trial, '2026-03')).toMatchObject({
      refusals: [{ refusal: 'DayStillOpen', figures: { day } }],
    });
  });

  it('takes days for days and months for months', async () => {
    const trial = await nextMorning();
    const wrong = await trial.do('close-month', { period: day }, 'accountant', 'custodian');
    expect(refusalOf(wrong)).toEqual(['InputNotAccepted']);
  });
});

describe('what comes after a close', () => {
  it('is an entry of its own day that points back', async () => {
    const trial = await nextMorning();
    await closePeriod(trial, day);
    const outcome = await correct(trial);
    const [entry] = (outcome as { entries: readonly RecordedEntry[] }).entries;
    expect(entry).toMatchObject({ corrects: 8, shift: '2026-03-03-early', postings: [] });
    expect(entry?.reason).toContain('wrong melt');
    expect(await trial.ask('period', { period: day }, 'custodian')).toMatchObject({
      closed: { lines: null, differences: null },
      corrections: [{ correctedEntry: 8, author: 'accountant' }],
    });
  });

  it('is refused for a period that is open, and for an entry outside of it', async () => {
    const trial = await nextMorning();
    expect(refusalOf(await correct(trial))).toEqual(['PeriodNotClosed']);
    expect(refusalOf(await correct(trial, { period: '2026-02' }))).toEqual(['PeriodNotClosed']);
    await closePeriod(trial, day);
    expect(await correct(trial, { entry: 10 })).toMatchObject({
      refusals: [{ refusal: 'EntryOutsidePeriod', figures: { firstEntry: 1, lastEntry: 9 } }],
    });
  });

  it('ends a difference of the closed day in the present one, and shows at the day', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(99, null)]);
    await sign(trial);
    await close(trial);
    trial.now = Date.parse(nextDay);
    await closePeriod(trial, day);
    const input = {
      difference: 'D-10',
      outcome: 'found',
      explanation: 'It lay under the drum stand.',
    };
    const outcome = await trial.do('explain-difference', input, 'chief', 'accountant');
    expect(outcome).toMatchObject({
      entries: [{ corrects: 10, shift: '2026-03-03-early', postings: [{ to: 'receiving' }] }],
    });
    expect(await trial.ask('period', { period: day }, 'auditor')).toMatchObject({
      closed: { openDifferences: ['D-10'], lines: [{ piecesClosing: 99 }] },
      corrections: [{ correctedEntry: 10 }],
    });
  });
});

describe('the list of periods', () => {
  it('says of each day and month what it waits for', async () => {
    const trial = await nextMorning();
    const states = async () => {
      const answer = (await trial.ask('periods', {}, 'accountant')) as {
        periods: { period: string; state: string }[];
      };
      return answer.periods.map(({ period, state }) => [period, state]);
    };
    expect(await states()).toEqual([
      ['2026-03', 'runs'],
      [day, 'to be closed'],
    ]);
    trial.now = Date.parse('2026-04-01T07:00:00.000Z');
    expect(await states()).toEqual([
      ['2026-03', 'day open'],
      [day, 'to be closed'],
    ]);
    await closePeriod(trial, day);
    expect(await states()).toEqual([
      ['2026-03', 'to be closed'],
      [day, 'closed'],
    ]);
  });
});

describe('a plant that closes no days', () => {
  it('gets three papers, and the last says how many more wait', async () => {
    const trial = await withPieces();
    for (let day = 2; day <= 6; day += 1) {
      trial.now = Date.parse(`2026-03-0${day}T07:00:00.000Z`);
      await tally(trial, 'receiving', [found(100, null)]);
      await close(trial, `2026-03-0${day}-early`);
    }
    trial.now = Date.parse('2026-03-07T07:00:00.000Z');
    const papers = await accountDocket(trial.books, new Date(trial.now).toISOString());
    expect(papers.map(({ what }) => what)).toEqual([
      'Day 2026-03-02 is over and not closed.',
      'Day 2026-03-03 is over and not closed.',
      'Day 2026-03-04 is over and not closed. 2 later ones wait too.',
    ]);
  });
});

describe('the books of periods', () => {
  it('come out the same when they are made anew from the journal', async () => {
    const trial = await nextMorning();
    await trial.do(
      'hand-over-shift',
      { shift: '2026-03-02-night', remark: 'Nothing is open.' },
      'custodian',
      'storeman',
    );
    await closePeriod(trial, day);
    await correct(trial);
    const rebuilt = new MemoryStore('trial');
    const registry = registerStations([registersStation, trialStation, accountStation]);
    await rebuildInto(trial.store, rebuilt, registry);
    const comparisons = await compareBooks(trial.store, rebuilt, registry);
    expect(comparisons.filter((one) => !one.equal)).toEqual([]);
    const records = (book: string) => comparisons.find((one) => one.book === book)?.records;
    expect(records('account_period')).toBe(2);
    expect(records('account_hand_over')).toBe(1);
    expect(records('account_correction')).toBe(1);
    expect(records('account_balance_series')).toBe(1);
  });
});
