import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';
import { makeDemonstration } from '../simulation/make-demonstration.ts';
import { hashCost } from './founded-folder.ts';

declare module 'vitest' {
  export interface ProvidedContext {
    demonstrationFolder: string;
  }
}

/** Makes the demonstration plant once for all files of tests, each of which serves a copy. */
export default async function makeDemonstrationOnce(project: TestProject): Promise<() => void> {
  const parent = mkdtempSync(join(tmpdir(), 'cupel-browser-'));
  const folder = join(parent, 'plant');
  const lastDay = new Date(Date.now() - 24 * 3_600_000).toISOString().slice(0, 10);
  await makeDemonstration({ folder, seed: 1, lastDay, hashCost });
  project.provide('demonstrationFolder', folder);
  return () => rmSync(parent, { recursive: true });
}
