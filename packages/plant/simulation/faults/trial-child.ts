import { type ChildProcess, spawn } from 'node:child_process';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** A process that records a stream of commands into a trial plant. */
export interface TrialChild {
  readonly process: ChildProcess;
  /** Every line that it has said. */
  readonly lines: readonly string[];
  /** Resolves when a line begins with the word, or when the process has ended. */
  said(word: string): Promise<void>;
  /** Resolves when the process has ended and everything it said is read. */
  readonly ended: Promise<void>;
}

const program = fileURLToPath(new URL('./trial-process.ts', import.meta.url));

/** Starts the process; `before` is a command that starts it under a limit. */
export function startTrialChild(options: {
  path: string;
  stream: string;
  commands: number;
  atOnce: number;
  before?: readonly string[];
}): TrialChild {
  const { path, stream, commands, atOnce, before = [] } = options;
  const words = [...before, process.execPath, '--no-warnings', program];
  const [executable = '', ...rest] = [...words, path, stream, String(commands), String(atOnce)];
  const child = spawn(executable, rest, {
    stdio: ['ignore', 'pipe', 'inherit'],
    // What the engine compiled is kept, so that the next process starts sooner.
    env: { ...process.env, NODE_COMPILE_CACHE: join(tmpdir(), 'node-compile-cache') },
  });
  const lines: string[] = [];
  const waiting = new Set<() => void>();
  let ended = false;
  let unfinished = '';
  child.stdout?.setEncoding('utf8').on('data', (text: string) => {
    const parts = (unfinished + text).split('\n');
    unfinished = parts.pop() ?? '';
    lines.push(...parts);
    for (const look of waiting) look();
  });
  const end = new Promise<void>((resolve, reject) => {
    child.on('error', reject);
    child.on('close', () => {
      ended = true;
      for (const look of waiting) look();
      resolve();
    });
  });
  const said = (word: string): Promise<void> =>
    new Promise((resolve) => {
      const look = (): void => {
        if (!ended && !lines.some((line) => line.startsWith(word))) return;
        waiting.delete(look);
        resolve();
      };
      waiting.add(look);
      look();
    });
  return { process: child, lines, said, ended: end };
}

/** The keys of the commands that the process said were recorded. */
export function recordedKeys(child: TrialChild): string[] {
  return child.lines
    .filter((line) => line.startsWith('recorded '))
    .map((line) => line.split(' ')[1] ?? '');
}
