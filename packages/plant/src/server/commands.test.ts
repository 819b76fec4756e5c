import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { SqliteAccounts } from '../adapters/accounts.ts';
import { FolderAttachments } from '../adapters/attachments.ts';
import { startTrialServer, type TrialServer, trialPassword } from './trial-server.ts';

let door: TrialServer;
let headers: Record<string, string>;

beforeEach(async () => {
  const accounts = new SqliteAccounts({
    path: ':memory:',
    clock: { now: () => Date.now() },
    cost: { memoryKibibytes: 64, passes: 1 },
  });
  for (const person of ['custodian', 'storeman', 'auditor'])
    await accounts.setPassword(person, trialPassword);
  door = await startTrialServer({ accounts, attachments: new FolderAttachments('/nowhere') });
  headers = await door.signIn('custodian');
});
afterEach(() => door.server.close());

const send = (command: string, payload: object) =>
  door.server.inject({ method: 'POST', url: `/api/commands/${command}`, payload, headers });
const ask = async (question: string, input: object = {}) =>
  door.server.inject({
    url: `/api/questions/${question}?input=${encodeURIComponent(JSON.stringify(input))}`,
    headers,
  });

const move = {
  drum: 'D-1',
  melt: 'M-1',
  metal: 'gold',
  from: 'with-supplier',
  to: 'receiving',
  pieces: 200,
  grossMicrograms: 6_220_000_000,
  words: '',
};
const key = 'a-key-of-the-page';
const signature = { password: trialPassword };
const witness = { person: 'storeman', password: trialPassword };

describe('commands', () => {
  it('are recorded and answered with their entries', async () => {
    const answer = await send('trial-move-pieces', { key, input: { moves: [move] } });
    expect(answer.statusCode).toBe(200);
    expect(answer.json()).toEqual({
      outcome: 'recorded',
      repeated: false,
      answer: { movesBefore: 0 },
      entries: [
        {
          number: 1,
          kind: 'TrialPiecesMoved',
          station: 'trial',
          instant: '2026-03-02T07:00:00.000Z',
        },
      ],
    });
  });

  it('sent twice under one key are recorded once', async () => {
    const answers = await Promise.all(
      [1, 2, 3].map(() => send('trial-move-pieces', { key, input: { moves: [move] } })),
    );
    expect(answers.map((answer) => answer.json().entries[0].number)).toEqual([1, 1, 1]);
    expect((await ask('entries', { limit: 10 })).json().last).toBe(1);
  });

  it('that a rule refuses are answered with its refusals', async () => {
    const answer = await send('trial-move-pieces', {
      key,
      input: { moves: [{ ...move, drum: 'forbidden' }] },
    });
    expect(answer.statusCode).toBe(422);
    expect(answer.json()).toMatchObject({
      outcome: 'refused',
      refusals: [{ refusal: 'TrialDrumForbidden', nextStep: 'Take another drum.' }],
    });
  });

  it('with bad input name the field, the value and what is accepted', async () => {
    const answer = await send('trial-move-pieces', {
      key,
      input: { moves: [{ ...move, pieces: -3 }] },
    });
    expect(answer.statusCode).toBe(422);
    expect(answer.json().refusals[0]).toMatchObject({
      refusal: 'InputNotAccepted',
      field: 'moves.0.pieces',
      figures: { value: -3 },
    });
  });

  it('nested deeper than any act are not taken, and nothing breaks over them', async () => {
    const deep = `${'['.repeat(100_000)}${']'.repeat(100_000)}`;
    const payload = `{"key":"${key}","input":{"moves":${deep}}}`;
    const answer = await door.server.inject({
      method: 'POST',
      url: '/api/commands/trial-move-pieces',
      headers: { ...headers, 'content-type': 'application/json' },
      payload,
    });
    expect(answer.statusCode).toBe(400);
    expect(answer.json().message).toBe(
      'The request is nested deeper than 64 levels; no act needs more.',
    );
  });

  it('are not taken without a key, with unknown parts, or under an unknown name', async () => {
    expect((await send('trial-move-pieces', { input: {} })).statusCode).toBe(400);
    expect((await send('trial-move-pieces', { key, input: {}, author: 'chief' })).statusCode).toBe(
      400,
    );
    expect((await send('no-such-command', { key, input: {} })).statusCode).toBe(404);
  });

  it('of another role are refused and not recorded', async () => {
    headers = await door.signIn('auditor');
    const answer = await send('trial-move-pieces', { key, input: { moves: [move] } });
    expect(answer.json().refusals[0].refusal).toBe('RoleMissing');
    expect((await ask('entries', { limit: 10 })).json().last).toBe(0);
  });
});

