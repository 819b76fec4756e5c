import { createHash, randomBytes, randomInt } from 'node:crypto';
import { chmodSync } from 'node:fs';
import Database from 'better-sqlite3';
import { type Accounts, type OpenSession, type Proof, passwordProblem } from '../ports/accounts.ts';
import type { Clock } from '../ports/clock.ts';
import { type HashCost, hashPassword, isPasswordOf, strongCost } from './password-hash.ts';

/** How the accounts of a plant are opened. */
export interface AccountsOptions {
  /** Path of the accounts' own SQLite file; `:memory:` keeps nothing. */
  readonly path: string;
  readonly clock: Clock;
  /** What a password hash costs; the strong one when left out. */
  readonly cost?: HashCost;
}

const minute = 60_000;
const absoluteMinutes = 12 * 60;
const codeMinutes = 3 * 24 * 60;
/** So many wrong attempts bring no delay. */
const freeAttempts = 4;
/** The delay doubles with each further one, up to this. It lets at most about 70 in an hour. */
const greatestDelaySeconds = 60;
/** So many hashes run at once; each takes memory. */
const hashesAtOnce = 2;

const schema = `
  CREATE TABLE IF NOT EXISTS password (person TEXT PRIMARY KEY, hash TEXT NOT NULL) STRICT;
  CREATE TABLE IF NOT EXISTS code (
    person TEXT PRIMARY KEY, hash TEXT NOT NULL, until INTEGER NOT NULL
  ) STRICT;
  CREATE TABLE IF NOT EXISTS attempt (
    person TEXT PRIMARY KEY, failures INTEGER NOT NULL, last INTEGER NOT NULL
  ) STRICT;
  CREATE TABLE IF NOT EXISTS session (
    token_hash TEXT PRIMARY KEY, person TEXT NOT NULL, idle_minutes INTEGER NOT NULL,
    opened INTEGER NOT NULL, used INTEGER NOT NULL
  ) STRICT;
  CREATE INDEX IF NOT EXISTS session_person ON session (person);
`;

const sha256 = (text: string) => createHash('sha256').update(text).digest('hex');

/** Letters and digits of a code that nobody confuses when it is read out. */
const codeAlphabet = 'ABCDEFGHJKMNPQRSTVWXYZ23456789';

function newCode(): string {
  const group = () =>
    Array.from({ length: 5 }, () => codeAlphabet[randomInt(codeAlphabet.length)]).join('');
  return [group(), group(), group()].join('-');
}

const plainCode = (code: string) => code.toUpperCase().replace(/[^A-Z0-9]/g, '');

/** Lets a few of the costly works run at once; the others wait their turn. */
class Turns {
  #free = hashesAtOnce;
  readonly #waiting: (() => void)[] = [];

  async take<Result>(work: () => Promise<Result>): Promise<Result> {
    if (this.#free === 0) await new Promise<void>((resolve) => this.#waiting.push(resolve));
    else this.#free -= 1;
    try {
      return await work();
    } finally {
      const next = this.#waiting.shift();
      if (next) next();
      else this.#free += 1;
    }
  }
}

interface SessionRow {
  person: string;
  idle_minutes: number;
  opened: number;
  used: number;
}

/** Accounts in an SQLite file of their own: no secret ever stands in the journal. */
export class SqliteAccounts implements Accounts {
  readonly #database: Database.Database;
  readonly #clock: Clock;
  readonly #cost: HashCost;
  readonly #turns = new Turns();
  #nobodysHash: string | undefined;

  constructor(options: AccountsOptions) {
    this.#clock = options.clock;
    this.#cost = options.cost ?? strongCost;
    this.#database = new Database(options.path);
    this.#database.pragma('journal_mode = WAL');
    this.#database.pragma('synchronous = FULL');
    this.#database.exec(schema);
    // Whatever folder it lies in, nobody but its owner reads the hashes.
    if (options.path !== ':memory:') chmodSync(options.path, 0o600);
  }

  hasPassword(person: string): boolean {
    return this.#hashOf(person) !== undefined;
  }

  async setPassword(person: string, password: string): Promise<void> {
    const problem = passwordProblem(person, password);
    if (problem) throw new RangeError(problem);
    const hash = await this.#turns.take(() => hashPassword(password, this.#cost));
    this.#database
      .prepare('INSERT INTO password VALUES (?, ?) ON CONFLICT DO UPDATE SET hash = excluded.hash')
      .run(person, hash);
  }

  async check(person: string, password: string): Promise<Proof> {
    return this.#prove(person, async () => {
      const hash = this.#hashOf(person);
      // Someone without an account costs the same time, so that nobody learns who has one.
      const isGood = await isPasswordOf(password, hash ?? (await this.#hashOfNobody()));
      return hash !== undefined && isGood;
    });
  }

