import { createPrivateKey, createPublicKey, sign } from 'node:crypto';
import { MemoryStore } from '../adapters/memory-store.ts';
import type { Signer } from '../ports/signer.ts';
import type { Store } from '../ports/store.ts';
import { type BookReader, bookReader } from './books.ts';
import { registerStations } from './plant.ts';
import { type Outcome, Recorder } from './recorder.ts';
import { threeShifts } from './shift.ts';
import type { Person, Role, Station } from './station.ts';

/** PKCS #8 wrapping of a raw Ed25519 seed, RFC 8410 section 7. */
const seedPrefix = '302e020100300506032b657004220420';

/** A signer from a raw 32-byte seed in hexadecimal digits; the same seed is the same key. */
export function signerFromSeed(seed: string): Signer {
  const key = createPrivateKey({
    key: Buffer.from(seedPrefix + seed, 'hex'),
    format: 'der',
    type: 'pkcs8',
  });
  const jwk = createPublicKey(key).export({ format: 'jwk' });
  return {
    publicKey: String(jwk.x),
    sign: (bytes) => sign(null, bytes, key).toString('base64url'),
  };
}

/** A plant on trial: the real recorder and stations, a fixed clock, and a store that may be of memory. */
export interface Trial {
  readonly store: Store;
  readonly books: BookReader;
  readonly recorder: Recorder;
  readonly signer: Signer;
  /** Milliseconds since 1970; a test may set it. */
  now: number;
  /** Records a command, signed, by a person of that id, with an optional witness. */
  do(command: string, input: unknown, author: string, witness?: string): Promise<Outcome>;
  /** The answer to a question, as that person sees it. */
  ask(question: string, input: unknown, person: string): Promise<unknown>;
}

/** People of a trial: id and role. The id is the name. */
export type TrialPeople = Readonly<Record<string, readonly Role[]>>;

/** The people that most trials need: one of each role, with a second assayer and custodian. */
export const trialPeople: TrialPeople = {
  chief: ['chief assayer'],
  assayer: ['assayer'],
  checker: ['assayer'],
  inspector: ['inspector'],
  custodian: ['custodian'],
  storeman: ['custodian'],
  dies: ['die keeper'],
  accountant: ['metal accountant'],
  auditor: ['auditor'],
};

/** Sets up a plant for a test. People come from the trial, not from a register, unless a lookup is given. */
export async function makeTrial(
  stations: readonly Station[],
  options: {
    people?: TrialPeople;
    now?: string;
    store?: Store;
    person?: (books: BookReader, id: string) => Promise<Person | undefined>;
  } = {},
): Promise<Trial> {
  const store = options.store ?? new MemoryStore('trial');
  const registry = registerStations(stations);
  await store.prepare(registry.books);
  const people = options.people ?? trialPeople;
  const personOf = (id: string): Person | undefined => {
    const held = people[id];
    return held && { person: id, name: id, roles: held, active: true };
  };
  const signer = signerFromSeed('11'.repeat(32));
  let keys = 0;
  const trial: Trial = {
    store,
    books: bookReader(store.reader),
    signer,
    now: Date.parse(options.now ?? '2026-03-02T07:00:00.000Z'),
    recorder: new Recorder({
      store,
      registry,
      signer,
      clock: { now: () => trial.now },
      calendar: { timeZone: 'UTC', shifts: threeShifts },
      person: options.person ?? (async (_books, id) => personOf(id)),
    }),
    do: (command, input, author, witness) => {
      keys += 1;
      const request = { command, input, author, signed: true, idempotencyKey: `trial-${keys}` };
      return trial.recorder.record(witness === undefined ? request : { ...request, witness });
    },
    ask: async (name, input, person) => {
      const question = registry.question(name);
      const who = options.person ? await options.person(trial.books, person) : personOf(person);
      if (!question || !who) throw new RangeError(`no question ${name} or no person ${person}`);
      const inquirer = { person: who, instant: new Date(trial.now).toISOString() };
      return question.answer(trial.books, question.input.parse(input), inquirer);
    },
  };
  return trial;
}
