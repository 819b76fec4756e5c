import { createHash } from 'node:crypto';
import {
  copyFileSync,
  createReadStream,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, join, relative, resolve } from 'node:path';
import { z } from 'zod';
import { copySqliteFile, syncPath } from '../adapters/sqlite-copy.ts';
import { plantFiles, plantSettings } from '../main/plant.ts';
import { verificationOf } from './journal.ts';
import { Unfit } from './unfit.ts';

const manifestFile = 'backup.json';

const manifestSchema = z.strictObject({
  entries: z.number().int().min(0),
  headHash: z.string(),
  /** SHA-256 of each file, by its path in the backup. */
  files: z.record(z.string(), z.string().regex(/^[0-9a-f]{64}$/)),
});

type Manifest = z.infer<typeof manifestSchema>;

/** What lies in a plant's folder only while work goes on: what SQLite lays beside its files, and files begun. */
function isPassing(path: string): boolean {
  return /\.sqlite(-wal|-shm|-journal|\.writer)$/.test(path) || basename(path).startsWith('.');
}

function filesBelow(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((item) => {
    const path = join(folder, item.name);
    return item.isDirectory() ? filesBelow(path) : [path];
  });
}

async function hashOf(path: string): Promise<string> {
  const hash = createHash('sha256');
  for await (const part of createReadStream(path)) hash.update(part);
  return hash.digest('hex');
}

async function hashesBelow(folder: string): Promise<Record<string, string>> {
  const hashes: Record<string, string> = {};
  for (const path of filesBelow(folder).sort()) {
    const name = relative(folder, path);
    if (name !== manifestFile) hashes[name] = await hashOf(path);
  }
  return hashes;
}

async function requireGood(folder: string): Promise<{ entries: number; headHash: string }> {
  const found = await verificationOf(folder);
  if (!found.holds) throw new Unfit(`The copy does not hold: entry ${found.entry}: ${found.why}.`);
  return { entries: found.entries, headHash: found.headHash };
}

/** Copies a file into a folder that may still be missing, and waits until it is on disk. */
function copyDurably(source: string, target: string): void {
  mkdirSync(dirname(target), { recursive: true, mode: 0o700 });
  copyFileSync(source, target);
  syncPath(target);
}

/**
 * Fills a new folder under a passing name and gives it its own name only when it is whole and on
 * disk, so that no folder of that name ever holds half of a plant.
 */
async function makeWhole<Result>(
  folder: string,
  fill: (unfinished: string) => Promise<Result>,
): Promise<Result> {
  const target = resolve(folder);
  if (existsSync(target)) throw new Unfit(`${folder} exists already; name a folder that does not.`);
  mkdirSync(dirname(target), { recursive: true });
  const unfinished = mkdtempSync(join(dirname(target), `.${basename(target)}-unfinished-`));
  try {
    const result = await fill(unfinished);
    for (const path of new Set(filesBelow(unfinished).map(dirname))) syncPath(path);
    syncPath(unfinished);
    renameSync(unfinished, target);
    syncPath(dirname(target));
    return result;
  } catch (error) {
    rmSync(unfinished, { recursive: true, force: true });
    throw error;
  }
}

/**
 * Copies a plant, also while it is served, and verifies the copy. The store is copied first and the
 * attachments last: what an entry of the copy names was there before the entry was.
 */
export async function backup(folder: string, target: string): Promise<void> {
  plantSettings(folder);
  const { entries, headHash } = await makeWhole(target, async (copy) => {
    const files = filesBelow(folder).filter((path) => !isPassing(path));
    const isDatabase = (path: string): boolean => path.endsWith('.sqlite');
    const store = join(folder, plantFiles.store);
    copySqliteFile(store, join(copy, plantFiles.store));
    for (const path of files.filter((one) => isDatabase(one) && one !== store)) {
      copySqliteFile(path, join(copy, relative(folder, path)));
    }
    // The list is read again: an attachment may have come while the store was copied.
    for (const path of filesBelow(folder)) {
      if (isDatabase(path) || isPassing(path)) continue;
      copyDurably(path, join(copy, relative(folder, path)));
    }
    const found = await requireGood(copy);
    const manifest: Manifest = { ...found, files: await hashesBelow(copy) };
    const path = join(copy, manifestFile);
    writeFileSync(path, `${JSON.stringify(manifest, null, 2)}\n`, { mode: 0o600 });
    syncPath(path);
    return found;
  });
  console.log(`${entries} entries copied to ${target} and verified; last hash ${headHash}`);
}

function readManifest(source: string): Manifest {
  const path = join(source, manifestFile);
  if (!existsSync(path)) throw new Unfit(`${source} holds no backup: ${manifestFile} is missing.`);
  try {
    return manifestSchema.parse(JSON.parse(readFileSync(path, 'utf8')));
  } catch {
    throw new Unfit(`${path} is not as it was written.`);
  }
}

/** Makes a plant from a backup and verifies it. */
export async function restore(source: string, folder: string): Promise<void> {
  const manifest = readManifest(source);
  const { entries, headHash } = await makeWhole(folder, async (plant) => {
    const hashes = await hashesBelow(source);
    for (const [file, hash] of Object.entries(manifest.files)) {
      if (hashes[file] === hash) continue;
      throw new Unfit(
        `${file} of the backup is ${hashes[file] ? 'not as it was written' : 'missing'}.`,
      );
    }
    for (const file of Object.keys(manifest.files)) {
      copyDurably(join(source, file), join(plant, file));
    }
    const found = await requireGood(plant);
    if (found.headHash !== manifest.headHash || found.entries !== manifest.entries) {
      throw new Unfit('The last entry is not that of the backup.');
    }
    return found;
  });
  console.log(`${entries} entries restored to ${folder} and verified; last hash ${headHash}`);
}