describe('signatures', () => {
  const close = (more: object) =>
    send('trial-close-count', { key, input: { words: 'closed' }, ...more });

  it('of author and witness are proved by the secrets of both', async () => {
    expect((await close({ signature, witness })).statusCode).toBe(200);
    const { entries } = (await ask('entries', { limit: 1 })).json();
    expect(entries[0]).toMatchObject({ author: 'custodian', witness: 'storeman' });
  });

  it('are refused without a password, with a wrong one, and with the author for witness', async () => {
    const refusal = async (more: object) => (await close(more)).json().refusals[0];
    expect((await refusal({})).refusal).toBe('SignatureMissing');
    expect((await refusal({ signature })).refusal).toBe('WitnessMissing');
    const wrong = { password: 'wrong wrong wrong' };
    expect(await refusal({ signature: wrong, witness })).toMatchObject({
      refusal: 'SignatureNotGood',
      field: 'signature.password',
    });
    expect(await refusal({ signature, witness: { person: 'storeman', ...wrong } })).toMatchObject({
      refusal: 'WitnessNotGood',
      field: 'witness.password',
    });
    expect(
      (await refusal({ signature, witness: { person: 'custodian', password: trialPassword } }))
        .refusal,
    ).toBe('WitnessIsAuthor');
    expect(
      (await refusal({ signature, witness: { person: 'auditor', password: trialPassword } }))
        .refusal,
    ).toBe('WitnessRoleMissing');
    expect((await ask('entries', { limit: 1 })).json().last).toBe(0);
  });

  it('with wrong passwords are counted and bring a delay', async () => {
    for (let attempt = 0; attempt < 5; attempt += 1)
      await close({ signature: { password: 'wrong wrong wrong' }, witness });
    expect((await close({ signature, witness })).json().refusals[0].refusal).toBe(
      'TooManyAttempts',
    );
  });
});

describe('questions', () => {
  it('are answered from the books', async () => {
    await send('trial-move-pieces', { key, input: { moves: [move] } });
    expect((await ask('trial-drum', { drum: 'D-1' })).json()).toMatchObject({
      drum: 'D-1',
      pieces: 200,
    });
  });

  it('put wrong are answered with the fields and what is accepted', async () => {
    const answer = await ask('trial-drum', { drum: 7 });
    expect(answer.statusCode).toBe(400);
    expect(answer.json().problems[0]).toMatchObject({ field: 'drum', value: 7 });
    expect(
      (await door.server.inject({ url: '/api/questions/trial-drum?input={', headers })).statusCode,
    ).toBe(400);
    const deep = await door.server.inject({
      url: `/api/questions/trial-drum?input=${'['.repeat(7000)}${']'.repeat(7000)}`,
      headers,
    });
    expect(deep.statusCode).toBe(400);
    expect(deep.json().message).toContain('nested deeper than 64 levels');
    expect((await ask('no-such-question')).statusCode).toBe(404);
  });
});

describe('calculations', () => {
  it('are listed, described with their schemas, and run', async () => {
    const get = (url: string) => door.server.inject({ url, headers });
    const { calculations } = (await get('/api/calculations')).json();
    expect(calculations.map(({ id }: { id: string }) => id)).toContain('fineness-verdict');
    const described = (await get('/api/calculations/fineness-verdict')).json();
    expect(described.input.properties.finenessPerMille).toMatchObject({
      title: 'Fineness found',
      unit: '‰',
    });
    const run = await door.server.inject({
      method: 'POST',
      url: '/api/calculations/fineness-verdict',
      payload: described.example,
      headers,
    });
    expect(run.json()).toMatchObject({
      outcome: 'computed',
      output: { verdict: 'passes' },
      drawings: [{ kind: 'limit-rule' }],
    });
  });

  it('refuse bad input by field', async () => {
    const run = await door.server.inject({
      method: 'POST',
      url: '/api/calculations/fineness-verdict',
      payload: { finenessPerMille: 1200 },
      headers,
    });
    expect(run.statusCode).toBe(422);
    expect(run.json().problems[0]).toMatchObject({
      field: 'finenessPerMille',
      value: 1200,
      accepted: 'a fineness above 0 ‰ and at most 1000 ‰',
    });
  });
});
