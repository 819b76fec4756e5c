import { mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { calculationPages } from './calculations-document.ts';

const folder = join(import.meta.dirname, '../../../../docs/calculations');
mkdirSync(folder, { recursive: true });
const pages = calculationPages();
for (const name of readdirSync(folder)) if (!pages.has(name)) rmSync(join(folder, name));
for (const [name, text] of pages) writeFileSync(join(folder, name), text);
