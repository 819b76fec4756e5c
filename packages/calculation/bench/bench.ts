import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BenchRow } from './bench-row.ts';

/*
 * Times each row beside the same work in numpy and scipy, in the same run: each side in a process
 * of its own, with and without the start of the process and its libraries, with its peak memory.
 * Both sides start from compiled files that earlier starts of the same run left, as installed
 * programs do: Python from its own folders, Node from a cache that ends with the run. Rates depend
 * on the machine; the ratios are what to compare. `bench.ts NAME …` runs those rows.
 */

interface Run {
  readonly figures: readonly number[];
  readonly warmSeconds: number;
  readonly peakMegabytes: number;
  readonly wholeSeconds: number;
}

const here = import.meta.dirname;
const rowsFolder = join(here, 'rows');
const python = ['/usr/bin/python3', 'python3'].find(
  (program) => spawnSync(program, ['-c', 'import numpy, scipy']).status === 0,
);

/** Whole processes are started so often; the least time counts, since other work only adds. */
const starts = 3;

function runOnce(program: string, args: readonly string[]): Run {
  const began = performance.now();
  const { status, stdout, stderr } = spawnSync(program, args, {
    encoding: 'utf8',
    env: { ...process.env, NODE_COMPILE_CACHE: join(folder, 'compiled') },
    maxBuffer: 64 * 1024 * 1024,
  });
  const wholeSeconds = (performance.now() - began) / 1000;
  if (status !== 0) throw new Error(`${program} ${args.join(' ')}: ${stderr}`);
  return { ...(JSON.parse(stdout) as Omit<Run, 'wholeSeconds'>), wholeSeconds };
}

/** The same program with the work done once only, for the time from start to answer. */
function run(program: string, args: readonly string[]): Run {
  const runs = Array.from({ length: starts }, () => runOnce(program, args));
  return runs.reduce((best, next) => (next.warmSeconds < best.warmSeconds ? next : best));
}

function greatestDifference(ours: readonly number[], theirs: readonly number[]): number {
  if (ours.length !== theirs.length) return Number.POSITIVE_INFINITY;
  const differences = ours.map((value, at) => {
    const other = theirs[at] ?? Number.NaN;
    if (value === other) return 0;
    return Math.abs(value - other) / Math.max(Math.abs(value), Math.abs(other));
  });
  return differences.some(Number.isNaN) ? Number.POSITIVE_INFINITY : Math.max(0, ...differences);
}

const milliseconds = (seconds: number): string => {
  const value = seconds * 1000;
  return value >= 100 ? value.toFixed(0) : value.toPrecision(3);
};

async function measure(name: string, folder: string): Promise<readonly string[]> {
  const path = join(rowsFolder, `${name}.ts`);
  const { row } = (await import(path)) as { row: BenchRow };
  const dataPath = join(folder, `${name}.json`);
  writeFileSync(dataPath, JSON.stringify(row.data()));
  const ours = run(process.execPath, [join(here, 'run-row.ts'), path, dataPath]);
  const oursWhole = wholeTime(process.execPath, [join(here, 'run-row.ts'), path, dataPath], ours);
  const otherPath = join(rowsFolder, `${name}.py`);
  const own = [row.what, milliseconds(ours.warmSeconds), milliseconds(oursWhole)];
  const memory = ours.peakMegabytes.toFixed(0);
  if (python === undefined || !existsSync(otherPath)) {
    return [...own, memory, '-', '-', '-', '-', '-', 'nothing to compare with'];
  }
  const args = [join(here, 'run_row.py'), otherPath, dataPath];
  const theirs = run(python, args);
  const theirsWhole = wholeTime(python, args, theirs);
  const difference = greatestDifference(ours.figures, theirs.figures);
  const agrees = difference <= row.tolerance;
  if (!agrees) process.exitCode = 1;
  return [
    ...own,
    memory,
    milliseconds(theirs.warmSeconds),
    milliseconds(theirsWhole),
    theirs.peakMegabytes.toFixed(0),
    `${(theirs.warmSeconds / ours.warmSeconds).toFixed(1)} ×`,
    `${(theirsWhole / oursWhole).toFixed(1)} ×`,
    `${difference.toExponential(0)}${agrees ? '' : ' DIFFERS'}`,
  ];
}

/** From the start of the process to the answer of its first turn: the warm turns are taken off. */
function wholeTime(program: string, args: readonly string[], known: Run): number {
  const once = Array.from({ length: starts }, () => runOnce(program, [...args, 'once']));
  return Math.min(known.wholeSeconds, ...once.map(({ wholeSeconds }) => wholeSeconds));
}

const columns = [
  'work',
  'ours, ms',
  'with start',
  'MB',
  'scipy, ms',
  'with start',
  'MB',
  'faster',
  'with start',
  'greatest difference',
];

const asked = process.argv.slice(2);
const names = readdirSync(rowsFolder)
  .filter((file) => file.endsWith('.ts'))
  .map((file) => file.slice(0, -3))
  .filter((name) => asked.length === 0 || asked.includes(name))
  .sort();
const unknown = asked.filter((name) => !names.includes(name));
if (unknown.length > 0) throw new Error(`no such row: ${unknown.join(', ')}`);

const folder = mkdtempSync(join(tmpdir(), 'cupel-bench-'));
try {
  const r = spawnSync('Rscript', ['--version']).status === 0;
  console.log(
    `numpy and scipy: ${python === undefined ? 'not on this machine' : 'present'}; R: ${r ? 'present, not used' : 'not on this machine'}`,
  );
  const table: (readonly string[])[] = [columns];
  for (const name of names) {
    process.stderr.write(`${name} …\n`);
    table.push(await measure(name, folder));
  }
  const widths = columns.map((_, at) => Math.max(...table.map((cells) => cells[at]?.length ?? 0)));
  for (const cells of table) {
    const [what = '', ...figures] = cells;
    const rest = figures.map((cell, at) => cell.padStart(widths[at + 1] ?? 0));
    console.log([what.padEnd(widths[0] ?? 0), ...rest].join('  '));
  }
} finally {
  rmSync(folder, { recursive: true });
}
