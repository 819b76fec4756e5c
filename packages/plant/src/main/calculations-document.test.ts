import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { calculationPages } from './calculations-document.ts';

const folder = join(import.meta.dirname, '../../../../docs/calculations');

it('keeps the pages of the calculations as the catalogue has them', () => {
  const pages = calculationPages();
  expect(readdirSync(folder).sort()).toEqual([...pages.keys()].sort());
  for (const [name, text] of pages) {
    expect({ name, text: readFileSync(join(folder, name), 'utf8') }).toEqual({ name, text });
  }
});
