import type { Reading } from '../journal/reading.ts';
import { type Measurement, measuredIn } from '../ports/instrument-line.ts';
import { typedDecimal } from './number-text.ts';
import type { SentReading } from './plant-client.ts';

/** A reading while it is being made: what stands in the field, not yet held to be a number. */
export interface ReadingDraft {
  readonly text: string;
  readonly unit: Reading['unit'];
  readonly typed: boolean;
  /** The line that it came in, for a reading of an instrument on a line of its own. */
  readonly received?: string;
  /** The instrument that sent it by its line. */
  readonly instrument?: string;
  /** True when a tare was taken off at the instrument. */
  readonly net?: boolean;
}

/** An empty reading in that unit. */
export function emptyReading(unit: Reading['unit']): ReadingDraft {
  return { text: '', unit, typed: true };
}

/** A reading as a line brought it. */
export function sentDraft({ reading, instrument, net }: SentReading): ReadingDraft {
  return { ...reading, instrument, net };
}

/**
 * The reading as commands take it. Text that is no number goes as it stands, so that the plant
 * refuses it by name; an empty field is nothing.
 */
export function readingOf(draft: ReadingDraft): Reading | null {
  const { text, unit, typed, received } = draft;
  if (text.trim() === '') return null;
  if (typed) return { text: typedDecimal(text) ?? text, unit, typed };
  return received === undefined ? { text, unit, typed } : { text, unit, typed, received };
}

/** Where the reading comes from, in words; nothing while there is none. */
export function originWords({ text, typed, instrument, net }: ReadingDraft): string {
  if (text === '') return '';
  if (typed) return 'typed by hand';
  const sender = instrument === undefined ? '' : `: ${instrument}`;
  return `as the instrument sent it${sender}${net ? ', net of a tare taken there' : ''}`;
}

/** What a unit measures: a field takes readings in every unit of the same kind. */
export function measurementOf(unit: Reading['unit']): Measurement {
  return measuredIn[unit];
}
