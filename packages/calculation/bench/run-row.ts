import { readFileSync } from 'node:fs';
import type { BenchRow } from './bench-row.ts';
import { repetitions } from './repetitions.ts';

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
const warmTurns = turns === 'once' ? 0 : repetitions(coldSeconds);
for (let turn = 0; turn < warmTurns; turn += 1) {
  const start = performance.now();
  row.work(data);
  warm.push((performance.now() - start) / 1000);
}
warm.sort((a, b) => a - b);
const warmSeconds = warm[Math.floor(warm.length / 2)] ?? coldSeconds;
const peakMegabytes = process.resourceUsage().maxRSS / 1024;
console.log(JSON.stringify({ figures, warmSeconds, peakMegabytes }));
