import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { refusalsDocument } from './refusals-document.ts';
import { stations } from './stations.ts';

it('is what the declarations say', () => {
  const path = join(import.meta.dirname, '../../../../docs/REFUSALS.md');
  expect(readFileSync(path, 'utf8')).toBe(refusalsDocument(stations));
});
