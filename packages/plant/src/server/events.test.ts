import { type IncomingMessage, get as request } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { SqliteAccounts } from '../adapters/accounts.ts';
import { FolderAttachments } from '../adapters/attachments.ts';
import { startTrialServer, type TrialServer, trialPassword } from './trial-server.ts';

let now = 0;
let door: TrialServer;
let headers: Record<string, string>;

beforeEach(async () => {
  vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] });
  now = Date.parse('2026-03-02T07:00:00Z');
  const accounts = new SqliteAccounts({
    path: ':memory:',
    clock: { now: () => now },
    cost: { memoryKibibytes: 64, passes: 1 },
  });
  await accounts.setPassword('custodian', trialPassword);
  door = await startTrialServer({ accounts, attachments: new FolderAttachments('/nowhere') });
  await door.server.listen({ port: 0, host: '127.0.0.1' });
  headers = await door.signIn('custodian');
});
afterEach(async () => {
  await door.server.close();
  vi.useRealTimers();
});

/** Opens the stream and gathers what comes. */
async function listen(): Promise<{
  response: IncomingMessage;
  text: () => string;
  ended: Promise<void>;
}> {
  const { port } = door.server.server.address() as AddressInfo;
  const response = await new Promise<IncomingMessage>((resolve, reject) => {
    request({ port, path: '/api/events', headers }, resolve).on('error', reject);
  });
  let text = '';
  response.setEncoding('utf8');
  response.on('data', (chunk) => {
    text += chunk;
  });
  const ended = new Promise<void>((resolve) => response.on('end', resolve));
  return { response, text: () => text, ended };
}

const move = {
  drum: 'D-1',
  melt: 'M-1',
  metal: 'gold',
  from: 'with-supplier',
  to: 'receiving',
  pieces: 1,
  grossMicrograms: 1,
  words: '',
};

describe('the stream of events', () => {
  it('tells every listener what has been recorded, by number, kind and station only', async () => {
    const [first, second] = [await listen(), await listen()];
    expect(first.response.headers['content-type']).toBe('text/event-stream');
    await door.trial.do('trial-move-pieces', { moves: [move, move] }, 'custodian');
    const told = {
      entries: [
        { number: 1, kind: 'TrialPiecesMoved', station: 'trial' },
        { number: 2, kind: 'TrialPiecesMoved', station: 'trial' },
      ],
    };
    for (const { text } of [first, second]) {
      await vi.waitFor(() => expect(text()).toContain(`data: ${JSON.stringify(told)}\n\n`));
    }
  });

  it('beats while the session lasts and ends with it', async () => {
    const stream = await listen();
    vi.advanceTimersByTime(20_000);
    await vi.waitFor(() => expect(stream.text()).toContain(': still here'));
    now += 31 * 60_000;
    vi.advanceTimersByTime(20_000);
    await stream.ended;
  });

  it('closes the oldest of too many streams of one session', async () => {
    const streams: Awaited<ReturnType<typeof listen>>[] = [];
    for (let count = 0; count < 13; count += 1) streams.push(await listen());
    await streams[0]?.ended;
    await door.trial.do('trial-move-pieces', { moves: [move] }, 'custodian');
    await vi.waitFor(() => expect(streams[12]?.text()).toContain('"number":1'));
  });
});
