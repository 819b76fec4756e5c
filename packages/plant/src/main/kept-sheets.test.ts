import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, it } from 'vitest';
import { founderId } from './founder.ts';
import { makePlantFolder, openPlant } from './plant.ts';
import { serverOf } from './serve.ts';

const program = fileURLToPath(new URL('../../bin/cupel.mjs', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'cupel-sheets-'));
const data = join(folder, 'plant');
let child: ChildProcess | undefined;
afterAll(() => {
  child?.kill('SIGKILL');
  rmSync(folder, { recursive: true, force: true });
});

const password = 'three drums of blanks';
const hashCost = { memoryKibibytes: 64, passes: 1 };

/** Founds a plant whose chief assayer assays as well. */
async function found(): Promise<void> {
  makePlantFolder(data, { plant: 'alder-mill', timeZone: 'UTC' });
  const plant = await openPlant(data, { hashCost });
  const record = (command: string, input: object, author: string) =>
    plant.recorder.record({ command, input, author, signed: true, idempotencyKey: command });
  const firstPerson = { person: 'odile', name: 'Odile Brandt' };
  const founding = { title: 'Alder Mill', timeZone: 'UTC', firstPerson };
  await record('found-plant', founding, founderId);
  const roles = ['chief assayer', 'assayer'];
  await record('change-person', { ...firstPerson, roles, methods: [], active: true }, 'odile');
  await plant.accounts.setPassword('odile', password);
  await plant.close();
}

/** Serves the plant in a process of its own; answers where. */
function serve(): Promise<string> {
  const words = ['--no-warnings', program, 'serve', '--data', data, '--port', '0'];
  const server = spawn(process.execPath, words);
  child = server;
  return new Promise((resolve, reject) => {
    server.stdout.on('data', (text) => {
      const [at] = /http:\/\/127\.0\.0\.1:\d+/.exec(String(text)) ?? [];
      if (at) resolve(at);
    });
    server.on('close', () => reject(new Error('the server did not start')));
  });
}

async function kill(): Promise<void> {
  const ended = new Promise((resolve) => child?.once('close', resolve));
  child?.kill('SIGKILL');
  await ended;
}

type Ask = (path: string, options?: { method: string; body: object }) => Promise<Response>;

/** Signs in on a new device; answers how it asks. */
async function device(url: string): Promise<Ask> {
  const headers: Record<string, string> = { 'content-type': 'application/json' };
  const ask: Ask = (path, options) =>
    fetch(`${url}${path}`, {
      headers,
      ...(options ? { method: options.method, body: JSON.stringify(options.body) } : {}),
    });
  const body = { person: 'odile', password };
  const signedIn = await ask('/api/sign-in', { method: 'POST', body });
  headers['cookie'] = String(signedIn.headers.get('set-cookie')).split(';')[0] ?? '';
  const session = (await (await ask('/api/session')).json()) as { token: string };
  headers['x-cupel-token'] = session.token;
  return ask;
}

it('is there on return after the server was killed, also on another device', async () => {
  await found();
  const bench = await device(await serve());
  // A cupellation is half filled: a proof weighed in, its cornet hours away.
  const value = { assayRun: 'R-1', proofs: [{ label: 'P1', goldTaken: { text: '229.200' } }] };
  const path = '/api/sheets/record-cupellation?person=odile&thing=M-1%200';
  const kept = await bench(path, { method: 'PUT', body: { revision: 0, value } });
  expect(kept.status).toBe(200);
  await kill();

  const plant = await openPlant(data, { hashCost });
  const server = await serverOf(plant);
  try {
    const tablet = await device(await server.listen({ host: '127.0.0.1', port: 0 }));
    const { sheet } = (await (await tablet(path)).json()) as { sheet: object };
    expect(sheet).toMatchObject({ value, revision: 1 });
  } finally {
    await server.close();
    await plant.close();
  }
}, 60_000);
