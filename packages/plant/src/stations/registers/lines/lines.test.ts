import { describe, expect, it } from 'vitest';
import { connectedInstruments, measurementOf } from '../index.ts';
import { type RegistersTrial, trialOfRegisters } from '../registers-trial.ts';
import { drumBalance } from '../trial-registers.ts';

const serial = {
  kind: 'serial',
  path: '/dev/ttyUSB0',
  baudRate: 9600,
  dataBits: 8,
  parity: 'none',
  stopBits: 1,
  flow: 'none',
};
const statusFirst = {
  shape: 'status first',
  decimalSign: 'point',
  stable: 'ST',
  unstable: 'US',
  overload: 'OL',
  net: 'NT',
  gross: null,
};
const onSerial = {
  instrument: 'BALANCE-1',
  line: serial,
  asks: { text: 'READ', end: 'CR LF' },
  sendsAllTheTime: false,
  dialect: statusFirst,
};
const onSocket = {
  instrument: 'GAUGE-1',
  line: { kind: 'tcp', host: 'gauge.plant', port: 4001 },
  asks: null,
  sendsAllTheTime: false,
  dialect: { shape: 'number alone', decimalSign: 'comma', unit: 'mm' },
};

const titrator = {
  instrument: 'BURETTE-1',
  line: { kind: 'tcp', host: 'titrator.plant', port: 4002 },
  asks: null,
  sendsAllTheTime: true,
  dialect: {
    shape: 'volume and potential',
    decimalSign: 'point',
    partedBy: 'semicolon',
    potentialUnit: 'mV',
  },
};

const noWeighing = { divisionGrams: null, repeatabilityGrams: null, gainRelative: null };

async function registered(): Promise<RegistersTrial> {
  const trial = await trialOfRegisters();
  await trial.recorded('register-instrument', drumBalance);
  const gauge = { ...drumBalance, ...noWeighing, instrument: 'GAUGE-1', title: 'Gauge' };
  await trial.recorded('register-instrument', { ...gauge, kind: 'gauge' });
  const press = { ...gauge, instrument: 'PRESS-1', title: 'Press', kind: 'press' };
  await trial.recorded('register-instrument', press);
  const burette = { ...gauge, instrument: 'BURETTE-1', title: 'Burette', kind: 'burette' };
  await trial.recorded('register-instrument', burette);
  return trial;
}

describe('an instrument', () => {
  it('is connected to a serial port or a socket, and connected anew', async () => {
    const trial = await registered();
    expect(await trial.recorded('connect-instrument', onSerial)).toEqual([
      { kind: 'InstrumentConnected', body: onSerial },
    ]);
    await trial.recorded('connect-instrument', onSocket);
    const faster = { ...onSerial, line: { ...serial, baudRate: 19_200 } };
    await trial.recorded('connect-instrument', faster);
    expect(await connectedInstruments(trial.books)).toEqual([
      { ...faster, title: 'Drum balance', measures: 'mass' },
      { ...onSocket, title: 'Gauge', measures: 'length' },
    ]);
    const answer = await trial.ask('instrument-line', { instrument: 'BALANCE-1' }, 'chief');
    expect(answer).toMatchObject({ registered: drumBalance, line: faster });
    expect(await trial.ask('instrument-line', { instrument: 'PRESS-1' }, 'chief')).toMatchObject({
      line: null,
    });
    expect(await trial.ask('instrument-line', { instrument: 'NONE' }, 'chief')).toBeNull();
  });

  it('measures hardness when its numbers are HV', async () => {
    const trial = await registered();
    const hardness = { ...onSocket, dialect: { ...onSocket.dialect, unit: 'HV' } };
    await trial.recorded('connect-instrument', hardness);
    expect(await connectedInstruments(trial.books)).toMatchObject([{ measures: 'hardness' }]);
  });

  it('titrates when it is a burette, and is no measuring instrument of a field', async () => {
    const trial = await registered();
    await trial.recorded('connect-instrument', titrator);
    expect(await connectedInstruments(trial.books)).toMatchObject([{ measures: 'titration' }]);
    expect(await measurementOf(trial.books, 'BURETTE-1')).toBeUndefined();
  });

  it('of the register measures by its kind; a gauge may measure this or that', async () => {
    const trial = await registered();
    const ids = ['BALANCE-1', 'GAUGE-1', 'PRESS-1', 'NONE'];
    const measured = await Promise.all(ids.map((id) => measurementOf(trial.books, id)));
    expect(measured).toEqual(['mass', undefined, undefined, undefined]);
  });

  it('is taken off its line, which is then free for another', async () => {
    const trial = await registered();
    await trial.recorded('connect-instrument', onSerial);
    expect(await trial.recorded('disconnect-instrument', { instrument: 'BALANCE-1' })).toEqual([
      { kind: 'InstrumentDisconnected', body: { instrument: 'BALANCE-1' } },
    ]);
    expect(await connectedInstruments(trial.books)).toEqual([]);
    await trial.recorded('connect-instrument', { ...onSocket, line: serial });
  });
});

