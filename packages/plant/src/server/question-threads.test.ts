import { calculationById, runCalculation } from '@cupel/calculation';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { SqliteAccounts } from '../adapters/accounts.ts';
import { FolderAttachments } from '../adapters/attachments.ts';
import { defineQuestion, type Station } from '../journal/station.ts';
import type { Json } from '../ports/json.ts';
import { startTrialServer, type TrialServer, trialPassword } from './trial-server.ts';

const calculation = calculationById('fault-posterior');
const { example } = calculation;

/** A station that answers with what a calculation gives, asked with its example or with nothing. */
const desk: Station = {
  station: 'desk',
  title: 'Desk',
  kinds: [],
  books: [],
  commands: [],
  questions: [
    defineQuestion({
      question: 'weighed',
      station: 'desk',
      input: z.strictObject({ good: z.boolean() }),
      answer: async (_books, { good }, { calculate }) =>
        (await calculate?.('fault-posterior', good ? (example as object) : {})) as Json,
    }),
  ],
  refusals: {},
};

let door: TrialServer;
let headers: Record<string, string>;

beforeEach(async () => {
  const accounts = new SqliteAccounts({
    path: ':memory:',
    clock: { now: () => Date.parse('2026-03-02T07:00:00Z') },
    cost: { memoryKibibytes: 64, passes: 1 },
  });
  await accounts.setPassword('custodian', trialPassword);
  const attachments = new FolderAttachments('/nowhere');
  door = await startTrialServer({ accounts, attachments, stations: [desk] });
  headers = await door.signIn('custodian');
});
afterEach(() => door.server.close());

const ask = (good: boolean) =>
  door.server.inject({
    url: `/api/questions/weighed?input=${encodeURIComponent(JSON.stringify({ good }))}`,
    headers,
  });

describe('a question that calculates', () => {
  it('gets from a thread what the library gives in place', async () => {
    const answer = await ask(true);
    expect(answer.statusCode).toBe(200);
    const inPlace = runCalculation(calculation, example);
    expect(inPlace.outcome).toBe('computed');
    expect({ ...inPlace, output: answer.json() }).toEqual(JSON.parse(JSON.stringify(inPlace)));
  });

  it('is at fault when the calculation refuses its input', async () => {
    expect((await ask(false)).statusCode).toBe(500);
  });
});
