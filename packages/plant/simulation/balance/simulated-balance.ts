import { createInterface } from 'node:readline';
import { parseArgs } from 'node:util';
import { chanceFrom } from '../chance.ts';
import { askForValue } from './balance-voice.ts';
import { type BalanceFault, balanceFaults } from './bench-balance.ts';
import { openSimulatedBalance, type SimulatedBalance } from './open-simulated-balance.ts';
import { openPseudoTerminals, type PseudoTerminals } from './pseudo-terminals.ts';

/*
 * A bench balance for demonstrations, worked from the keyboard:
 *
 *   node packages/plant/simulation/balance/simulated-balance.ts --tcp 4001
 *   node packages/plant/simulation/balance/simulated-balance.ts --terminal
 *   node packages/plant/simulation/balance/simulated-balance.ts --path /dev/ttyUSB0
 *
 * `--terminal` makes a pair of pseudo-terminals and says where the plant finds its end.
 */

const { values } = parseArgs({
  options: {
    tcp: { type: 'string' },
    path: { type: 'string' },
    terminal: { type: 'boolean' },
    unit: { type: 'string', default: 'mg' },
    division: { type: 'string', default: '0.00001' },
    capacity: { type: 'string', default: '20' },
    settle: { type: 'string', default: '1500' },
    drift: { type: 'string', default: '0' },
    spread: { type: 'string', default: '0' },
    every: { type: 'string' },
    seed: { type: 'string', default: '1' },
  },
});

const help = `put GRAMS | tare | print | print at once | show kg|g|mg | fault ${balanceFaults.join('|')} | unplug | plug in | see | end`;

/** What a word from the keyboard does; answers what to say. */
type Act = (balance: SimulatedBalance, rest: string) => string | Promise<string>;

const acts: Readonly<Record<string, Act>> = {
  put: (balance, rest) => {
    balance.put(Number(rest));
    return `${rest} g lie on the pan`;
  },
  tare: (balance) => {
    balance.tare();
    return 'the tare is taken';
  },
  print: (balance, rest) => (rest === 'at once' ? balance.printAtOnce() : balance.print()),
  show: (balance, rest) => {
    balance.show(rest as 'mg');
    return `the display shows ${rest}`;
  },
  fault: (balance, rest) => {
    if (!balanceFaults.includes(rest as BalanceFault)) return help;
    balance.setFault(rest as BalanceFault);
    return `fault: ${rest}`;
  },
  unplug: async (balance) => {
    await balance.unplug();
    return 'the cable is out';
  },
  plug: async (balance) => {
    await balance.plugIn();
    return 'the cable is in';
  },
  see: (balance) => JSON.stringify(balance.shown()),
};

let terminals: PseudoTerminals | undefined;
if (values.terminal) terminals = await openPseudoTerminals();
const path = terminals?.instrumentEnd ?? values.path;
const chance = chanceFrom(Number(values.seed));
const balance = await openSimulatedBalance({
  ...(path === undefined ? { tcp: Number(values.tcp ?? 4001) } : { path }),
  unit: values.unit as 'mg',
  divisionGrams: Number(values.division),
  capacityGrams: Number(values.capacity),
  settleMilliseconds: Number(values.settle),
  driftGramsPerMinute: Number(values.drift),
  error: () => chance.normal(0, Number(values.spread)),
  ...(values.every === undefined ? {} : { everyMilliseconds: Number(values.every) }),
});

const { end } = balance;
const place = terminals?.plantPath() ?? ('tcp' in end ? `127.0.0.1, port ${end.tcp}` : end.path);
console.log(`The plant finds this balance at ${place}.`);
console.log(
  `Status letters first, 9600 baud, 8 bits, no parity; asked by ${askForValue.text} CR LF.`,
);
console.log(help);

for await (const line of createInterface({ input: process.stdin })) {
  const [word = '', ...rest] = line.trim().split(' ');
  if (word === 'end') break;
  if (word === '') continue;
  const act = acts[word];
  try {
    console.log(act ? await act(balance, rest.join(' ')) : help);
  } catch (error) {
    console.log((error as Error).message);
  }
}
await balance.close();
await terminals?.close();
process.exit(0);
