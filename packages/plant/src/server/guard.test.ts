import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { SqliteAccounts } from '../adapters/accounts.ts';
import { FolderAttachments } from '../adapters/attachments.ts';
import type { Station } from '../journal/station.ts';
import { startTrialServer, type TrialServer, trialPassword } from './trial-server.ts';

const folder = mkdtempSync(join(tmpdir(), 'guard-'));
let door: TrialServer;
let lines = '';

const printing: Station = {
  station: 'printing',
  title: 'Printing',
  kinds: [],
  books: [],
  commands: [],
  questions: [
    {
      question: 'broken',
      station: 'printing',
      input: { safeParse: () => ({ success: true, data: {} }) } as never,
      answer: async () => {
        throw new Error('row 17 of /secret/plant.sqlite is torn');
      },
    },
  ],
  refusals: {},
  papers: [
    {
      paper: 'label',
      station: 'printing',
      title: 'label',
      render: async (_sources, id) =>
        id === 'none'
          ? undefined
          : {
              mediaType: 'image/svg+xml',
              fileName: `label "${id}".svg`,
              bytes: Buffer.from('<svg/>'),
            },
    },
    {
      paper: 'book-sheet',
      station: 'printing',
      title: 'book sheet',
      readableBy: ['auditor'],
      render: async () => {
        throw new Error('was rendered for somebody who may not read it');
      },
    },
  ],
};

beforeAll(async () => {
  mkdirSync(join(folder, 'workbench', 'assets'), { recursive: true });
  writeFileSync(join(folder, 'workbench', 'index.html'), '<!doctype html><title>Cupel</title>');
  writeFileSync(join(folder, 'workbench', 'assets', 'index-1.js'), 'export {};');
  const accounts = new SqliteAccounts({
    path: ':memory:',
    clock: { now: () => Date.now() },
    cost: { memoryKibibytes: 64, passes: 1 },
  });
  await accounts.setPassword('chief', trialPassword);
  door = await startTrialServer({
    accounts,
    attachments: new FolderAttachments(join(folder, 'attachments')),
    stations: [printing],
    more: { workbenchFolder: join(folder, 'workbench') },
  });
});
afterAll(async () => {
  await door.server.close();
  rmSync(folder, { recursive: true });
});

const get = (url: string, headers: Record<string, string> = {}) =>
  door.server.inject({ url, headers });

describe('the door', () => {
  const guarded = [
    '/api/session',
    '/api/questions/docket',
    '/api/calculations',
    '/api/calculations/fine-mass',
    '/api/papers/label/1',
    '/api/attachments/0000000000000000000000000000000000000000000000000000000000000000',
    '/api/events',
  ];

  it('lets nobody read without a session', async () => {
    for (const url of guarded) {
      const answer = await get(url);
      expect([url, answer.statusCode]).toEqual([url, 401]);
    }
  });

  it('knows a guarded address in every spelling', async () => {
    for (const url of [
      '/%61pi/papers/label/1',
      '/api/%70apers/label/1',
      '/%61%70%69/calculations',
      '//api/calculations',
      '/api/papers/label/1?x=/api/health',
      '/api/papers/label/1#/api/health',
    ]) {
      const answer = await get(url);
      expect([url, answer.body.includes('svg') || answer.body.includes('fine-mass')]).toEqual([
        url,
        false,
      ]);
    }
  });

  it('takes no made-up session', async () => {
    expect((await get('/api/session', { cookie: 'cupel-session=made-up' })).statusCode).toBe(401);
  });

  it('takes no change without the token of its own session', async () => {
    const headers = await door.signIn('chief');
    const other = await door.signIn('chief');
    const send = (given: Record<string, string>) =>
      door.server.inject({ method: 'POST', url: '/api/sign-out', payload: {}, headers: given });
    expect((await send({ cookie: headers.cookie })).statusCode).toBe(403);
    expect(
      (await send({ cookie: headers.cookie, 'x-cupel-token': other['x-cupel-token'] })).statusCode,
    ).toBe(403);
    expect((await send({ ...headers, 'sec-fetch-site': 'cross-site' })).statusCode).toBe(403);
    expect((await send({ ...headers, 'sec-fetch-site': 'same-origin' })).statusCode).toBe(200);
  });

  it('takes no sign-in that another site’s page sends', async () => {
    const payload = { person: 'chief', password: trialPassword };
    const answer = await door.server.inject({
      method: 'POST',
      url: '/api/sign-in',
      payload,
      headers: { 'sec-fetch-site': 'cross-site' },
    });
    expect(answer.statusCode).toBe(403);
  });

  it('sends a strict content security policy and no sign of what it runs on', async () => {
    const answer = await get('/');
    const policy = String(answer.headers['content-security-policy']);
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("script-src 'self'");
    expect(policy).toContain("frame-ancestors 'none'");
    expect(policy).not.toContain('unsafe');
    expect(answer.headers['x-content-type-options']).toBe('nosniff');
    expect(answer.headers['referrer-policy']).toBe('no-referrer');
    expect(answer.headers['x-powered-by']).toBeUndefined();
    expect(answer.headers.server).toBeUndefined();
  });

  it('keeps answers of the interface out of caches', async () => {
    const headers = await door.signIn('chief');
    expect((await get('/api/questions/docket', headers)).headers['cache-control']).toBe('no-store');
  });
});

