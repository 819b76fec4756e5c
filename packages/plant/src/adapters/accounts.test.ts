import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { passwordProblem } from '../ports/accounts.ts';
import { SqliteAccounts } from './accounts.ts';
import { hashPassword, isPasswordOf, strongCost } from './password-hash.ts';

const folder = mkdtempSync(join(tmpdir(), 'accounts-'));
afterAll(() => rmSync(folder, { recursive: true }));
const cost = { memoryKibibytes: 64, passes: 1 };
const password = 'three drums of blanks';
const minute = 60_000;

let now = 0;
let accounts: SqliteAccounts;
beforeEach(() => {
  now = Date.parse('2026-03-02T07:00:00Z');
  accounts = new SqliteAccounts({ path: ':memory:', clock: { now: () => now }, cost });
});

describe('password hashes', () => {
  it('differ for the same password and prove it, however the letters are composed', async () => {
    const [first, second] = await Promise.all([
      hashPassword('Gießerei über', cost),
      hashPassword('Gießerei über', cost),
    ]);
    expect(first).not.toBe(second);
    expect(await isPasswordOf('Gießerei u\u0308ber', first)).toBe(true);
    expect(await isPasswordOf('Gießerei uber', first)).toBe(false);
  });

  // OWASP Password Storage Cheat Sheet: argon2id with at least 19 MiB and 2 passes.
  it('cost at least what OWASP asks', () => {
    expect(strongCost.memoryKibibytes).toBeGreaterThanOrEqual(19 * 1024);
    expect(strongCost.passes).toBeGreaterThanOrEqual(2);
  });
});

describe('passwords', () => {
  it('are good, wrong, and wrong for someone without an account', async () => {
    await accounts.setPassword('hedda', password);
    expect(await accounts.check('hedda', password)).toEqual({ proof: 'good' });
    expect(await accounts.check('hedda', `${password}.`)).toEqual({ proof: 'wrong' });
    expect(await accounts.check('nobody', password)).toEqual({ proof: 'wrong' });
    expect(accounts.hasPassword('nobody')).toBe(false);
  });

  it('that are easy to guess are refused with what is wrong', async () => {
    expect(passwordProblem('hedda', 'short one')).toContain('9 characters');
    expect(passwordProblem('hedda', 'Hedda-hedda-12')).toContain('sign-in name');
    expect(passwordProblem('hedda', 'abababababab')).toContain('different characters');
    expect(passwordProblem('hedda', 'x'.repeat(257))).toContain('257 characters');
    await expect(accounts.setPassword('hedda', 'short one')).rejects.toThrow(RangeError);
  });

  it('tried wrong too often bring a delay that doubles and ends', async () => {
    await accounts.setPassword('hedda', password);
    for (let attempt = 0; attempt < 5; attempt += 1) {
      expect(await accounts.check('hedda', 'wrong wrong wrong')).toEqual({ proof: 'wrong' });
    }
    expect(await accounts.check('hedda', password)).toEqual({ proof: 'wait', seconds: 2 });
    now += 2000;
    expect(await accounts.check('hedda', 'wrong wrong wrong')).toEqual({ proof: 'wrong' });
    expect(await accounts.check('hedda', password)).toEqual({ proof: 'wait', seconds: 4 });
    now += 4000;
    expect(await accounts.check('hedda', password)).toEqual({ proof: 'good' });
    expect(await accounts.check('hedda', 'wrong wrong wrong')).toEqual({ proof: 'wrong' });
  });

  it('tried side by side do not outrun the count', async () => {
    await accounts.setPassword('hedda', password);
    const attempts = await Promise.all(
      Array.from({ length: 20 }, () => accounts.check('hedda', 'wrong wrong wrong')),
    );
    expect(attempts.filter(({ proof }) => proof === 'wrong')).toHaveLength(5);
  });
});

describe('one-time codes', () => {
  it('set a password once', async () => {
    const { code } = await accounts.makeCode('imre');
    expect(
      await accounts.redeemCode({ person: 'imre', code: code.toLowerCase(), password }),
    ).toEqual({ proof: 'good' });
    expect(await accounts.check('imre', password)).toEqual({ proof: 'good' });
    expect(await accounts.redeemCode({ person: 'imre', code, password })).toEqual({
      proof: 'wrong',
    });
  });

  it('end after three days, and serve no other person', async () => {
    const { code, until } = await accounts.makeCode('imre');
    expect(until - now).toBe(3 * 24 * 60 * minute);
    expect(await accounts.redeemCode({ person: 'hedda', code, password })).toEqual({
      proof: 'wrong',
    });
    now = until + 1;
    expect(await accounts.redeemCode({ person: 'imre', code, password })).toEqual({
      proof: 'wrong',
    });
  });

  it('set no password that is easy to guess, and stay good', async () => {
    const { code } = await accounts.makeCode('imre');
    await expect(accounts.redeemCode({ person: 'imre', code, password: 'imre' })).rejects.toThrow(
      '12 or more',
    );
    expect(await accounts.redeemCode({ person: 'imre', code, password })).toEqual({
      proof: 'good',
    });
  });
});

describe('sessions', () => {
  it('idle out unless a hand is at work', () => {
    const token = accounts.openSession('hedda', 30);
    now += 20 * minute;
    expect(accounts.session(token, { byHand: true })?.person).toBe('hedda');
    now += 20 * minute;
    expect(accounts.session(token, { byHand: false })?.person).toBe('hedda');
    now += 11 * minute;
    expect(accounts.session(token, { byHand: true })).toBeUndefined();
  });

  it('end after twelve hours however busy the hand is', () => {
    const token = accounts.openSession('hedda', 30);
    for (let step = 0; step < 47; step += 1) {
      now += 15 * minute;
      expect(accounts.session(token, { byHand: true })?.person).toBe('hedda');
    }
    now += 15 * minute;
    expect(accounts.session(token, { byHand: true })).toBeUndefined();
  });

  it('end by closing one, or all of a person but one', () => {
    const [first, second, third] = [
      accounts.openSession('hedda', 30),
      accounts.openSession('hedda', 30),
      accounts.openSession('imre', 30),
    ];
    accounts.closeSession(first);
    expect(accounts.session(first, { byHand: false })).toBeUndefined();
    const kept = accounts.openSession('hedda', 30);
    accounts.closeSessionsOf('hedda', kept);
    expect(accounts.session(second, { byHand: false })).toBeUndefined();
    expect(accounts.session(kept, { byHand: false })?.person).toBe('hedda');
    expect(accounts.session(third, { byHand: false })?.person).toBe('imre');
  });

  it('leave no password, code or token in the file', async () => {
    const path = join(folder, 'accounts.sqlite');
    const kept = new SqliteAccounts({ path, clock: { now: () => now }, cost });
    await kept.setPassword('hedda', password);
    const { code } = await kept.makeCode('imre');
    const token = kept.openSession('hedda', 30);
    kept.close();
    const bytes = readFileSync(path, 'latin1');
    expect(bytes).toContain('argon2id');
    for (const secret of [password, code, code.replaceAll('-', ''), token])
      expect(bytes).not.toContain(secret);
  });
});
