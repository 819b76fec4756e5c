import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { SqliteAccounts } from '../adapters/accounts.ts';
import { FolderAttachments } from '../adapters/attachments.ts';
import { startTrialServer, type TrialServer, trialPassword } from './trial-server.ts';

const minute = 60_000;
let now = 0;
let accounts: SqliteAccounts;
let door: TrialServer;

beforeEach(async () => {
  now = Date.parse('2026-03-02T07:00:00Z');
  accounts = new SqliteAccounts({
    path: ':memory:',
    clock: { now: () => now },
    cost: { memoryKibibytes: 64, passes: 1 },
  });
  for (const person of ['chief', 'custodian', 'auditor'])
    await accounts.setPassword(person, trialPassword);
  door = await startTrialServer({ accounts, attachments: new FolderAttachments('/nowhere') });
});
afterEach(() => door.server.close());

const post = (url: string, payload: object, headers: Record<string, string> = {}) =>
  door.server.inject({ method: 'POST', url, payload, headers });
const get = (url: string, headers: Record<string, string> = {}) =>
  door.server.inject({ url, headers });

describe('signing in', () => {
  it('gives a cookie that scripts cannot read and other sites cannot send', async () => {
    const answer = await post('/api/sign-in', { person: 'chief', password: trialPassword });
    expect(answer.statusCode).toBe(200);
    const cookie = String(answer.headers['set-cookie']);
    expect(cookie).toMatch(/^cupel-session=[A-Za-z0-9_-]{43}; /);
    for (const part of ['HttpOnly', 'SameSite=Strict', 'Path=/']) expect(cookie).toContain(part);
    expect(cookie).not.toContain('Secure');
  });

  it('gives a cookie that goes over HTTPS only, where the plant is behind it', async () => {
    const secure = await startTrialServer({
      accounts,
      attachments: new FolderAttachments('/nowhere'),
      more: { isBehindHttps: true },
    });
    const answer = await secure.server.inject({
      method: 'POST',
      url: '/api/sign-in',
      payload: { person: 'chief', password: trialPassword },
    });
    expect(String(answer.headers['set-cookie'])).toContain('Secure');
    expect(answer.headers['strict-transport-security']).toContain('max-age=31536000');
    await secure.server.close();
  });

  it('tells the person, his commands and the token for changes', async () => {
    const headers = await door.signIn('auditor');
    const session = (await get('/api/session', headers)).json();
    expect(session.person).toEqual({ person: 'auditor', name: 'auditor', roles: ['auditor'] });
    expect(session.plantTitle).toBe('Plant on trial');
    expect(session.commands['trial-close-count']).toEqual({
      title: 'Close the count',
      signature: 'author and witness',
      roles: ['custodian', 'chief assayer'],
      witnessRoles: ['custodian', 'chief assayer'],
      allowed: false,
    });
  });

  it('answers alike for a wrong password, an unknown name and someone who has left', async () => {
    await accounts.setPassword('departed', trialPassword);
    const answers = [
      await post('/api/sign-in', { person: 'chief', password: 'wrong wrong wrong' }),
      await post('/api/sign-in', { person: 'nobody', password: trialPassword }),
      await post('/api/sign-in', { person: 'departed', password: trialPassword }),
      await post('/api/sign-in', { person: 'chief' }),
    ];
    for (const answer of answers) {
      expect(answer.statusCode).toBe(422);
      expect(answer.headers['set-cookie']).toBeUndefined();
      expect(answer.json().refusals[0]).toMatchObject({
        refusal: 'SignInNotGood',
        message: 'This name and this password do not belong together.',
      });
    }
  });

  it('makes a person wait after many wrong passwords, also with the right one', async () => {
    for (let attempt = 0; attempt < 5; attempt += 1) {
      await post('/api/sign-in', { person: 'chief', password: 'wrong wrong wrong' });
    }
    const waits = await post('/api/sign-in', { person: 'chief', password: trialPassword });
    expect(waits.json().refusals[0]).toMatchObject({
      refusal: 'TooManyAttempts',
      message: expect.stringContaining('2 s'),
    });
    now += 2000;
    expect(
      (await post('/api/sign-in', { person: 'chief', password: trialPassword })).statusCode,
    ).toBe(200);
  });

  it('takes twenty attempts a minute from one address', async () => {
    const codes = [];
    for (let attempt = 0; attempt < 21; attempt += 1) {
      codes.push(
        (await post('/api/sign-in', { person: `guess-${attempt}`, password: 'guess guess guess' }))
          .statusCode,
      );
    }
    expect(codes.slice(0, 20).every((code) => code === 422)).toBe(true);
    expect(codes[20]).toBe(429);
  });

  it('ends by signing out, by idling and after twelve hours', async () => {
    const headers = await door.signIn('chief');
    await post('/api/sign-out', {}, headers);
    expect((await get('/api/session', headers)).statusCode).toBe(401);

    const idle = await door.signIn('chief');
    now += 31 * minute;
    expect((await get('/api/session', idle)).statusCode).toBe(401);

    const busy = { ...(await door.signIn('chief')), 'x-cupel-hand': 'at work' };
    for (let step = 0; step < 35; step += 1) {
      now += 20 * minute;
      expect((await get('/api/session', busy)).statusCode).toBe(200);
    }
    now += 20 * minute;
    expect((await get('/api/session', busy)).statusCode).toBe(401);
  });

  it('does not stay awake by questions that no hand asks', async () => {
    const headers = await door.signIn('chief');
    for (let step = 0; step < 3; step += 1) {
      now += 10 * minute;
      await get('/api/questions/docket', headers);
    }
    expect((await get('/api/session', headers)).statusCode).toBe(401);
  });
});

