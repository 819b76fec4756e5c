import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import type { Measurement } from './measurement.ts';

const folder = fileURLToPath(new URL('../dist/workbench', import.meta.url));

/** Compressed size of the page and of every file that it names, and of what the style sheets name. */
export function measureFirstLoad(): Measurement {
  const page = join(folder, 'index.html');
  if (!existsSync(page)) throw new Error('the workbench is not built: run npm run bench');
  const html = readFileSync(page, 'utf8');
  const named = [...html.matchAll(/(?:src|href)="\/([^"]+)"/g)].map(([, path]) => String(path));
  const files = [...new Set(['index.html', ...named])].filter((path) =>
    existsSync(join(folder, path)),
  );
  const sizes = files.map(
    (path) => gzipSync(readFileSync(join(folder, path)), { level: 9 }).length,
  );
  const kilobytes = sizes.reduce((sum, size) => sum + size, 0) / 1000;
  return {
    what: `workbench: first load, ${files.length} files, gzip`,
    ours: `${kilobytes.toFixed(0)} kB`,
    bare: '300 kB is the aim',
    ratio: (kilobytes / 300).toFixed(2),
  };
}