describe('errors', () => {
  it('tell a person nothing of the inside', async () => {
    const headers = await door.signIn('chief');
    const answer = await get('/api/questions/broken', headers);
    expect(answer.statusCode).toBe(500);
    expect(answer.body).not.toContain('secret');
    expect(answer.body).not.toContain('stack');
    expect(answer.json().message).toContain('made an error');
  });

  it('answer bad bodies and bodies that are too great without breaking', async () => {
    const headers = await door.signIn('chief');
    const send = (payload: string) =>
      door.server.inject({
        method: 'POST',
        url: '/api/calculations/fine-mass',
        payload,
        headers: { ...headers, 'content-type': 'application/json' },
      });
    expect((await send('{"a":')).statusCode).toBe(400);
    expect((await send(`"${'x'.repeat(3 * 1024 * 1024)}"`)).statusCode).toBe(413);
    expect((await send('{"__proto__":{"polluted":true}}')).statusCode).toBe(400);
    expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
  });
});

describe('logs', () => {
  it('hold no password, cookie or token', async () => {
    const write = process.stdout.write.bind(process.stdout);
    process.stdout.write = ((chunk: string | Uint8Array) => {
      lines += String(chunk);
      return true;
    }) as typeof process.stdout.write;
    const accounts = new SqliteAccounts({
      path: ':memory:',
      clock: { now: () => Date.now() },
      cost: { memoryKibibytes: 64, passes: 1 },
    });
    await accounts.setPassword('chief', trialPassword);
    const logging = await startTrialServer({
      accounts,
      attachments: new FolderAttachments(folder),
      more: { log: 'requests' },
    });
    let headers: Awaited<ReturnType<TrialServer['signIn']>>;
    try {
      headers = await logging.signIn('chief');
      await logging.server.inject({ method: 'POST', url: '/api/sign-out', payload: {}, headers });
      await logging.server.close();
    } finally {
      process.stdout.write = write;
    }
    expect(lines).toContain('/api/sign-in');
    for (const secret of [trialPassword, headers.cookie.split('=')[1], headers['x-cupel-token']]) {
      expect(lines).not.toContain(secret);
    }
  });
});

