import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { refusalsDocument } from './refusals-document.ts';
import { stations } from './stations.ts';

const path = join(import.meta.dirname, '../../../../docs/REFUSALS.md');
writeFileSync(path, refusalsDocument(stations));
