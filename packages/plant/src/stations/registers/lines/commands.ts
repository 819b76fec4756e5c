import type { BookReader } from '../../../journal/books.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import { type InstrumentRow, instruments } from '../books.ts';
import { registersRefusals } from '../refusals.ts';
import { type InstrumentConnected, instrumentConnected, instrumentDisconnected } from './bodies.ts';
import { type InstrumentLineRow, instrumentLines } from './books.ts';
import {
  InstrumentConnected as ConnectedKind,
  InstrumentDisconnected as DisconnectedKind,
} from './entries.ts';
import { endOf, sendingKinds } from './queries.ts';
import { lineRefusals } from './refusals.ts';

interface ConnectFacts {
  readonly registered: InstrumentRow | undefined;
  /** What is read on the same line. */
  readonly onLine: readonly InstrumentLineRow[];
}

async function connectFacts(books: BookReader, input: InstrumentConnected): Promise<ConnectFacts> {
  return {
    registered: await books.get(instruments, input.instrument),
    onLine: await books.select(instrumentLines, { by: 'byEnd', prefix: [endOf(input.line)] }),
  };
}

function unknown(instrument: string): Refusal {
  return refuse(registersRefusals, 'InstrumentUnknown', {
    message: `${instrument} is not in the register of instruments.`,
    field: 'instrument',
    figures: { instrument },
  });
}

function sendsNothing({ kind, title }: InstrumentRow): readonly Refusal[] {
  if (sendingKinds.includes(kind)) return [];
  return [
    refuse(lineRefusals, 'InstrumentSendsNoReadings', {
      message: `${title} is a ${kind}; readings come from a ${sendingKinds.join(', a ')}.`,
      field: 'instrument',
      figures: { kind, accepted: [...sendingKinds] },
    }),
  ];
}

/** Points of a titration come from a burette with its electrode, and from nothing else. */
function otherShape({ dialect }: InstrumentConnected, { kind, title }: InstrumentRow) {
  const sendsPoints = dialect.shape === 'volume and potential';
  if (!sendingKinds.includes(kind) || sendsPoints === (kind === 'burette')) return [];
  return [
    refuse(lineRefusals, 'ShapeUnfit', {
      message: sendsPoints
        ? `${title} is a ${kind}; volumes with potentials come from a burette.`
        : `${title} is a burette; its lines are volumes with potentials.`,
      field: 'dialect.shape',
      figures: { kind, shape: dialect.shape },
    }),
  ];
}

function lineTaken(input: InstrumentConnected, { onLine }: ConnectFacts): readonly Refusal[] {
  const other = onLine.find(({ instrument }) => instrument !== input.instrument);
  if (!other) return [];
  return [
    refuse(lineRefusals, 'LineTaken', {
      message: `${other.instrument} is read on ${other.end} since entry ${other.entry}.`,
      field: input.line.kind === 'serial' ? 'line.path' : 'line.port',
      figures: { end: other.end, instrument: other.instrument, entry: other.entry },
    }),
  ];
}

function stabilityNotTold(input: InstrumentConnected): readonly Refusal[] {
  if (!input.sendsAllTheTime || input.dialect.shape !== 'number alone') return [];
  return [
    refuse(lineRefusals, 'StabilityNotTold', {
      message: `${input.instrument} would send numbers all the time, and none of them says whether it is stable.`,
      field: 'sendsAllTheTime',
      figures: { shape: input.dialect.shape },
    }),
  ];
}

function decideConnecting(input: InstrumentConnected, facts: ConnectFacts): Decision {
  if (!facts.registered) return { refusals: [unknown(input.instrument)] };
  const refusals = [
    ...sendsNothing(facts.registered),
    ...otherShape(input, facts.registered),
    ...lineTaken(input, facts),
    ...stabilityNotTold(input),
  ];
  if (refusals.length > 0) return { refusals };
  return { entries: [draft(ConnectedKind, input, { instrument: input.instrument })] };
}

/** States on which line an instrument is read, for the first time or anew. */
const connectInstrument = defineCommand({
  command: 'connect-instrument',
  station: 'registers',
  title: 'Connect instrument',
  input: instrumentConnected,
  roles: ['chief assayer'],
  signature: 'author',
  facts: connectFacts,
  decide: decideConnecting,
});

const disconnectInstrument = defineCommand({
  command: 'disconnect-instrument',
  station: 'registers',
  title: 'Take instrument off its line',
  input: instrumentDisconnected,
  roles: ['chief assayer'],
  signature: 'author',
  facts: async (books, input) => ({ row: await books.get(instrumentLines, input.instrument) }),
  decide: (input, { row }) => {
    const { instrument } = input;
    if (row) return { entries: [draft(DisconnectedKind, input, { instrument })] };
    const refusal = refuse(lineRefusals, 'InstrumentNotOnLine', {
      message: `${instrument} is read on no line.`,
      field: 'instrument',
      figures: { instrument },
    });
    return { refusals: [refusal] };
  },
});

export const lineCommands = [connectInstrument, disconnectInstrument] as const;
