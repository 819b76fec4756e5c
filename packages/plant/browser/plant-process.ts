import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { foundedFolder } from './founded-folder.ts';

const program = fileURLToPath(new URL('../bin/cupel.mjs', import.meta.url));

/** A plant that is served by a process of its own, as a plant is: it can be killed and comes back. */
export class PlantProcess {
  readonly folder: string;
  #port = 0;
  #child: ChildProcess | undefined;

  private constructor(folder: string) {
    this.folder = folder;
  }

  /** A founded plant, served, with further piece standards in its register. */
  static async found(standards: readonly object[] = []): Promise<PlantProcess> {
    const plant = new PlantProcess(await foundedFolder(standards));
    await plant.serve();
    return plant;
  }

  get address(): string {
    return `http://127.0.0.1:${this.#port}`;
  }

  /** Serves the folder; a second time at the same address. */
  async serve(): Promise<void> {
    const words = ['serve', '--data', this.folder, '--port', String(this.#port)];
    const child = spawn(process.execPath, ['--no-warnings', program, ...words]);
    this.#child = child;
    let said = '';
    child.stderr.on('data', (text) => {
      said += String(text);
    });
    this.#port = await new Promise((resolve, reject) => {
      child.stdout.on('data', (text) => {
        const [, port] = /http:\/\/127\.0\.0\.1:(\d+)/.exec(String(text)) ?? [];
        if (port !== undefined) resolve(Number(port));
      });
      child.once('close', () => reject(new Error(`the server did not start: ${said}`)));
    });
  }

  /** Ends the server without a word, as a fallen power does. */
  async kill(): Promise<void> {
    const child = this.#child;
    if (child?.exitCode !== null || child.signalCode !== null) return;
    const ended = new Promise((resolve) => child.once('close', resolve));
    child.kill('SIGKILL');
    await ended;
  }

  /** What the program says of the journal of a plant that is not served; it throws where it is wrong. */
  verifyJournal(): string {
    const words = ['journal', 'verify', '--data', this.folder];
    return execFileSync(process.execPath, ['--no-warnings', program, ...words]).toString();
  }

  async close(): Promise<void> {
    await this.kill();
    rmSync(this.folder, { recursive: true });
  }
}