describe('the workbench', () => {
  it('is served with names of files kept for long and its page asked for each time', async () => {
    expect((await get('/assets/index-1.js')).headers['cache-control']).toContain('immutable');
    const page = await get('/lineage/melt/4417');
    expect(page.body).toContain('<title>Cupel</title>');
    expect(page.headers['cache-control']).toBe('no-cache');
  });

  it('answers nothing for files that are not there and paths that climb out', async () => {
    expect((await get('/assets/gone.js')).statusCode).toBe(404);
    expect((await get('/assets/%2e%2e/%2e%2e/attachments')).body).not.toContain('attachments/');
    expect((await get('/api/nothing')).statusCode).toBe(404);
  });
});

describe('papers', () => {
  it('come with their type, a safe file name and a policy under which nothing runs', async () => {
    const headers = await door.signIn('chief');
    const answer = await get('/api/papers/label/B%2F1', headers);
    expect(answer.statusCode).toBe(200);
    expect(answer.headers['content-type']).toBe('image/svg+xml');
    expect(answer.headers['content-disposition']).toBe('inline; filename="label__B_1_.svg"');
    expect(answer.headers['content-security-policy']).toContain("default-src 'none'");
    expect(answer.headers['content-security-policy']).toContain('sandbox');
    expect((await get('/api/papers/label/none', headers)).statusCode).toBe(404);
    expect((await get('/api/papers/poster/1', headers)).statusCode).toBe(404);
  });

  it('are read only by the roles that may', async () => {
    const headers = await door.signIn('chief');
    const answer = await get('/api/papers/book-sheet/1', headers);
    expect(answer.statusCode).toBe(403);
    expect(answer.json().message).toContain('auditor');
  });
});

describe('attachments', () => {
  const picture = Buffer.from('89504e470d0a1a0a0000', 'hex');
  const upload = async (bytes: Buffer, headers: Record<string, string>) => {
    const edge = 'edge-of-the-part';
    const head = `--${edge}\r\ncontent-disposition: form-data; name="file"; filename="../../x.svg"\r\ncontent-type: image/svg+xml\r\n\r\n`;
    return door.server.inject({
      method: 'POST',
      url: '/api/attachments',
      payload: Buffer.concat([Buffer.from(head), bytes, Buffer.from(`\r\n--${edge}--\r\n`)]),
      headers: { ...headers, 'content-type': `multipart/form-data; boundary=${edge}` },
    });
  };

  it('are kept by their bytes, whatever they call themselves, and handed out so that nothing runs', async () => {
    const headers = await door.signIn('chief');
    const kept = await upload(picture, headers);
    expect(kept.json().mediaType).toBe('image/png');
    const found = await get(`/api/attachments/${kept.json().sha256}`, headers);
    expect(found.rawPayload.equals(picture)).toBe(true);
    expect(found.headers['content-type']).toBe('image/png');
    expect(found.headers['content-security-policy']).toBe("default-src 'none'; sandbox");
  });

  it('of other types, too great or missing are refused with what is accepted', async () => {
    const headers = await door.signIn('chief');
    const drawing = await upload(Buffer.from('<svg onload="alert(1)"/>'), headers);
    expect(drawing.statusCode).toBe(422);
    expect(drawing.json().refusals[0]).toMatchObject({
      refusal: 'FileNotAccepted',
      message: expect.stringContaining('image/jpeg'),
    });
    const great = await upload(Buffer.alloc(17 * 1024 * 1024), headers);
    expect(great.json().refusals[0].message).toContain('larger than');
    const none = await door.server.inject({
      method: 'POST',
      url: '/api/attachments',
      payload: {},
      headers,
    });
    expect(none.json().refusals[0].message).toContain('No file');
    const torn = await door.server.inject({
      method: 'POST',
      url: '/api/attachments',
      payload: 'no parts',
      headers: { ...headers, 'content-type': 'multipart/form-data' },
    });
    expect(torn.statusCode).toBe(422);
    expect(torn.json().refusals[0].message).toContain('cannot be read');
    expect((await upload(picture, { cookie: headers.cookie })).statusCode).toBe(403);
  });
});
