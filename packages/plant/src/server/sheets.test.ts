import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { SqliteAccounts } from '../adapters/accounts.ts';
import { FolderAttachments } from '../adapters/attachments.ts';
import { SqliteKeptSheets } from '../adapters/kept-sheets.ts';
import { startTrialServer, type TrialServer, trialPassword } from './trial-server.ts';

const clock = { now: () => Date.parse('2026-03-02T07:00:00.000Z') };
let door: TrialServer;
let sheets: SqliteKeptSheets;

beforeEach(async () => {
  const accounts = new SqliteAccounts({
    path: ':memory:',
    clock: { now: () => Date.now() },
    cost: { memoryKibibytes: 64, passes: 1 },
  });
  for (const person of ['custodian', 'storeman', 'auditor'])
    await accounts.setPassword(person, trialPassword);
  sheets = new SqliteKeptSheets({ path: ':memory:', clock });
  const attachments = new FolderAttachments('/nowhere');
  door = await startTrialServer({ accounts, attachments, more: { sheets } });
});
afterEach(async () => {
  await door.server.close();
  sheets.close();
});

type Headers = Record<string, string>;
const path = (thing: string, command = 'trial-move-pieces', person = 'custodian') =>
  `/api/sheets/${command}?${new URLSearchParams({ person, thing })}`;
const get = (headers: Headers, url: string) => door.server.inject({ url, headers });
const put = (headers: Headers, url: string, payload: object) =>
  door.server.inject({ method: 'PUT', url, payload, headers });

const value = { drum: 'D-1', pieces: '200' };

describe('half-filled sheets', () => {
  it('are there on another device of the same person, and for nobody else', async () => {
    const bench = await door.signIn('custodian');
    expect((await get(bench, path('M-1/7 0'))).json()).toEqual({ sheet: null });
    const kept = await put(bench, path('M-1/7 0'), { revision: 0, value });
    expect(kept.json()).toEqual({ revision: 1, keptAt: '2026-03-02T07:00:00.000Z' });
    const tablet = await door.signIn('custodian');
    expect((await get(tablet, path('M-1/7 0'))).json().sheet).toMatchObject({ value, revision: 1 });
    const other = await door.signIn('storeman');
    const own = path('M-1/7 0', 'trial-move-pieces', 'storeman');
    expect((await get(other, own)).json()).toEqual({ sheet: null });
    // A page that outlived the session of its person neither reads nor keeps.
    expect((await get(other, path('M-1/7 0'))).statusCode).toBe(403);
  });

  it('are listed for whoever may do the same, without what they hold', async () => {
    const bench = await door.signIn('custodian');
    await put(bench, path('M-1'), { revision: 0, value });
    const line = {
      person: 'custodian',
      name: 'custodian',
      command: 'trial-move-pieces',
      thing: 'M-1',
      keptAt: '2026-03-02T07:00:00.000Z',
    };
    expect((await get(bench, '/api/sheets')).json().sheets).toMatchObject([
      { ...line, isOwn: true },
    ]);
    const other = await door.signIn('storeman');
    const [listed] = (await get(other, '/api/sheets')).json().sheets;
    expect(listed).toMatchObject({ ...line, isOwn: false });
    expect(listed).not.toHaveProperty('value');
    expect((await get(await door.signIn('auditor'), '/api/sheets')).json()).toEqual({ sheets: [] });
  });

  it('are not overwritten by whoever does not know how they stand', async () => {
    const headers = await door.signIn('custodian');
    await put(headers, path('M-1'), { revision: 0, value });
    const stale = await put(headers, path('M-1'), { revision: 0, value: { drum: 'D-2' } });
    expect(stale.statusCode).toBe(409);
    expect(stale.json().sheet).toMatchObject({ value, revision: 1 });
  });

  it('are gone once they are recorded', async () => {
    const headers = await door.signIn('custodian');
    await put(headers, path('M-1'), { revision: 0, value });
    const gone = await door.server.inject({ method: 'DELETE', url: path('M-1'), headers });
    expect(gone.statusCode).toBe(200);
    expect((await get(headers, path('M-1'))).json()).toEqual({ sheet: null });
  });

  it('are refused where they are too large', async () => {
    const headers = await door.signIn('custodian');
    const large = { revision: 0, value: { words: 'x'.repeat(600_000) } };
    const answer = await put(headers, path('M-1'), large);
    expect(answer.statusCode).toBe(422);
    expect(answer.json().refusals[0]).toMatchObject({ refusal: 'SheetTooLarge' });
  });

  it('are kept only of commands that the person may ask for', async () => {
    const custodian = await door.signIn('custodian');
    const auditor = await door.signIn('auditor');
    const sheet = { revision: 0, value };
    const auditors = path('M-1', 'trial-move-pieces', 'auditor');
    expect((await put(auditor, auditors, sheet)).statusCode).toBe(403);
    expect((await put(custodian, path('M-1', 'no-such-command'), sheet)).statusCode).toBe(404);
    expect((await put(custodian, path(''), sheet)).statusCode).toBe(400);
    expect((await put(custodian, path('M-1'), { value })).statusCode).toBe(400);
    expect((await put(custodian, path('M-1'), { revision: 0, value: 'text' })).statusCode).toBe(
      400,
    );
  });

  it('let nobody in without a session, and take no change without its token', async () => {
    expect((await get({}, path('M-1'))).statusCode).toBe(401);
    const { cookie } = await door.signIn('custodian');
    expect((await put({ cookie }, path('M-1'), { revision: 0, value })).statusCode).toBe(403);
    expect((await put({}, path('M-1'), { revision: 0, value })).statusCode).toBe(401);
  });
});
