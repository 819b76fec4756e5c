import { type IncomingMessage, get as request } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { z } from 'zod';
import { SqliteAccounts } from '../adapters/accounts.ts';
import { FolderAttachments } from '../adapters/attachments.ts';
import { massReadingSchema } from '../journal/reading.ts';
import { defineCommand, type Station } from '../journal/station.ts';
import type {
  HeardLine,
  InstrumentLines,
  LineNews,
  LineState,
  NoReading,
  ReceivedLine,
  StreamedCurve,
  Taken,
} from '../ports/instrument-line.ts';
import { startTrialServer, type TrialServer, trialPassword } from './trial-server.ts';

const line: ReceivedLine = {
  received: 'a'.repeat(64),
  instrument: 'BAL-1',
  instant: '2026-03-02T07:00:00.000Z',
  raw: 'ST,GS,+    250.01 mg',
  text: '250.01',
  unit: 'mg',
  net: false,
};
const other: ReceivedLine = { ...line, received: 'b'.repeat(64), instrument: 'BAL-2' };
const heard: HeardLine = {
  instant: '2026-03-02T07:00:00.000Z',
  raw: 'XX  250.01',
  decoded: { says: 'not understood', why: 'XX is no status that is set' },
};
const state: LineState = {
  instrument: 'BAL-1',
  title: 'Assay balance',
  measures: 'mass',
  state: 'connected',
  since: '2026-03-02T06:00:00.000Z',
  why: null,
  silentSince: '2026-03-02T06:50:00.000Z',
  heard: [heard],
  canBeAsked: true,
  sendsAllTheTime: false,
};

const streamed: StreamedCurve = {
  begun: '2026-03-02T07:00:00.000Z',
  lastAt: '2026-03-02T07:01:00.000Z',
  potentialUnit: 'mV',
  points: [{ volume: '0.500', potential: '212.4' }],
  gap: null,
};

/** Lines that answer what the test lays out. */
class LaidOutLines implements InstrumentLines {
  taken: Taken = { taken: true, line };
  limit = 0;
  tell: (news: LineNews) => void = () => {};
  states = () => [state];
  state = (instrument: string) => (instrument === 'BAL-1' ? state : undefined);
  curves = (instrument: string) => (instrument === 'BUR-1' ? [streamed] : undefined);
  onNews(listener: (news: LineNews) => void) {
    this.tell = listener;
    return () => {
      this.tell = () => {};
    };
  }
  async take(instrument: string, limit: number) {
    this.limit = limit;
    return instrument === 'BAL-1' ? this.taken : undefined;
  }
  async received(hash: string) {
    return [line, other].find(({ received }) => received === hash);
  }
}

const reading = massReadingSchema.nullish();

/** A station whose one command takes readings in every place where inputs hold them. */
const weighing: Station = {
  station: 'weighing',
  title: 'Weighing on trial',
  kinds: [],
  books: [],
  questions: [],
  refusals: {},
  commands: [
    defineCommand({
      command: 'trial-weigh',
      station: 'weighing',
      title: 'Weigh',
      input: z.strictObject({
        instrument: z.string().optional(),
        gross: reading,
        lines: z.array(z.strictObject({ balance: z.string(), mass: reading })).optional(),
        instruments: z.strictObject({ gross: z.string() }).optional(),
      }),
      roles: ['custodian'],
      signature: 'none',
      facts: async () => ({}),
      decide: () => ({ entries: [] }),
    }),
  ],
};

const measures = async (instrument: string) =>
  instrument.startsWith('BAL') ? ('mass' as const) : undefined;

let door: TrialServer;
let lines: LaidOutLines;
let headers: Record<string, string>;

beforeEach(async () => {
  const accounts = new SqliteAccounts({
    path: ':memory:',
    clock: { now: () => Date.parse('2026-03-02T07:00:00Z') },
    cost: { memoryKibibytes: 64, passes: 1 },
  });
  await accounts.setPassword('custodian', trialPassword);
  lines = new LaidOutLines();
  door = await startTrialServer({
    accounts,
    attachments: new FolderAttachments('/nowhere'),
    stations: [weighing],
    more: { instrumentLines: lines, measures },
  });
  headers = await door.signIn('custodian');
});
afterEach(() => door.server.close());

const read = (instrument: string, payload: object = {}, own = headers) =>
  door.server.inject({
    method: 'POST',
    url: `/api/instruments/${instrument}/read`,
    headers: own,
    payload,
  });

let keys = 0;
async function weigh(input: object) {
  keys += 1;
  const answer = await door.server.inject({
    method: 'POST',
    url: '/api/commands/trial-weigh',
    headers,
    payload: { key: `key-of-weighing-${keys}`, input },
  });
  return answer.json();
}

const sent = { text: '250.01', unit: 'mg', typed: false, received: line.received };

