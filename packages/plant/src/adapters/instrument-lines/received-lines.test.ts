import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { ReceivedLines } from './received-lines.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'cupel-received-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

const line = {
  instrument: 'BAL-1',
  instant: '2026-03-02T07:00:00.000Z',
  raw: 'ST,+00250.013mg',
  text: '00250.013',
  unit: 'mg',
  net: false,
} as const;
const file = () => join(folder, '2026-03-02.jsonl');

it('keeps a line under the SHA-256 of its fields, also for a process that starts later', async () => {
  const kept = await new ReceivedLines(folder).keep(line);
  // printf '["2026-03-02T07:00:00.000Z","BAL-1","ST,+00250.013mg","00250.013","mg",false]' | sha256sum
  expect(kept.received).toBe('1aab5fa97721eaa13b611b3ef71aabfc8d48d575536b986a85eae392e5afed85');
  const later = new ReceivedLines(folder);
  expect(await later.find(kept.received, '2026-03-02T20:00:00.000Z')).toEqual(kept);
  expect(await later.find(kept.received, '2027-03-09T20:00:00.000Z')).toEqual(kept);
});

it('does not find a line that is older than 400 days, of another time, or that never came', async () => {
  const { received } = await new ReceivedLines(folder).keep(line);
  const later = new ReceivedLines(folder);
  expect(await later.find(received, '2027-04-10T00:00:00.000Z')).toBeUndefined();
  expect(await later.find(received, '2026-03-01T00:00:00.000Z')).toBeUndefined();
  expect(await later.find('0'.repeat(64), '2026-03-02T20:00:00.000Z')).toBeUndefined();
});

it('does not find a line that was altered in its file', async () => {
  const { received } = await new ReceivedLines(folder).keep(line);
  writeFileSync(file(), readFileSync(file(), 'utf8').replaceAll('250.013', '251.013'));
  expect(await new ReceivedLines(folder).find(received, line.instant)).toBeUndefined();
});

it('keeps what follows a line that a crash tore', async () => {
  const lines = new ReceivedLines(folder);
  const first = await lines.keep(line);
  writeFileSync(file(), readFileSync(file(), 'utf8').slice(0, -20));
  const second = await lines.keep({ ...line, text: '251.013' });
  const later = new ReceivedLines(folder);
  expect(await later.find(first.received, line.instant)).toBeUndefined();
  expect(await later.find(second.received, line.instant)).toEqual(second);
});

it('writes lines that come together one after the other, by their days', async () => {
  const lines = new ReceivedLines(folder);
  const days = ['2026-03-02', '2026-03-02', '2026-03-03'];
  const kept = await Promise.all(
    days.map((day, index) => lines.keep({ ...line, instant: `${day}T07:00:0${index}.000Z` })),
  );
  expect(readdirSync(folder)).toEqual(['2026-03-02.jsonl', '2026-03-03.jsonl']);
  const later = new ReceivedLines(folder);
  for (const one of kept) expect(await later.find(one.received, one.instant)).toEqual(one);
});