  async makeCode(person: string): Promise<{ code: string; until: number }> {
    const code = newCode();
    const until = this.#clock.now() + codeMinutes * minute;
    const hash = await this.#turns.take(() => hashPassword(plainCode(code), this.#cost));
    this.#database
      .prepare(
        'INSERT INTO code VALUES (?, ?, ?) ON CONFLICT DO UPDATE SET hash = excluded.hash, until = excluded.until',
      )
      .run(person, hash, until);
    return { code, until };
  }

  async redeemCode(input: { person: string; code: string; password: string }): Promise<Proof> {
    const { person, code, password } = input;
    const problem = passwordProblem(person, password);
    if (problem) throw new RangeError(problem);
    const proof = await this.#prove(person, async () => {
      const row = this.#database
        .prepare('SELECT hash, until FROM code WHERE person = ?')
        .get(person) as { hash: string; until: number } | undefined;
      const hash = row?.hash ?? (await this.#hashOfNobody());
      const isGood = await isPasswordOf(plainCode(code), hash);
      if (!row || !isGood || row.until < this.#clock.now()) return false;
      // Only the one who takes the code away has redeemed it.
      return (
        this.#database.prepare('DELETE FROM code WHERE person = ? AND hash = ?').run(person, hash)
          .changes === 1
      );
    });
    if (proof.proof === 'good') {
      await this.setPassword(person, password);
      this.closeSessionsOf(person);
    }
    return proof;
  }

  openSession(person: string, idleMinutes: number): string {
    const token = randomBytes(32).toString('base64url');
    const now = this.#clock.now();
    this.#database
      .prepare('DELETE FROM session WHERE opened < ?')
      .run(now - absoluteMinutes * minute);
    this.#database
      .prepare('INSERT INTO session VALUES (?, ?, ?, ?, ?)')
      .run(sha256(token), person, idleMinutes, now, now);
    return token;
  }

  session(token: string, options: { readonly byHand: boolean }): OpenSession | undefined {
    const hash = sha256(token);
    const row = this.#database
      .prepare('SELECT person, idle_minutes, opened, used FROM session WHERE token_hash = ?')
      .get(hash) as SessionRow | undefined;
    if (!row) return undefined;
    const now = this.#clock.now();
    const endsAt = row.opened + absoluteMinutes * minute;
    if (now >= endsAt || now >= row.used + row.idle_minutes * minute) {
      this.closeSession(token);
      return undefined;
    }
    if (options.byHand && now - row.used > minute / 2) {
      this.#database.prepare('UPDATE session SET used = ? WHERE token_hash = ?').run(now, hash);
    }
    return { person: row.person, endsAt };
  }

  closeSession(token: string): void {
    this.#database.prepare('DELETE FROM session WHERE token_hash = ?').run(sha256(token));
  }

  closeSessionsOf(person: string, exceptToken?: string): void {
    this.#database
      .prepare('DELETE FROM session WHERE person = ? AND token_hash <> ?')
      .run(person, exceptToken === undefined ? '' : sha256(exceptToken));
  }

  close(): void {
    this.#database.close();
  }

  #hashOf(person: string): string | undefined {
    const row = this.#database.prepare('SELECT hash FROM password WHERE person = ?').get(person) as
      | { hash: string }
      | undefined;
    return row?.hash;
  }

  async #hashOfNobody(): Promise<string> {
    this.#nobodysHash ??= await hashPassword(randomBytes(16).toString('hex'), this.#cost);
    return this.#nobodysHash;
  }

  /** Runs a comparison unless the person has to wait, and counts what comes of it. */
  async #prove(person: string, compare: () => Promise<boolean>): Promise<Proof> {
    const seconds = this.#secondsToWait(person);
    if (seconds > 0) return { proof: 'wait', seconds };
    // Counted before the comparison, so that attempts side by side cannot outrun the count.
    this.#countFailure(person);
    const isGood = await this.#turns.take(compare);
    if (!isGood) return { proof: 'wrong' };
    this.#database.prepare('DELETE FROM attempt WHERE person = ?').run(person);
    return { proof: 'good' };
  }

  #secondsToWait(person: string): number {
    const row = this.#database
      .prepare('SELECT failures, last FROM attempt WHERE person = ?')
      .get(person) as { failures: number; last: number } | undefined;
    if (!row || row.failures <= freeAttempts) return 0;
    const delay = Math.min(greatestDelaySeconds, 2 ** (row.failures - freeAttempts));
    return Math.max(0, Math.ceil((row.last + delay * 1000 - this.#clock.now()) / 1000));
  }

  #countFailure(person: string): void {
    this.#database
      .prepare(
        'INSERT INTO attempt VALUES (?, 1, ?) ON CONFLICT DO UPDATE SET failures = failures + 1, last = excluded.last',
      )
      .run(person, this.#clock.now());
  }
}
