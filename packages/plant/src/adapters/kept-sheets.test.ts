import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { SqliteKeptSheets } from './kept-sheets.ts';

const folder = mkdtempSync(join(tmpdir(), 'sheets-'));
afterAll(() => rmSync(folder, { recursive: true }));

let now = 0;
let sheets: SqliteKeptSheets;
const clock = { now: () => now };
const name = { person: 'assayer', command: 'record-cupellation', thing: 'M-1 0' };
const keep = (value: object, revision: number, thing = 'M-1 0') =>
  sheets.keep({ ...name, thing }, { value: value as never, revision });

beforeEach(() => {
  now = Date.parse('2026-03-02T07:00:00.000Z');
  sheets = new SqliteKeptSheets({ path: ':memory:', clock });
});

describe('a half-filled sheet', () => {
  it('is found again as it was kept, by its person alone', () => {
    expect(keep({ assayRun: 'R-1' }, 0)).toEqual({
      outcome: 'kept',
      revision: 1,
      keptAt: '2026-03-02T07:00:00.000Z',
    });
    expect(sheets.find(name)?.value).toEqual({ assayRun: 'R-1' });
    expect(sheets.find({ ...name, person: 'checker' })).toBeUndefined();
    expect(sheets.find({ ...name, thing: 'M-2 0' })).toBeUndefined();
  });

  it('is replaced by whoever knows it as it stands, and by nobody else', () => {
    keep({ from: 'the bench' }, 0);
    expect(keep({ from: 'the tablet' }, 1)).toMatchObject({ outcome: 'kept', revision: 2 });
    expect(keep({ from: 'the bench' }, 1)).toEqual({
      outcome: 'changed elsewhere',
      sheet: { value: { from: 'the tablet' }, revision: 2, keptAt: '2026-03-02T07:00:00.000Z' },
    });
    expect(sheets.find(name)?.value).toEqual({ from: 'the tablet' });
  });

  it('stands in the list of all that are kept, without what it holds', () => {
    keep({ assayRun: 'R-1' }, 0);
    now += 60_000;
    keep({ assayRun: 'R-2' }, 0, 'M-2 0');
    expect(sheets.lines()).toEqual([
      { ...name, keptAt: '2026-03-02T07:00:00.000Z' },
      { ...name, thing: 'M-2 0', keptAt: '2026-03-02T07:01:00.000Z' },
    ]);
  });

  it('does not come back once it was recorded and forgotten', () => {
    keep({ assayRun: 'R-1' }, 0);
    sheets.forget(name);
    expect(keep({ assayRun: 'R-1' }, 1)).toEqual({
      outcome: 'changed elsewhere',
      sheet: undefined,
    });
    expect(sheets.find(name)).toBeUndefined();
  });

  it('has a greatest size', () => {
    const words = 'x'.repeat(512 * 1024);
    expect(keep({ words }, 0)).toMatchObject({ outcome: 'too large', greatestBytes: 524_288 });
    expect(sheets.find(name)).toBeUndefined();
  });

  it('makes room for a newer one once a person keeps a hundred', () => {
    for (let index = 0; index < 101; index += 1) {
      now += 1000;
      keep({ index }, 0, `M-${index} 0`);
    }
    expect(sheets.find({ ...name, thing: 'M-0 0' })).toBeUndefined();
    expect(sheets.find({ ...name, thing: 'M-1 0' })).toBeDefined();
    expect(sheets.find({ ...name, thing: 'M-100 0' })).toBeDefined();
  });

  it('lies in a file that nobody but its owner reads, and is there when it is opened again', () => {
    const path = join(folder, 'sheets.sqlite');
    const first = new SqliteKeptSheets({ path, clock });
    first.keep(name, { value: { assayRun: 'R-1' }, revision: 0 });
    expect(statSync(path).mode & 0o777).toBe(0o600);
    // Not closed: as a program that was killed leaves it.
    const second = new SqliteKeptSheets({ path, clock });
    expect(second.find(name)?.value).toEqual({ assayRun: 'R-1' });
    first.close();
    second.close();
  });
});