describe('connecting is refused', () => {
  it.each<[string, string, string, object]>([
    [
      'an instrument that is not registered',
      'InstrumentUnknown',
      'instrument',
      { instrument: 'X' },
    ],
    [
      'an instrument that sends no readings',
      'InstrumentSendsNoReadings',
      'instrument',
      { instrument: 'PRESS-1' },
    ],
    [
      'volumes with potentials that come from no burette',
      'ShapeUnfit',
      'dialect.shape',
      { dialect: titrator.dialect },
    ],
    [
      'a burette that sends single numbers',
      'ShapeUnfit',
      'dialect.shape',
      { ...titrator, dialect: statusFirst },
    ],
    [
      'numbers all the time that do not say whether they are stable',
      'StabilityNotTold',
      'sendsAllTheTime',
      { sendsAllTheTime: true, dialect: onSocket.dialect },
    ],
  ])('to %s: %s', async (_what, refusal, field, change) => {
    const trial = await registered();
    expect(await trial.refused('connect-instrument', { ...onSerial, ...change })).toMatchObject([
      { refusal, field },
    ]);
  });

  it.each<[object, string]>([
    [serial, 'line.path'],
    [{ kind: 'tcp', host: 'Bench.Plant', port: 4001 }, 'line.port'],
  ])('to a second instrument on a line that is taken: LineTaken', async (line, field) => {
    const trial = await registered();
    await trial.recorded('connect-instrument', { ...onSerial, line });
    expect(await trial.refused('connect-instrument', { ...onSocket, line })).toMatchObject([
      { refusal: 'LineTaken', field, figures: { instrument: 'BALANCE-1', entry: 5 } },
    ]);
  });

  it.each<[string, object, string]>([
    ['a file of the server', { line: { ...serial, path: '/etc/passwd' } }, 'line.path'],
    ['a way round to one', { line: { ...serial, path: '/dev/../etc/passwd' } }, 'line.path'],
    ['an unknown speed', { line: { ...serial, baudRate: 9601 } }, 'line.baudRate'],
    ['no host', { line: { kind: 'tcp', host: '', port: 4001 } }, 'line.host'],
    ['no port', { line: { kind: 'tcp', host: 'bench', port: 0 } }, 'line.port'],
    ['a line end in the text', { asks: { text: 'A\r\nB', end: 'CR' } }, 'asks.text'],
    ['one mark for two states', { dialect: { ...statusFirst, unstable: 'ST' } }, 'dialect.stable'],
    [
      'a decimal sign that also parts the two',
      { ...titrator, dialect: { ...titrator.dialect, decimalSign: 'comma', partedBy: 'comma' } },
      'dialect.partedBy',
    ],
    ['an empty mark', { dialect: { ...statusFirst, overload: '' } }, 'dialect.overload'],
  ])('with %s: InputNotAccepted', async (_what, change, field) => {
    const trial = await registered();
    expect(await trial.refused('connect-instrument', { ...onSerial, ...change })).toMatchObject([
      { refusal: 'InputNotAccepted', field },
    ]);
  });

  it('taken back for an instrument that is on no line: InstrumentNotOnLine', async () => {
    const trial = await registered();
    expect(await trial.refused('disconnect-instrument', { instrument: 'BALANCE-1' })).toMatchObject(
      [{ refusal: 'InstrumentNotOnLine' }],
    );
  });
});
