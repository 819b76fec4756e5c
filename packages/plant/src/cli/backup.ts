import { createHash } from 'node:crypto';
import {
  copyFileSync,
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  writeFileSync,
} from 'node:fs';
import { join, relative } from 'node:path';
import { copySqliteFile, syncPath } from '../adapters/sqlite-copy.ts';
import { plantFiles, plantSettings } from '../main/plant.ts';
import { verificationOf } from './journal.ts';
import { Unfit } from './unfit.ts';

const manifestFile = 'backup.json';

interface Manifest {
  readonly entries: number;
  readonly headHash: string;
  /** SHA-256 of each file, by its path in the backup. */
  readonly files: Readonly<Record<string, string>>;
}

function filesBelow(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((item) => {
    const path = join(folder, item.name);
    return item.isDirectory() ? filesBelow(path) : [path];
  });
}

function hashesBelow(folder: string): Record<string, string> {
  const files = filesBelow(folder).filter((path) => relative(folder, path) !== manifestFile);
  return Object.fromEntries(
    files
      .map((path) => {
        const hash = createHash('sha256').update(readFileSync(path)).digest('hex');
        return [relative(folder, path), hash] as const;
      })
      .sort(([one], [other]) => (one < other ? -1 : 1)),
  );
}

function requireNew(folder: string): void {
  if (existsSync(folder)) throw new Unfit(`${folder} exists already; name a folder that does not.`);
}

async function requireGood(folder: string): Promise<{ entries: number; headHash: string }> {
  const found = await verificationOf(folder);
  if (!found.holds) throw new Unfit(`The copy does not hold: entry ${found.entry}: ${found.why}.`);
  return { entries: found.entries, headHash: found.headHash };
}

/** Copies a plant into a new folder and verifies the copy. Attachments are never changed, so they need no moment. */
export async function backup(folder: string, target: string): Promise<void> {
  plantSettings(folder);
  requireNew(target);
  mkdirSync(target, { recursive: true, mode: 0o700 });
  copySqliteFile(join(folder, plantFiles.store), join(target, plantFiles.store));
  if (existsSync(join(folder, plantFiles.accounts))) {
    copySqliteFile(join(folder, plantFiles.accounts), join(target, plantFiles.accounts));
  }
  for (const file of [plantFiles.settings, plantFiles.key]) {
    copyFileSync(join(folder, file), join(target, file));
  }
  if (existsSync(join(folder, plantFiles.attachments))) {
    const from = join(folder, plantFiles.attachments);
    cpSync(from, join(target, plantFiles.attachments), { recursive: true });
  }
  const { entries, headHash } = await requireGood(target);
  const manifest: Manifest = { entries, headHash, files: hashesBelow(target) };
  writeFileSync(join(target, manifestFile), `${JSON.stringify(manifest, null, 2)}\n`);
  syncPath(join(target, manifestFile));
  syncPath(target);
  console.log(`${entries} entries copied to ${target} and verified; last hash ${headHash}`);
}

/** Makes a plant from a backup and verifies it. */
export async function restore(source: string, folder: string): Promise<void> {
  const path = join(source, manifestFile);
  if (!existsSync(path)) throw new Unfit(`${source} holds no backup: ${manifestFile} is missing.`);
  requireNew(folder);
  const manifest = JSON.parse(readFileSync(path, 'utf8')) as Manifest;
  const hashes = hashesBelow(source);
  for (const [file, hash] of Object.entries(manifest.files)) {
    if (hashes[file] !== hash) {
      throw new Unfit(
        `${file} of the backup is ${hashes[file] ? 'not as it was written' : 'missing'}.`,
      );
    }
  }
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  for (const file of Object.keys(manifest.files)) {
    cpSync(join(source, file), join(folder, file), { recursive: true });
  }
  const { entries, headHash } = await requireGood(folder);
  if (headHash !== manifest.headHash) throw new Unfit('The last hash is not that of the backup.');
  console.log(`${entries} entries restored to ${folder} and verified; last hash ${headHash}`);
}
