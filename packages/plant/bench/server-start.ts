import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { type Measurement, median } from './measurement.ts';

const program = fileURLToPath(new URL('../bin/cupel.mjs', import.meta.url));

/** Seconds from the command to the first answer over HTTP. */
async function secondsToFirstAnswer(folder: string): Promise<number> {
  const start = performance.now();
  const words = [program, 'serve', '--data', folder, '--port', '0'];
  const server = spawn(process.execPath, words, { stdio: ['ignore', 'pipe', 'inherit'] });
  const ended = new Promise<void>((resolve) => server.on('close', () => resolve()));
  try {
    const address = await new Promise<string>((resolve, reject) => {
      let text = '';
      server.stdout.setEncoding('utf8').on('data', (part: string) => {
        text += part;
        const found = /http:\/\/127\.0\.0\.1:\d+/.exec(text);
        if (found) resolve(found[0]);
      });
      server.on('close', () => reject(new Error(`the server ended before it served: ${text}`)));
    });
    const answer = await fetch(`${address}/api/session`);
    await answer.text();
    return (performance.now() - start) / 1000;
  } finally {
    server.kill('SIGTERM');
    await ended;
  }
}

/** Start of the server of a plant to its first answer. */
export async function measureServerStart(folder: string): Promise<Measurement> {
  const seconds: number[] = [];
  for (let round = 0; round < 3; round += 1) seconds.push(await secondsToFirstAnswer(folder));
  return {
    what: 'server: start to first answer, demonstration plant',
    ours: `${median(seconds).toFixed(2)} s`,
    bare: '',
    ratio: '',
  };
}
