import { createServer, type Server, type Socket } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import type { VolumeAndPotential } from '../../ports/instrument-dialect.ts';
import { LinesOnTrial, until } from './line-trial.ts';
import { StreamedCurves } from './streamed-curves.ts';

const at = (minute: number) => ({
  instant: new Date(Date.UTC(2026, 2, 2, 10, minute)).toISOString(),
  potentialUnit: 'mV' as const,
});
const point = (volume: string, potential: string) => ({ volume, potential });

describe('the points of a titrator', () => {
  it('make a curve, with their digits, as they come', () => {
    const streamed = new StreamedCurves();
    streamed.take(point('0.500', '312.40'), at(0));
    streamed.take(point('1.000', '311.0'), at(1));
    expect(streamed.curves).toEqual([
      {
        begun: '2026-03-02T10:00:00.000Z',
        lastAt: '2026-03-02T10:01:00.000Z',
        potentialUnit: 'mV',
        points: [point('0.500', '312.40'), point('1.000', '311.0')],
        gap: null,
      },
    ]);
  });

  it('are the same point again where the volume stands still while the potential settles', () => {
    const streamed = new StreamedCurves();
    streamed.take(point('1.0', '300.0'), at(0));
    streamed.take(point('1.00', '298.2'), at(0));
    expect(streamed.curves[0]?.points).toEqual([point('1.00', '298.2')]);
  });

  it('begin the next curve when the volume falls, and after a long silence', () => {
    const streamed = new StreamedCurves();
    streamed.take(point('27.5', '-100'), at(0));
    streamed.take(point('0.5', '300'), at(5));
    streamed.take(point('1.0', '299'), at(19));
    streamed.take(point('1.5', '305'), at(35));
    expect(streamed.curves.map(({ points }) => points.length)).toEqual([1, 2, 1]);
  });

  it('are kept of the last 12 vessels, and no more than 2000 of each', () => {
    const streamed = new StreamedCurves();
    for (let vessel = 0; vessel < 30; vessel += 1)
      streamed.take(point(String(30 - vessel), '1'), at(vessel));
    expect(streamed.curves).toHaveLength(12);
    for (let more = 0; more < 2100; more += 1) streamed.take(point(String(40 + more), '1'), at(30));
    expect(streamed.curves[0]?.points).toHaveLength(2000);
  });

  it('tell that one may be missing, by the first cause', () => {
    const streamed = new StreamedCurves();
    streamed.miss('nothing runs');
    expect(streamed.curves).toEqual([]);
    streamed.take(point('1', '300'), at(0));
    streamed.miss('the line was lost');
    streamed.miss('another cause');
    streamed.take(point('2', '299'), at(1));
    expect(streamed.curves[0]).toMatchObject({ gap: 'the line was lost', points: [{}, {}] });
  });
});

const pairs: VolumeAndPotential = {
  shape: 'volume and potential',
  decimalSign: 'comma',
  partedBy: 'semicolon',
  potentialUnit: 'mV',
};

describe('a titrator on a line of the network', () => {
  let titrator: Server;
  let trial: LinesOnTrial;
  afterEach(async () => {
    await trial.close();
    titrator.close();
  });

  it('is collected live, and what it sends fills no field', async () => {
    const sockets: Socket[] = [];
    titrator = createServer((socket) => sockets.push(socket));
    await new Promise<void>((listening) => titrator.listen(0, '127.0.0.1', listening));
    const { port } = titrator.address() as { port: number };
    trial = new LinesOnTrial();
    await trial.connect({ kind: 'tcp', host: '127.0.0.1', port }, pairs, { measures: 'titration' });
    const send = (text: string) => sockets.at(-1)?.write(text);
    const curves = () => trial.lines.curves('BAL-1') ?? [];
    expect(curves()).toEqual([]);
    send('0,500; 312,4\r\n1,000; 311,0\r\n');
    await until(() => curves()[0]?.points.length === 2, 'two points');
    send('1,500; 30');
    send('8,9\r\n');
    await until(() => curves()[0]?.points.length === 3, 'a third point');
    expect(curves()[0]).toMatchObject({
      points: [point('0.500', '312.4'), point('1.000', '311.0'), point('1.500', '308.9')],
      gap: null,
    });
    send('2,000 and more\r\n');
    await until(() => curves()[0]?.gap !== null, 'a gap');
    expect(curves()[0]?.gap).toBe('“2,000 and more” was not understood');
    expect(trial.news.filter(({ news }) => news !== 'state')).toEqual([]);
    expect(trial.lines.curves('BAL-9')).toBeUndefined();
  });

  it('whose line is lost says that points may be missing', async () => {
    const sockets: Socket[] = [];
    titrator = createServer((socket) => sockets.push(socket));
    await new Promise<void>((listening) => titrator.listen(0, '127.0.0.1', listening));
    const { port } = titrator.address() as { port: number };
    trial = new LinesOnTrial();
    await trial.connect({ kind: 'tcp', host: '127.0.0.1', port }, pairs, { measures: 'titration' });
    sockets.at(-1)?.write('0,500; 312,4\r\n');
    const gap = () => trial.lines.curves('BAL-1')?.[0]?.gap;
    await until(() => gap() === null, 'a point');
    sockets.at(-1)?.destroy();
    await until(() => gap() === 'the line was lost', 'the loss');
    await trial.settled();
    sockets.at(-1)?.write('1,000; 311,0\r\n');
    await until(() => trial.lines.curves('BAL-1')?.[0]?.points.length === 2, 'the next point');
  });
});
