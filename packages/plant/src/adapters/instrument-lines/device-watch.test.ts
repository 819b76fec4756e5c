import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { watchDevice } from './device-watch.ts';

let folder = '';
let path = '';
beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] });
  folder = mkdtempSync(join(tmpdir(), 'cupel-device-'));
  path = join(folder, 'port');
  writeFileSync(path, '');
});
afterEach(() => {
  vi.useRealTimers();
  rmSync(folder, { recursive: true });
});

it('tells once that a device is gone, or that another stands in its place', () => {
  for (const another of [false, true]) {
    const gone = vi.fn();
    watchDevice(path, gone);
    vi.advanceTimersByTime(5000);
    expect(gone).not.toHaveBeenCalled();
    rmSync(path);
    writeFileSync(join(folder, 'in between'), '');
    if (another) writeFileSync(path, 'another');
    vi.advanceTimersByTime(5000);
    expect(gone).toHaveBeenCalledOnce();
    writeFileSync(path, '');
  }
});

it('tells nothing once it is stopped, nor of a port that is no file', () => {
  const gone = vi.fn();
  watchDevice(path, gone)();
  watchDevice('COM3', gone);
  rmSync(path);
  vi.advanceTimersByTime(5000);
  expect(gone).not.toHaveBeenCalled();
});