describe('one-time codes', () => {
  const give = (headers: Record<string, string>, password = trialPassword) =>
    post('/api/one-time-codes', { person: 'storeman', signature: { password } }, headers);

  it('are given by the chief assayer, who signs, and open the first session', async () => {
    const { code } = (await give(await door.signIn('chief'))).json();
    const first = await post('/api/first-sign-in', {
      person: 'storeman',
      code,
      password: 'sixteen tubes a box',
    });
    expect(first.statusCode).toBe(200);
    const again = await post('/api/first-sign-in', {
      person: 'storeman',
      code,
      password: 'sixteen tubes a box',
    });
    expect(again.json().refusals[0].refusal).toBe('SignInNotGood');
    expect(
      (await post('/api/sign-in', { person: 'storeman', password: 'sixteen tubes a box' }))
        .statusCode,
    ).toBe(200);
  });

  it('are given by nobody else, for nobody unknown, and not without the right signature', async () => {
    expect((await give(await door.signIn('custodian'))).statusCode).toBe(403);
    const chief = await door.signIn('chief');
    expect((await give(chief, 'wrong wrong wrong')).json().refusals[0].refusal).toBe(
      'SignatureNotGood',
    );
    const unknown = await post(
      '/api/one-time-codes',
      { person: 'nobody', signature: { password: trialPassword } },
      chief,
    );
    expect(unknown.statusCode).toBe(404);
  });

  it('set no weak password', async () => {
    const { code } = (await give(await door.signIn('chief'))).json();
    const weak = await post('/api/first-sign-in', {
      person: 'storeman',
      code,
      password: 'storeman',
    });
    expect(weak.json().refusals[0]).toMatchObject({
      refusal: 'PasswordTooWeak',
      field: 'password',
    });
  });
});

describe('changing the password', () => {
  it('needs the present one, and ends the other sessions of the person', async () => {
    const [here, elsewhere] = [await door.signIn('chief'), await door.signIn('chief')];
    const wrong = await post(
      '/api/change-password',
      { password: 'wrong wrong wrong', newPassword: 'another good password' },
      here,
    );
    expect(wrong.json().refusals[0].refusal).toBe('SignatureNotGood');
    const changed = await post(
      '/api/change-password',
      { password: trialPassword, newPassword: 'another good password' },
      here,
    );
    expect(changed.statusCode).toBe(200);
    expect((await get('/api/session', here)).statusCode).toBe(200);
    expect((await get('/api/session', elsewhere)).statusCode).toBe(401);
  });
});
