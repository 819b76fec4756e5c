import { createHash } from 'node:crypto';
import { appendFile, mkdir, open, readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { ReceivedLine } from '../../ports/instrument-line.ts';

/** So many of the last lines are found without reading files. */
const remembered = 5000;
/** So long back a line is looked for: corrections name the lines of the readings that they keep. */
const daysBack = 400;
const dayMilliseconds = 86_400_000;

/** The hash by which a reading names its line: SHA-256 of its fields in this order, as a JSON list. */
function receivedHash(line: Omit<ReceivedLine, 'received'>): string {
  const { instant, instrument, raw, text, unit, net } = line;
  const list = JSON.stringify([instant, instrument, raw, text, unit, net]);
  return createHash('sha256').update(list).digest('hex');
}

/** Lines that became readings, kept in a folder: one file for each day (UTC), one line for each. */
export class ReceivedLines {
  readonly #folder: string;
  readonly #last = new Map<string, ReceivedLine>();
  /** Lines are written one after the other. */
  #written: Promise<void> = Promise.resolve();

  constructor(folder: string) {
    this.#folder = folder;
  }

  /** Keeps a line; it is on disk when this answers. */
  async keep(fields: Omit<ReceivedLine, 'received'>): Promise<ReceivedLine> {
    const line = { received: receivedHash(fields), ...fields };
    const before = this.#written;
    const written = before.then(() => this.#append(line));
    this.#written = written.catch(() => undefined);
    await written;
    this.#last.set(line.received, line);
    const [oldest] = this.#last.keys();
    if (this.#last.size > remembered && oldest !== undefined) this.#last.delete(oldest);
    return line;
  }

  /** The line of that hash, kept in the 400 days up to that instant. A line that was altered is not found. */
  async find(hash: string, until: string): Promise<ReceivedLine | undefined> {
    const known = this.#last.get(hash);
    if (known) return known;
    for (const day of await this.#daysUpTo(until)) {
      const found = lineIn(await readFile(this.#path(day), 'utf8'), hash);
      if (found) return found;
    }
    return undefined;
  }

  /** The days on which lines were kept, the last one first. */
  async #daysUpTo(until: string): Promise<readonly string[]> {
    const last = until.slice(0, 10);
    const first = new Date(Date.parse(until) - daysBack * dayMilliseconds);
    const names = await readdir(this.#folder).catch((error: NodeJS.ErrnoException) => {
      if (error.code === 'ENOENT') return [];
      throw error;
    });
    return names
      .filter((name) => name.endsWith('.jsonl'))
      .map((name) => name.slice(0, -'.jsonl'.length))
      .filter((day) => day <= last && day >= first.toISOString().slice(0, 10))
      .sort()
      .reverse();
  }

  async #append(line: ReceivedLine): Promise<void> {
    await mkdir(this.#folder, { recursive: true, mode: 0o700 });
    const path = this.#path(line.instant.slice(0, 10));
    // A line break before each line: one torn by a crash spoils no other.
    await appendFile(path, `\n${JSON.stringify(line)}`, { mode: 0o600 });
    const file = await open(path, 'r');
    try {
      await file.datasync();
    } finally {
      await file.close();
    }
  }

  #path(day: string): string {
    return join(this.#folder, `${day}.jsonl`);
  }
}

function lineIn(text: string, hash: string): ReceivedLine | undefined {
  const start = text.indexOf(`{"received":"${hash}"`);
  if (start < 0) return undefined;
  const [own = ''] = text.slice(start).split('\n', 1);
  try {
    const line = JSON.parse(own) as ReceivedLine;
    return receivedHash(line) === hash ? line : undefined;
  } catch {
    return undefined;
  }
}
