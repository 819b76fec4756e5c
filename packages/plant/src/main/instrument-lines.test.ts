import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { connectBalance } from '../../simulation/balance/connect-balance.ts';
import { openSimulatedBalance } from '../../simulation/balance/open-simulated-balance.ts';
import { openPseudoTerminals } from '../../simulation/balance/pseudo-terminals.ts';
import { heron } from '../../simulation/demonstration/cast.ts';
import { found } from '../../simulation/demonstration/founding.ts';
import { Hand, type VirtualClock } from '../../simulation/demonstration/hand.ts';
import { demonstrationPassword } from '../../simulation/make-demonstration.ts';
import type { LineState } from '../ports/instrument-line.ts';
import { makePlantFolder, type OpenPlant, openPlant, plantFiles } from './plant.ts';
import { serverOf } from './serve.ts';

let folder = '';
let plant: OpenPlant;

/** The clock of the machine in the place of a clock that is moved on. */
const machineClock = {
  now: () => Date.now(),
  pass: () => {},
  reach: () => {},
} as unknown as VirtualClock;

beforeEach(async () => {
  folder = join(mkdtempSync(join(tmpdir(), 'cupel-lines-')), 'plant');
  makePlantFolder(folder, { plant: 'lines-plant', timeZone: 'Europe/Vienna' });
  plant = await openPlant(folder, { hashCost: { memoryKibibytes: 64, passes: 1 } });
  await found(new Hand(plant.recorder, machineClock), new Date().toISOString().slice(0, 10));
});
afterEach(async () => {
  await plant.close();
  rmSync(folder, { recursive: true });
});

/** Signs a person in; answers the headers that his requests carry. */
async function signIn(server: FastifyInstance, person: string) {
  const password = demonstrationPassword(person);
  await plant.accounts.setPassword(person, password);
  const signedIn = await server.inject({
    method: 'POST',
    url: '/api/sign-in',
    payload: { person, password },
  });
  const [cookie = ''] = String(signedIn.headers['set-cookie']).split(';');
  const session = await server.inject({ url: '/api/session', headers: { cookie } });
  return { cookie, 'x-cupel-token': String(session.json().token) };
}

it('brings a weighing from a balance on a pseudo-terminal into the journal, with its line beside it', async () => {
  const terminals = await openPseudoTerminals();
  const balance = await openSimulatedBalance({
    path: terminals.instrumentEnd,
    unit: 'g',
    divisionGrams: 0.1,
    capacityGrams: 30_000,
  });
  const server = await serverOf(plant);
  await connectBalance(plant.recorder, {
    author: 'orla',
    instrument: 'BAL-B1',
    end: { path: terminals.plantPath() },
  });
  const headers = await signIn(server, 'bettina');
  const post = (url: string, payload: object) =>
    server.inject({ method: 'POST', url, headers, payload });
  const state = async () => {
    const answer = await server.inject({ url: '/api/instruments/BAL-B1/line', headers });
    return answer.statusCode === 200 ? (answer.json() as LineState) : undefined;
  };
  await vi.waitFor(async () => expect((await state())?.state).toBe('connected'), 5000);

  balance.put(1234.5);
  const taken = (await post('/api/instruments/BAL-B1/read', {})).json();
  expect(taken).toMatchObject({
    instrument: 'BAL-B1',
    reading: { text: '1234.5', unit: 'g', typed: false, received: expect.any(String) },
  });
  const tally = (gross: object) => ({
    key: `tally-${JSON.stringify(gross).length}`,
    input: {
      place: 'put-up',
      lines: [{ pieceStandard: heron.pieceStandard, pieces: 0, gross, instrument: 'BAL-B1' }],
    },
  });
  const made = await post(
    '/api/commands/tally-place',
    tally({ ...taken.reading, text: '12345.0' }),
  );
  expect(made.json()).toMatchObject({ refusals: [{ refusal: 'ReceivedLineDiffers' }] });
  const recorded = (await post('/api/commands/tally-place', tally(taken.reading))).json();
  expect(recorded).toMatchObject({ outcome: 'recorded' });
  const [entry] = await plant.store.reader.lines(
    recorded.entries[0].number,
    recorded.entries[0].number + 1,
  );
  expect(JSON.parse(entry?.text ?? '{}').body.lines[0].gross).toEqual(taken.reading);
  const url = `/api/received-lines/${taken.reading.received}`;
  expect((await server.inject({ url, headers })).json()).toMatchObject({ raw: taken.raw });
  expect(readdirSync(join(folder, plantFiles.receivedLines))).toHaveLength(1);

  const off = { instrument: 'BAL-B1' };
  await plant.recorder.record({
    command: 'disconnect-instrument',
    input: off,
    author: 'orla',
    signed: true,
    idempotencyKey: 'off-its-line',
  });
  await vi.waitFor(async () => expect(await state()).toBeUndefined(), 5000);
  await server.close();
  await balance.close();
  await terminals.close();
});
