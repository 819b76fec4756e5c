import { readFileSync } from 'node:fs';
import type { BenchRow } from './bench-row.ts';

/*
 * One row in a process of its own: reads the data, does the work once cold and then warm, and
 * prints what it found and how long it took as one line of JSON.
 */
const [rowPath = '', dataPath = '', turns] = process.argv.slice(2);
const { row } = (await import(rowPath)) as { row: BenchRow };
const data: unknown = JSON.parse(readFileSync(dataPath, 'utf8'));

const began = performance.now();
const figures = row.work(data);
const coldSeconds = (performance.now() - began) / 1000;
const warm: number[] = [];
// Warm turns fill a second, and are 5 to 1000: the other side has the same rule.
const end = performance.now() + 1000;
while (turns !== 'once' && warm.length < 1000 && (warm.length < 5 || performance.now() < end)) {
  const start = performance.now();
  row.work(data);
  warm.push((performance.now() - start) / 1000);
}
warm.sort((a, b) => a - b);
const warmSeconds = warm[Math.floor(warm.length / 2)] ?? coldSeconds;
const peakMegabytes = process.resourceUsage().maxRSS / 1024;
console.log(JSON.stringify({ figures, warmSeconds, peakMegabytes }));
