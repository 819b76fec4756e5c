import { setTimeout as pause } from 'node:timers/promises';
import { askForValue, type BalanceDialect, lineOf, statusFirst } from './balance-voice.ts';
import { type BalanceBuild, type BalanceFault, BenchBalance, type Shown } from './bench-balance.ts';
import { type Cable, cableTo } from './cable.ts';

/** How a simulated balance is set; an assay balance in mg when nothing is said. */
export interface SimulatedBalanceOptions extends Partial<BalanceBuild> {
  /** A port of this machine's network, 0 for any. */
  readonly tcp?: number;
  /** The path of a serial port or of one end of a pair of pseudo-terminals. */
  readonly path?: string;
  readonly dialect?: BalanceDialect;
  /** So often it sends a line by itself; only on its key when left out. */
  readonly everyMilliseconds?: number;
}

/** A balance on a line, in the hands of a test or a demonstration. */
export interface SimulatedBalance {
  /** Where the plant finds it. */
  readonly end: Cable['end'];
  /** Puts a load on the empty pan. */
  put(grams: number): void;
  tare(): void;
  /** Its print key: it waits for stability, then sends its line, and answers with it. */
  print(): Promise<string>;
  /** Its print key on a balance that does not wait. */
  printAtOnce(): string;
  show(unit: BalanceBuild['unit']): void;
  shown(): Shown;
  setFault(fault: BalanceFault): void;
  /** Sends bytes as they are, as a disturbed line would. */
  garble(text: string): void;
  unplug(): Promise<void>;
  plugIn(): Promise<void>;
  close(): Promise<void>;
}

const assayBalance: BalanceBuild = {
  unit: 'mg',
  divisionGrams: 0.00001,
  capacityGrams: 20,
  settleMilliseconds: 200,
  driftGramsPerMinute: 0,
};

const longestPrintMilliseconds = 10_000;

/** Opens a balance at one end of a line. */
export async function openSimulatedBalance(
  options: SimulatedBalanceOptions,
): Promise<SimulatedBalance> {
  const { tcp, path, dialect = statusFirst, everyMilliseconds, ...build } = options;
  const cable = cableTo(path === undefined ? { tcp: tcp ?? 0 } : { path });
  const balance = new BenchBalance({ ...assayBalance, ...build });
  const now = () => performance.now();
  const send = (): string => {
    const line = lineOf(balance.shown(now()), dialect);
    if (balance.fault !== 'silent') cable.send(`${line}\r\n`);
    return line;
  };
  answerAsks(cable, send);
  await cable.plugIn();
  const timer = everyMilliseconds === undefined ? undefined : setInterval(send, everyMilliseconds);
  return {
    get end() {
      return cable.end;
    },
    put: (grams) => balance.put(grams, now()),
    tare: () => balance.tare(now()),
    print: async () => {
      const until = now() + longestPrintMilliseconds;
      while (balance.shown(now()).status === 'unstable') {
        if (now() > until) throw new Error('the balance does not become stable');
        await pause(10);
      }
      return send();
    },
    printAtOnce: send,
    show: (unit) => balance.show(unit),
    shown: () => balance.shown(now()),
    setFault: (fault) => {
      balance.fault = fault;
      // A display that is stuck is so from now on.
      balance.shown(now());
    },
    garble: (text) => cable.send(text),
    unplug: () => cable.unplug(),
    plugIn: () => cable.plugIn(),
    close: async () => {
      clearInterval(timer);
      await cable.unplug();
    },
  };
}

/** Each ask for a value is answered at once with what stands in the display. */
function answerAsks(cable: Cable, send: () => string): void {
  let asked = '';
  cable.onText((text) => {
    const lines = (asked + text).split('\r\n');
    asked = lines.pop() ?? '';
    for (const line of lines) {
      if (line === askForValue.text) send();
      else cable.send('?\r\n');
    }
  });
}
