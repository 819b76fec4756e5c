import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import type { Dialect } from '../../ports/instrument-dialect.ts';
import type { ConnectedInstrument, LineNews, LineSettings } from '../../ports/instrument-line.ts';
import { OpenInstrumentLines } from './instrument-lines.ts';
import { settleMilliseconds } from './line-splitter.ts';

/** Waits until that is so; fails after ten seconds with what it waited for. */
export async function until(isSo: () => boolean, what: string): Promise<void> {
  const end = performance.now() + 10_000;
  while (!isSo()) {
    if (performance.now() > end) throw new Error(`waited in vain: ${what}`);
    await pause(5);
  }
}

/** The lines of a plant on trial, with everything that they tell. */
export class LinesOnTrial {
  readonly folder = mkdtempSync(join(tmpdir(), 'cupel-lines-'));
  readonly lines = new OpenInstrumentLines({
    clock: { now: () => Date.now() },
    folder: join(this.folder, 'received'),
  });
  readonly news: LineNews[] = [];

  constructor() {
    this.lines.onNews((news) => this.news.push(news));
  }

  /** Connects BAL-1 and waits until its line is open and quiet. */
  async connect(
    line: LineSettings,
    dialect: Dialect,
    more: Partial<ConnectedInstrument> = {},
  ): Promise<void> {
    const title = 'Balance on trial';
    const base = { instrument: 'BAL-1', title, measures: 'mass', asks: null } as const;
    this.lines.set([{ ...base, sendsAllTheTime: false, line, dialect, ...more }]);
    await this.settled();
  }

  async settled(): Promise<void> {
    await until(() => this.lines.state('BAL-1')?.state === 'connected', 'connected');
    await pause(settleMilliseconds + 30);
  }

  /** The readings that were told of by themselves, as number and unit. */
  readings(): readonly string[] {
    return this.news.flatMap((one) =>
      one.news === 'reading' ? [`${one.line.text} ${one.line.unit}`] : [],
    );
  }

  async close(): Promise<void> {
    this.lines.close();
    // Lines that are being written come to their end first.
    await pause(20);
    rmSync(this.folder, { recursive: true, force: true });
  }
}

/** A serial line as most balances are set. */
export const serialLine = (path: string): LineSettings => ({
  kind: 'serial',
  path,
  baudRate: 9600,
  dataBits: 8,
  parity: 'none',
  stopBits: 1,
  flow: 'none',
});
