import { setTimeout as pause } from 'node:timers/promises';
import { afterEach, describe, expect, it } from 'vitest';
import { askForValue, statusFirst } from '../../../simulation/balance/balance-voice.ts';
import {
  openSimulatedBalance,
  type SimulatedBalance,
  type SimulatedBalanceOptions,
} from '../../../simulation/balance/open-simulated-balance.ts';
import {
  openPseudoTerminals,
  type PseudoTerminals,
} from '../../../simulation/balance/pseudo-terminals.ts';
import type { ConnectedInstrument } from '../../ports/instrument-line.ts';
import { LinesOnTrial, serialLine, until } from './line-trial.ts';

type Way = 'a pseudo-terminal' | 'TCP';

let open: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of open.toReversed()) await close();
  open = [];
});

interface Bench {
  readonly trial: LinesOnTrial;
  readonly balance: SimulatedBalance;
  readonly terminals: PseudoTerminals | undefined;
}

/** A simulated balance and the lines of a plant that reads it. */
async function bench(
  way: Way,
  options: Partial<SimulatedBalanceOptions> = {},
  settings: Partial<ConnectedInstrument> = {},
): Promise<Bench> {
  const terminals = way === 'TCP' ? undefined : await openPseudoTerminals();
  if (terminals) open.push(() => terminals.close());
  const end = terminals ? { path: terminals.instrumentEnd } : { tcp: 0 };
  const balance = await openSimulatedBalance({ ...end, ...options });
  open.push(() => balance.close());
  const trial = new LinesOnTrial();
  open.push(() => trial.close());
  const port = 'tcp' in balance.end ? balance.end.tcp : 0;
  const line = terminals
    ? serialLine(terminals.plantEnd)
    : ({ kind: 'tcp', host: '127.0.0.1', port } as const);
  await trial.connect(line, options.dialect ?? statusFirst, settings);
  return { trial, balance, terminals };
}

const asked = { asks: askForValue };

/** Until the newest line heard is the load at rest: a line of the empty pan may still be on its way. */
const untilAtRest = (trial: LinesOnTrial, text: string): Promise<void> =>
  until(() => {
    const [newest] = trial.lines.state('BAL-1')?.heard ?? [];
    return newest?.decoded.says === 'stable' && newest.raw.includes(text);
  }, 'the load at rest');

describe.each<Way>(['a pseudo-terminal', 'TCP'])('a balance over %s', (way) => {
  it('gives the reading of its print key, with the line as it came', async () => {
    const { trial, balance } = await bench(way);
    balance.put(0.250013);
    const sent = await balance.print();
    await until(() => trial.readings().length === 1, 'a reading');
    expect(trial.readings()).toEqual(['250.01 mg']);
    const [told] = trial.news.filter(({ news }) => news === 'reading');
    const line = told?.news === 'reading' ? told.line : undefined;
    expect(line).toMatchObject({ instrument: 'BAL-1', raw: sent, net: false });
    expect(await trial.lines.received(line?.received ?? '', line?.instant ?? '')).toEqual(line);
  });

  it('is asked for a stable value, and asked again until it is stable', async () => {
    const { trial, balance } = await bench(way, { settleMilliseconds: 600 }, asked);
    balance.put(0.5);
    const taken = await trial.lines.take('BAL-1', 4000);
    expect(taken).toMatchObject({ taken: true, line: { text: '500.00', unit: 'mg' } });
    const heard = trial.lines.state('BAL-1')?.heard.map(({ decoded }) => decoded.says);
    expect(heard).toContain('unstable');
    // What was asked for is no press of the print key.
    expect(trial.readings()).toEqual([]);
  });

  it('is unplugged and comes back; what was half said before is never a reading', async () => {
    const { trial, balance, terminals } = await bench(way, {}, asked);
    balance.put(1);
    const half = balance.printAtOnce().slice(0, 6);
    await pause(250);
    await balance.print();
    await until(() => trial.readings().length === 1, 'the first reading');
    balance.garble(half);
    await balance.unplug();
    if (terminals) await terminals.pull();
    await until(() => trial.lines.state('BAL-1')?.state === 'lost', 'lost');
    expect(trial.lines.state('BAL-1')?.why).toBeTruthy();
    expect(await trial.lines.take('BAL-1', 1000)).toMatchObject({
      taken: false,
      because: 'not connected',
    });
    if (terminals) await terminals.plugIn();
    await balance.plugIn();
    await trial.settled();
    balance.put(2);
    await balance.print();
    await until(() => trial.readings().length === 2, 'the reading after it came back');
    expect(trial.readings()).toEqual(['1000.00 mg', '2000.00 mg']);
  });

  it('makes no reading of half lines and garbage, and goes on after them', async () => {
    const { trial, balance } = await bench(way);
    balance.garble('ST,GS,+  12');
    await pause(600);
    balance.garble('34.56 mg\r\n');
    balance.garble('\u0000\u00ff{]~\r\nST,GS,+12.34.5 mg\r\nxyzzy\r\n');
    balance.garble(`${'9'.repeat(5000)}\r\n`);
    balance.put(0.25);
    await balance.print();
    await until(() => trial.readings().length > 0, 'a reading');
    expect(trial.readings()).toEqual(['250.00 mg']);
    const told = trial.news.filter(({ news }) => news === 'no reading');
    expect(told).toHaveLength(5);
  });

  it('is refused while it is overloaded, unstable or silent', async () => {
    const { trial, balance } = await bench(way, {}, asked);
    balance.put(25);
    expect(await trial.lines.take('BAL-1', 3000)).toMatchObject({ because: 'overload' });
    balance.put(1);
    balance.setFault('unstable');
    expect(await trial.lines.take('BAL-1', 700)).toMatchObject({
      because: 'unstable',
      heard: { decoded: { says: 'unstable' } },
    });
    balance.setFault('silent');
    expect(await trial.lines.take('BAL-1', 400)).toMatchObject({ because: 'silent', heard: null });
    balance.setFault('none');
    await trial.settled();
    expect(await trial.lines.take('BAL-1', 3000)).toMatchObject({ taken: true });
  });

  it('keeps the unit that was sent, and knows none but the plant’s', async () => {
    const { trial, balance } = await bench(way, {}, asked);
    balance.put(1.5);
    await pause(220);
    const texts: string[] = [];
    for (const unit of ['mg', 'g', 'kg'] as const) {
      balance.show(unit);
      const taken = await trial.lines.take('BAL-1', 2000);
      texts.push(taken?.taken ? `${taken.line.text} ${taken.line.unit}` : 'nothing');
    }
    expect(texts).toEqual(['1500.00 mg', '1.50000 g', '0.00150000 kg']);
    balance.garble('ST,GS,+7.5 ct\r\n');
    await until(() => trial.news.some(({ news }) => news === 'no reading'), 'no reading');
    expect(trial.readings()).toEqual([]);
  });
});

