import type { BookReader } from '../../../journal/books.ts';
import type {
  ConnectedInstrument,
  LineSettings,
  Measurement,
} from '../../../ports/instrument-line.ts';
import { instruments } from '../books.ts';
import type { InstrumentKind } from '../instruments.ts';
import { type InstrumentLineRow, instrumentLines } from './books.ts';

/** The end of a line, as no two instruments share it. */
export function endOf(line: LineSettings): string {
  return line.kind === 'serial' ? line.path : `${line.host.toLowerCase()}:${line.port}`;
}

/** The kinds of instruments whose lines can be readings, or the points of a titration. */
export const sendingKinds: readonly InstrumentKind[] = [
  'balance',
  'micrometer',
  'gauge',
  'burette',
];

function measuresOf(kind: InstrumentKind, { dialect }: InstrumentLineRow): Measurement {
  if (kind === 'balance') return 'mass';
  if (kind === 'burette') return 'titration';
  return dialect.shape === 'number alone' && dialect.unit === 'HV' ? 'hardness' : 'length';
}

/** What an instrument of the register measures; nothing of a gauge, which may measure this or that. */
export async function measurementOf(
  books: BookReader,
  instrument: string,
): Promise<Measurement | undefined> {
  const registered = await books.get(instruments, instrument);
  if (registered?.kind === 'balance') return 'mass';
  return registered?.kind === 'micrometer' ? 'length' : undefined;
}

/** Every instrument that stands on a line, as whoever reads the lines needs them. */
export async function connectedInstruments(
  books: BookReader,
): Promise<readonly ConnectedInstrument[]> {
  const connected: ConnectedInstrument[] = [];
  for (const row of await books.select(instrumentLines)) {
    const registered = await books.get(instruments, row.instrument);
    if (!registered) continue;
    const { instrument, line, asks, sendsAllTheTime, dialect } = row;
    const measures = measuresOf(registered.kind, row);
    const { title } = registered;
    connected.push({ instrument, title, measures, line, asks, sendsAllTheTime, dialect });
  }
  return connected;
}
