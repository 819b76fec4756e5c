import type { BookReader } from '../../journal/books.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import {
  type Instrument,
  type InstrumentKind,
  instrumentOf,
  isCalibrationOverdue,
  plantDay,
  stoppedInstrument,
} from '../registers/index.ts';
import { pressRoomRefusals } from './refusals.ts';

/** An instrument as an input names it, with what the register says of it today. */
export interface NamedInstrument {
  readonly named: string;
  readonly instrument: Instrument | undefined;
  /** The calendar day at the plant. */
  readonly day: string;
}

/** Looks an instrument up. */
export async function namedInstrument(
  books: BookReader,
  named: string,
  instant: string,
): Promise<NamedInstrument> {
  return {
    named,
    instrument: await instrumentOf(books, named),
    day: await plantDay(books, instant),
  };
}

/** Why the instrument cannot give a reading of that kind today; nothing when it can. */
export function instrumentRefusals(
  found: NamedInstrument,
  wanted: { kinds: readonly InstrumentKind[]; field: string },
): readonly Refusal[] {
  const { named, instrument, day } = found;
  const { kinds, field } = wanted;
  if (!instrument || !kinds.includes(instrument.kind)) {
    const state = instrument ? `is a ${instrument.kind}` : 'is not registered';
    return [
      refuse(pressRoomRefusals, 'InstrumentUnfit', {
        message: `${named} ${state}; this reading comes from a ${kinds.join(' or a ')}.`,
        field,
        figures: { instrument: named, kind: instrument?.kind ?? null, accepted: [...kinds] },
      }),
    ];
  }
  if (!isCalibrationOverdue(instrument, day)) return stoppedInstrument(instrument, field);
  return [
    refuse(pressRoomRefusals, 'CalibrationOverdue', {
      message: `The calibration of ${instrument.title} was due on ${instrument.calibrationDue}; today is ${day}.`,
      field,
      figures: { instrument: named, calibrationDue: instrument.calibrationDue, day },
    }),
  ];
}
