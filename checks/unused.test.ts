import { execFile } from 'node:child_process';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { expect, it } from 'vitest';

const root = join(import.meta.dirname, '..');

interface Report {
  readonly issues: readonly Readonly<Record<string, string | readonly { name: string }[]>>[];
}

/** What no file of the repository uses, as `file: what name`. */
async function unused(): Promise<readonly string[]> {
  const knip = join(root, 'node_modules', 'knip', 'bin', 'knip.js');
  const { stdout } = await promisify(execFile)(
    process.execPath,
    [knip, '--reporter', 'json', '--no-progress', '--no-exit-code'],
    { cwd: root, maxBuffer: 64 * 1024 * 1024 },
  );
  const { issues } = JSON.parse(stdout) as Report;
  return issues.flatMap(({ file, ...found }) =>
    Object.entries(found).flatMap(([what, names]) =>
      typeof names === 'string' ? [] : names.map(({ name }) => `${file}: ${what} ${name}`),
    ),
  );
}

it('has no file, export or dependency that nothing uses', { timeout: 120_000 }, async () => {
  expect(await unused()).toEqual([]);
});