describe('a line', () => {
  it('takes a key that sends twice for one press', async () => {
    const { trial, balance } = await bench('TCP');
    balance.put(0.25);
    await balance.print();
    balance.printAtOnce();
    balance.put(0.26);
    await balance.print();
    await until(() => trial.readings().length >= 2, 'two readings');
    await pause(50);
    expect(trial.readings()).toEqual(['250.00 mg', '260.00 mg']);
  });

  it('that names its unit only once it is stable gives no reading before', async () => {
    const dialect = { shape: 'unit when stable', decimalSign: 'comma' } as const;
    const { trial, balance } = await bench('TCP', { dialect, unit: 'g', settleMilliseconds: 400 });
    balance.put(5);
    balance.printAtOnce();
    await until(() => trial.news.some(({ news }) => news === 'no reading'), 'no reading');
    expect(trial.readings()).toEqual([]);
    await balance.print();
    await until(() => trial.readings().length > 0, 'a reading');
    expect(trial.readings()).toEqual(['5.00000 g']);
    const [last] = trial.lines.state('BAL-1')?.heard ?? [];
    expect(last?.raw).toBe('+   5,00000 g');
  });

  it('that sends all the time fills nothing by itself, and gives its next stable value', async () => {
    const often = { everyMilliseconds: 50, settleMilliseconds: 300 };
    const { trial, balance } = await bench('TCP', often, { sendsAllTheTime: true });
    balance.put(3);
    await untilAtRest(trial, '3000.00');
    expect(await trial.lines.take('BAL-1', 3000)).toMatchObject({ line: { text: '3000.00' } });
    balance.put(4);
    expect(await trial.lines.take('BAL-1', 3000)).toMatchObject({ line: { text: '4000.00' } });
    expect(trial.readings()).toEqual([]);
  });

  it('that says one and the same thing since the last reading gives no second one: it may be stuck', async () => {
    const often = { everyMilliseconds: 50 };
    const { trial, balance } = await bench('TCP', often, { sendsAllTheTime: true });
    balance.put(3);
    await untilAtRest(trial, '3000.00');
    expect(await trial.lines.take('BAL-1', 3000)).toMatchObject({ line: { text: '3000.00' } });
    balance.setFault('stuck');
    balance.put(4);
    expect(await trial.lines.take('BAL-1', 600)).toMatchObject({ because: 'unchanged' });
    balance.setFault('none');
    expect(await trial.lines.take('BAL-1', 3000)).toMatchObject({ line: { text: '4000.00' } });
  });

  it('answers one person at a time', async () => {
    const { trial, balance } = await bench('TCP', { settleMilliseconds: 500 }, asked);
    balance.put(1);
    const first = trial.lines.take('BAL-1', 3000);
    expect(await trial.lines.take('BAL-1', 3000)).toMatchObject({ because: 'busy' });
    expect(await first).toMatchObject({ taken: true });
  });

  it('that answers too late has not pressed its print key', async () => {
    const { trial, balance } = await bench('a pseudo-terminal', {}, asked);
    balance.setFault('silent');
    balance.put(1);
    expect(await trial.lines.take('BAL-1', 300)).toMatchObject({ because: 'silent' });
    balance.setFault('none');
    await balance.print();
    await pause(100);
    expect(trial.readings()).toEqual([]);
    balance.put(2);
    await balance.print();
    await until(() => trial.readings().length > 0, 'a reading');
    expect(trial.readings()).toEqual(['2000.00 mg']);
  });

  it('is closed when its instrument is taken off, and opened anew when its settings change', async () => {
    const { trial, balance } = await bench('TCP');
    const one = trial.lines.state('BAL-1');
    expect(one).toMatchObject({ state: 'connected', canBeAsked: false, silentSince: null });
    trial.lines.set([]);
    expect(trial.lines.states()).toEqual([]);
    expect(await trial.lines.take('BAL-1', 500)).toBeUndefined();
    const port = 'tcp' in balance.end ? balance.end.tcp : 0;
    const line = { kind: 'tcp', host: '127.0.0.1', port } as const;
    await trial.connect(line, { ...statusFirst, stable: 'S' });
    balance.put(1);
    await balance.print();
    await until(() => trial.news.some(({ news }) => news === 'no reading'), 'no reading');
    expect(trial.lines.state('BAL-1')?.heard[0]?.decoded).toEqual({
      says: 'not understood',
      why: 'ST is no status that is set',
    });
  });
});
