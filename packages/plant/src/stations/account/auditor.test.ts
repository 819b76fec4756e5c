import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { balances } from '../../journal/core-books.ts';
import { canonicalText } from '../../journal/entry.ts';
import type { InsidePlace } from '../../journal/place.ts';
import { accountTrial } from './account-trial.ts';
import { Auditor, auditAccount, compareWithBooks } from './auditor.ts';

const posting = (changes: object = {}) => ({
  metal: 'gold',
  pieceStandard: 'P',
  melt: 'M-1',
  container: null,
  from: 'with-supplier',
  to: 'receiving',
  pieces: 10,
  grossMicrograms: 311_030_000,
  fineMicrograms: 310_998_897,
  estimated: false,
  ...changes,
});

const line = (number: number, ...postings: object[]): string => canonicalText({ number, postings });

function audited(...lines: string[]) {
  const auditor = new Auditor();
  for (const text of lines) auditor.add(text);
  return auditor.audit();
}

describe('Auditor', () => {
  it('adds up postings beyond the safe integers without losing a microgram', () => {
    const most = Number.MAX_SAFE_INTEGER;
    const big = posting({ pieces: 1, grossMicrograms: most, fineMicrograms: most });
    const audit = audited(line(1, big), line(2, big), line(3, big));
    // 3 · (2^53 − 1), counted by hand.
    expect(audit.balances.find((row) => row.place === 'receiving')?.grossMicrograms).toBe(
      '27021597764222973',
    );
    expect(audit.faults).toEqual([]);
  });

  it('tells what is new since it was asked last: balances that changed, and faults', () => {
    const auditor = new Auditor();
    auditor.add(line(1, posting()));
    expect(auditor.news().balances.map(({ place, pieces }) => [place, pieces])).toEqual([
      ['with-supplier', '-10'],
      ['receiving', '10'],
    ]);
    auditor.add(line(2, posting({ from: 'receiving', to: 'put-up', pieces: 11 })));
    const { balances: changed, faults } = auditor.news();
    expect(changed.map(({ place, pieces }) => [place, pieces])).toEqual([
      ['receiving', '-1'],
      ['put-up', '11'],
    ]);
    expect(faults).toEqual(auditor.audit().faults);
    expect(faults).toHaveLength(1);
    expect(auditor.news()).toEqual({ balances: [], faults: [] });
  });

  it('names the entry whose posting is not in whole numbers', () => {
    expect(audited(line(1, posting()), line(2, posting({ pieces: 1.5 }))).faults).toEqual([
      { entry: 2, what: 'pieces is 1.5, not a whole number of 0 or more' },
    ]);
  });

  it('names the entry that leaves a place with less than nothing, or goes to no place', () => {
    const away = posting({ from: 'receiving', to: 'put-up', pieces: 11 });
    expect(audited(line(1, posting()), line(2, away)).faults).toEqual([
      { entry: 2, what: 'receiving is left with -1 pieces of P' },
    ]);
    expect(audited(line(1, posting({ to: 'attic' }))).faults).toEqual([
      { entry: 1, what: 'there is no place attic' },
    ]);
  });

  it('names more fine metal than gross, a missing number and a missing list', () => {
    expect(audited(line(1, posting({ fineMicrograms: 311_030_001 }))).faults).toHaveLength(1);
    expect(audited(line(2, posting())).faults).toHaveLength(1);
    expect(audited(canonicalText({ number: 1 })).faults).toHaveLength(1);
  });

  it('says where the books do not hold what the journal says', () => {
    const audit = audited(line(1, posting()));
    expect(compareWithBooks(audit, audit.balances)).toEqual([]);
    const short = audit.balances.map((row) =>
      row.place === 'receiving' ? { ...row, pieces: '9' } : row,
    );
    expect(compareWithBooks(audit, short)).toEqual([
      {
        entry: null,
        what: 'receiving / gold / P / M-1: the journal says 10 pieces, 311030000 µg gross, 310998897 µg fine; the books say 9 pieces, 311030000 µg gross, 310998897 µg fine',
      },
    ]);
  });
});

describe('auditAccount', () => {
  it('finds the books equal to the journal after any moves that the plant accepts', async () => {
    const places: readonly InsidePlace[] = ['receiving', 'laboratory', 'press-room', 'put-up'];
    const moves = fc.array(
      fc.record({
        from: fc.constantFrom('with-supplier' as const, ...places),
        to: fc.constantFrom('with-purchaser' as const, ...places),
        pieces: fc.integer({ min: 1, max: 40 }),
        melt: fc.constantFrom('M-1', 'M-2'),
      }),
      { minLength: 1, maxLength: 25 },
    );
    await fc.assert(
      fc.asyncProperty(moves, async (list) => {
        const trial = await accountTrial();
        for (const { from, to, pieces, melt } of list) {
          if (from === to) continue;
          const move = { drum: 'D', metal: 'gold', words: '', from, to, pieces, melt };
          const moves = [{ ...move, grossMicrograms: pieces * 31_103_000 }];
          await trial.do('trial-move-pieces', { moves }, 'custodian');
        }
        const audit = await auditAccount(trial.store.reader, trial.books);
        expect(audit.faults).toEqual([]);
        const pieces = audit.balances.reduce((total, row) => total + BigInt(row.pieces), 0n);
        expect(pieces).toBe(0n);
      }),
      { seed: 20_260_302, numRuns: 25 },
    );
  });

  it('finds a balance that was changed behind the journal', async () => {
    const trial = await accountTrial();
    await trial.move({});
    const row = await trial.books.get(balances, 'receiving', 'gold', 'trial-piece', 'M-1');
    await trial.store.write((writer) => writer.put(balances, { ...row, pieces: 99 }));
    const { faults } = await auditAccount(trial.store.reader, trial.books);
    expect(faults.map((fault) => fault.what)).toEqual([
      'receiving / gold / trial-piece / M-1: the journal says 100 pieces, 3110300000 µg gross, 3110300000 µg fine; the books say 99 pieces, 3110300000 µg gross, 3110300000 µg fine',
    ]);
  });
});
