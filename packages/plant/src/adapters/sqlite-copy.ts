import { closeSync, existsSync, fsyncSync, openSync } from 'node:fs';
import { dirname } from 'node:path';
import Database from 'better-sqlite3';

/** Waits until the file or folder is on disk. */
export function syncPath(path: string): void {
  const file = openSync(path, 'r');
  try {
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}

/**
 * Copies a SQLite file while another process may be writing to it. The copy is one file, whole as
 * of one moment, checked by SQLite itself and on disk when this returns.
 */
export function copySqliteFile(source: string, target: string): void {
  if (existsSync(target)) throw new RangeError(`${target} exists already`);
  const from = new Database(source, { readonly: true, fileMustExist: true });
  try {
    from.prepare('VACUUM INTO ?').run(target);
  } finally {
    from.close();
  }
  const copy = new Database(target, { readonly: true, fileMustExist: true });
  try {
    const found = copy.pragma('integrity_check', { simple: true });
    if (found !== 'ok') throw new RangeError(`the copy of ${source} is damaged: ${String(found)}`);
  } finally {
    copy.close();
  }
  syncPath(target);
  syncPath(dirname(target));
}
