import { readFileSync } from 'node:fs';
export const text = (): string => readFileSync('x', 'utf8');
