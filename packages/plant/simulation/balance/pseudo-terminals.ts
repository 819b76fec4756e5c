import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, realpathSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A cable made of two pseudo-terminals, one for the plant and one for the instrument. */
export interface PseudoTerminals {
  /** Names that stay the same when the cable is pulled out and plugged in. */
  readonly plantEnd: string;
  readonly instrumentEnd: string;
  /** The plant's end as the machine names it now: `/dev/pts/4`. */
  plantPath(): string;
  pull(): Promise<void>;
  plugIn(): Promise<void>;
  /** Ends it and takes its names away. */
  close(): Promise<void>;
}

const socat = (): string => process.env['CUPEL_SOCAT'] ?? '/usr/bin/socat';

/** Starts socat between two pseudo-terminals; answers once both are there. */
function start(ends: readonly string[]): Promise<ChildProcess> {
  const terminals = ends.map((link) => `pty,raw,echo=0,link=${link}`);
  const child = spawn(socat(), ['-d', '-d', ...terminals], { stdio: ['ignore', 'ignore', 'pipe'] });
  return new Promise((resolve, reject) => {
    let said = '';
    child.on('error', (error) => {
      reject(
        new Error(
          `Pseudo-terminals need socat (Debian: apt-get install socat), or its path in CUPEL_SOCAT: ${error.message}`,
        ),
      );
    });
    child.on('exit', () => reject(new Error(`socat ended: ${said}`)));
    child.stderr?.on('data', (bytes) => {
      said += String(bytes);
      if (said.includes('starting data transfer loop')) resolve(child);
    });
  });
}

async function end(child: ChildProcess | undefined): Promise<void> {
  if (!child || child.exitCode !== null) return;
  const ended = new Promise((resolve) => child.once('exit', resolve));
  child.kill();
  await ended;
}

/** Opens a pair of pseudo-terminals by socat. */
export async function openPseudoTerminals(): Promise<PseudoTerminals> {
  const folder = mkdtempSync(join(tmpdir(), 'cupel-terminals-'));
  const [plantEnd, instrumentEnd] = [join(folder, 'plant'), join(folder, 'instrument')];
  let child: ChildProcess | undefined = await start([plantEnd, instrumentEnd]);
  const pull = async () => {
    await end(child);
    child = undefined;
  };
  return {
    plantEnd,
    instrumentEnd,
    plantPath: () => realpathSync(plantEnd),
    pull,
    plugIn: async () => {
      child = await start([plantEnd, instrumentEnd]);
    },
    close: async () => {
      await pull();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
