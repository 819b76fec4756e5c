import { type Refusal, refuse } from '../journal/refusal.ts';
import {
  type InstrumentLines,
  type Measurement,
  measuredIn,
  type ReceivedLine,
} from '../ports/instrument-line.ts';
import { type InstrumentRefusal, instrumentRefusals } from './instrument-refusals.ts';

/** A reading of an input that names the line it came in. */
interface NamedReading {
  readonly path: string;
  readonly text: unknown;
  readonly unit: unknown;
  readonly received: string;
  /** Instruments that the input names around the reading, the nearest first. */
  readonly named: readonly string[];
}

type Fields = Readonly<Record<string, unknown>>;

/** The instruments that an object names for the field inside it. */
function namedBy(object: Fields, field: string): readonly string[] {
  const each = object['instruments'];
  const own = typeof each === 'object' && each !== null ? (each as Fields)[field] : undefined;
  const names = [own, object['balance'], object['micrometer'], object['instrument']];
  return names.filter((name) => typeof name === 'string');
}

function readingsIn(
  value: unknown,
  path: readonly string[] = [],
  around: readonly Fields[] = [],
): readonly NamedReading[] {
  if (typeof value !== 'object' || value === null) return [];
  const fields = value as Fields;
  const { text, unit, typed, received } = fields;
  if (typeof received === 'string' && typed === false) {
    const named = around.flatMap((object) => namedBy(object, path.at(-1) ?? ''));
    return [{ path: path.join('.'), text, unit, received, named }];
  }
  const inside = Array.isArray(value) ? around : [fields, ...around];
  return Object.entries(fields).flatMap(([name, part]) =>
    readingsIn(part, [...path, name], inside),
  );
}

function refusalOf(
  name: InstrumentRefusal,
  reading: NamedReading,
  message: string,
): readonly Refusal[] {
  const { path, received } = reading;
  return [
    refuse(instrumentRefusals, name, { message, field: `${path}.text`, figures: { received } }),
  ];
}

/** What lines and instruments are asked for. */
interface Evidence {
  readonly lines: InstrumentLines | undefined;
  /** What an instrument of the register measures; nothing when it is unknown or measures otherwise. */
  readonly measures: (instrument: string) => Promise<Measurement | undefined>;
  readonly until: string;
}

/** The instrument that is named for a reading of that line: the nearest one that measures the same. */
async function instrumentNamed(
  reading: NamedReading,
  line: ReceivedLine,
  { measures }: Evidence,
): Promise<string | undefined> {
  for (const instrument of reading.named) {
    if ((await measures(instrument)) === measuredIn[line.unit]) return instrument;
  }
  return undefined;
}

async function compare(reading: NamedReading, evidence: Evidence): Promise<readonly Refusal[]> {
  const { path, text, unit, received } = reading;
  const line = await evidence.lines?.received(received, evidence.until);
  if (!line) {
    const message = `${path} names a line that has not come in the last 400 days.`;
    return refusalOf('ReceivedLineUnknown', reading, message);
  }
  if (line.text !== text || line.unit !== unit) {
    const message = `${path} is ${String(text)} ${String(unit)}; the line says ${line.text} ${line.unit}.`;
    return refusalOf('ReceivedLineDiffers', reading, message);
  }
  const instrument = await instrumentNamed(reading, line, evidence);
  if (instrument !== undefined && instrument !== line.instrument) {
    const message = `${path} came from ${line.instrument}; ${instrument} is named.`;
    return refusalOf('ReceivedFromAnother', reading, message);
  }
  return [];
}

/**
 * Holds every reading of an input that names a received line against that line, so that nobody can
 * make one up. Readings that name none are no worse and no better than before.
 */
export async function receivedRefusals(
  input: unknown,
  evidence: Evidence,
): Promise<readonly Refusal[]> {
  const seen = new Set<string>();
  for (const reading of readingsIn(input)) {
    const refusals = await compare(reading, evidence);
    if (refusals.length > 0) return refusals;
    if (seen.has(reading.received)) {
      const message = `${reading.path} comes from the same line as another reading of this act.`;
      return refusalOf('ReceivedLineTwice', reading, message);
    }
    seen.add(reading.received);
  }
  return [];
}
