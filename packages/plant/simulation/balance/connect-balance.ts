import type { Outcome, Recorder } from '../../src/journal/recorder.ts';
import { askForValue, statusFirst } from './balance-voice.ts';
import type { Cable } from './cable.ts';

/** The register's entry for a simulated balance as it is set by itself. */
function connectInput(instrument: string, end: Cable['end']) {
  return {
    instrument,
    line:
      'tcp' in end
        ? { kind: 'tcp', host: '127.0.0.1', port: end.tcp }
        : {
            kind: 'serial',
            path: end.path,
            baudRate: 9600,
            dataBits: 8,
            parity: 'none',
            stopBits: 1,
            flow: 'none',
          },
    asks: askForValue,
    sendsAllTheTime: false,
    dialect: statusFirst,
  };
}

/** Connects a registered instrument to a simulated balance, in the name of a chief assayer. */
export async function connectBalance(
  recorder: Recorder,
  options: { readonly author: string; readonly instrument: string; readonly end: Cable['end'] },
): Promise<Outcome> {
  const { author, instrument, end } = options;
  const input = connectInput(instrument, end);
  return recorder.record({
    command: 'connect-instrument',
    input,
    author,
    signed: true,
    idempotencyKey: `connect-${instrument}`,
  });
}