describe('a reading that is asked for', () => {
  it('is given with the line that it came in', async () => {
    const answer = await read('BAL-1');
    expect(answer.statusCode).toBe(200);
    expect(answer.json()).toEqual({
      reading: sent,
      instrument: 'BAL-1',
      net: false,
      raw: line.raw,
    });
    expect(lines.limit).toBe(5000);
    await read('BAL-1', { limitMilliseconds: 800 });
    expect(lines.limit).toBe(800);
  });

  it.each<[NoReading, string, string]>([
    ['not connected', 'InstrumentNotConnected', 'The line of Assay balance is lost since'],
    ['busy', 'InstrumentBusy', 'Somebody else waits'],
    [
      'silent',
      'InstrumentSilent',
      'sent nothing within 5 s; its last line came at 2026-03-02T06:50',
    ],
    ['unstable', 'InstrumentUnstable', 'did not become stable within 5 s; it sent “XX  250.01”.'],
    ['overload', 'InstrumentOverloaded', 'is out of its range'],
    ['not understood', 'LineNotUnderstood', 'not understood: XX is no status that is set.'],
    ['unchanged', 'ReadingUnchanged', 'nothing but “XX  250.01” since its last reading'],
  ])('is refused when the line is %s: %s', async (because, refusal, words) => {
    lines.taken = { taken: false, because, heard, state };
    const answer = await read('BAL-1');
    expect(answer.statusCode).toBe(422);
    expect(answer.json()).toMatchObject({
      outcome: 'refused',
      refusals: [{ refusal, message: expect.stringContaining(words) }],
    });
  });

  it('needs an instrument on a line, a fitting limit, and somebody who is signed in', async () => {
    expect((await read('BAL-9')).statusCode).toBe(404);
    expect((await read('BAL-1', { limitMilliseconds: 1 })).statusCode).toBe(400);
    expect((await read('BAL-1', {}, {})).statusCode).toBe(401);
    expect((await read('BAL-1', {}, { cookie: headers['cookie'] ?? '' })).statusCode).toBe(403);
    for (const url of [
      '/api/instrument-lines',
      '/api/instruments/BAL-1/line',
      '/api/instruments/BUR-1/curves',
    ]) {
      expect((await door.server.inject({ url })).statusCode, url).toBe(401);
    }
  });
});

describe('the state of lines', () => {
  it('is told of all and of one', async () => {
    const get = (url: string) => door.server.inject({ url, headers });
    expect((await get('/api/instrument-lines')).json()).toEqual({ lines: [state] });
    expect((await get('/api/instruments/BAL-1/line')).json()).toEqual(state);
    expect((await get('/api/instruments/BAL-9/line')).statusCode).toBe(404);
    expect((await get('/api/instruments/BUR-1/curves')).json()).toEqual({ curves: [streamed] });
    expect((await get('/api/instruments/BAL-9/curves')).statusCode).toBe(404);
    expect((await get(`/api/received-lines/${line.received}`)).json()).toEqual(line);
    expect((await get(`/api/received-lines/${'c'.repeat(64)}`)).statusCode).toBe(404);
    expect((await get('/api/received-lines/..')).statusCode).not.toBe(200);
    expect((await get(`/api/received-lines/${line.received}?until=soon`)).statusCode).toBe(400);
  });

  it('and what a print key sends, is told to open pages at once', async () => {
    await door.server.listen({ port: 0, host: '127.0.0.1' });
    const { port } = door.server.server.address() as AddressInfo;
    const response = await new Promise<IncomingMessage>((resolve, reject) => {
      request({ port, path: '/api/events', headers }, resolve).on('error', reject);
    });
    let text = '';
    response.setEncoding('utf8');
    response.on('data', (chunk) => {
      text += chunk;
    });
    lines.tell({ news: 'reading', line, measures: 'mass' });
    lines.tell({ news: 'no reading', instrument: 'BAL-1', heard });
    lines.tell({ news: 'state', instrument: 'BAL-1' });
    await vi.waitFor(() => expect(text).toContain('event: instrument-state'));
    const [, told] = /event: instrument-reading\ndata: (.*)\n/.exec(text) ?? [];
    expect(JSON.parse(told ?? '')).toEqual({
      reading: sent,
      instrument: 'BAL-1',
      measures: 'mass',
      net: false,
      raw: line.raw,
    });
    expect(text).toContain('event: instrument-no-reading\ndata: {"instrument":"BAL-1"');
  });
});

describe('a command with a reading that names its line', () => {
  it('is recorded when the line says so, and beside readings that name none', async () => {
    const typed = { text: '9.9', unit: 'mg', typed: true };
    const keystrokes = { text: '9.9', unit: 'mg', typed: false };
    for (const input of [
      { gross: sent, instrument: 'BAL-1' },
      { gross: sent },
      { gross: typed, lines: [{ balance: 'BAL-7', mass: keystrokes }] },
      { lines: [{ balance: 'BAL-1', mass: sent }], instrument: 'BAL-2' },
      { gross: sent, instrument: 'SPECTROMETER-1' },
      { gross: sent, instruments: { gross: 'BAL-1' }, instrument: 'BAL-2' },
    ]) {
      expect(await weigh(input), JSON.stringify(input)).toMatchObject({ outcome: 'recorded' });
    }
  });

  it.each<[string, object, string, string]>([
    [
      'that never came',
      { gross: { ...sent, received: 'c'.repeat(64) } },
      'ReceivedLineUnknown',
      'gross.text',
    ],
    [
      'that says other digits',
      { gross: { ...sent, text: '250.02' } },
      'ReceivedLineDiffers',
      'gross.text',
    ],
    [
      'that says another unit',
      { gross: { ...sent, unit: 'g' } },
      'ReceivedLineDiffers',
      'gross.text',
    ],
    [
      'of another balance',
      { gross: sent, instrument: 'BAL-2' },
      'ReceivedFromAnother',
      'gross.text',
    ],
    [
      'of another balance, named beside it',
      { instrument: 'BAL-1', lines: [{ balance: 'BAL-2', mass: sent }] },
      'ReceivedFromAnother',
      'lines.0.mass.text',
    ],
    [
      'that stands for two weighings',
      { gross: sent, lines: [{ balance: 'BAL-1', mass: sent }] },
      'ReceivedLineTwice',
      'lines.0.mass.text',
    ],
    [
      'and was typed all the same',
      { gross: { ...sent, typed: true } },
      'InputNotAccepted',
      'gross.received',
    ],
  ])('%s is refused', async (_what, input, refusal, field) => {
    expect(await weigh(input)).toMatchObject({ refusals: [{ refusal, field }] });
  });
});
