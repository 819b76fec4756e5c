import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { people } from '../simulation/demonstration/cast.ts';
import { found } from '../simulation/demonstration/founding.ts';
import { Hand, type VirtualClock } from '../simulation/demonstration/hand.ts';
import { demonstrationPassword } from '../simulation/make-demonstration.ts';
import { makePlantFolder, openPlant } from '../src/main/plant.ts';

const program = fileURLToPath(new URL('../bin/cupel.mjs', import.meta.url));

/** A cost that only a test may choose: the passwords of this plant protect nothing. */
const hashCost = { memoryKibibytes: 64, passes: 1 };

/** The clock of the machine in the place of a clock that is moved on: the work takes its real time. */
const machineClock = {
  now: () => Date.now(),
  pass: () => {},
  reach: () => {},
} as unknown as VirtualClock;

/** Founds a plant in a new folder, fills its registers, and leaves it closed. */
async function foundedFolder(standards: readonly object[]): Promise<string> {
  const folder = join(mkdtempSync(join(tmpdir(), 'cupel-browser-')), 'plant');
  makePlantFolder(folder, { plant: 'browser-plant', timeZone: 'Europe/Vienna' });
  const plant = await openPlant(folder, { hashCost });
  const hand = new Hand(plant.recorder, machineClock);
  await found(hand, new Date().toISOString().slice(0, 10));
  for (const input of standards) {
    await hand.do({ by: 'orla', command: 'register-piece-standard', input });
  }
  for (const { person } of people) {
    await plant.accounts.setPassword(person, demonstrationPassword(person));
  }
  await plant.close();
  return folder;
}

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
