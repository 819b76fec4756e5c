import type { BookReader } from '../../journal/books.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import {
  type Instrument,
  instrumentOf,
  isCalibrationOverdue,
  plantDay,
  stoppedInstrument,
} from '../registers/index.ts';
import { putUpRefusals } from './refusals.ts';

/** What a balance adds to the uncertainty of a mass. */
export interface Balance {
  readonly instrument: string;
  readonly title: string;
  readonly calibrationDue: string;
  readonly divisionGrams: number;
  readonly repeatabilityGrams: number;
  readonly gainRelative: number;
}

/** A balance as an input names it. */
export interface NamedBalance {
  readonly named: string;
  readonly instrument: Instrument | undefined;
  /** Nothing where the instrument is none, or weighs nothing. */
  readonly balance: Balance | undefined;
  /** The calendar day at the plant. */
  readonly day: string;
}

function balanceOf(instrument: Instrument | undefined): Balance | undefined {
  if (instrument?.kind !== 'balance') return undefined;
  const { divisionGrams, repeatabilityGrams, gainRelative, title, calibrationDue } = instrument;
  if (divisionGrams === null || repeatabilityGrams === null || gainRelative === null) {
    return undefined;
  }
  return {
    instrument: instrument.instrument,
    title,
    calibrationDue,
    divisionGrams,
    repeatabilityGrams,
    gainRelative,
  };
}

/** Looks a balance up. */
export async function namedBalance(
  books: BookReader,
  named: string,
  instant: string,
): Promise<NamedBalance> {
  const instrument = await instrumentOf(books, named);
  return {
    named,
    instrument,
    balance: balanceOf(instrument),
    day: await plantDay(books, instant),
  };
}

/** Why the balance gives no reading that counts today; nothing when it does. */
export function balanceRefusals(found: NamedBalance): readonly Refusal[] {
  const { named, instrument, balance, day } = found;
  if (!instrument || !balance) {
    const state = instrument ? `is a ${instrument.kind}` : 'is not registered';
    return [
      refuse(putUpRefusals, 'InstrumentUnfit', {
        message: `${named} ${state}; this reading comes from a balance.`,
        field: 'instrument',
        figures: { instrument: named, kind: instrument?.kind ?? null },
      }),
    ];
  }
  if (!isCalibrationOverdue(instrument, day)) return stoppedInstrument(instrument, 'instrument');
  return [
    refuse(putUpRefusals, 'CalibrationOverdue', {
      message: `The calibration of ${balance.title} was due on ${balance.calibrationDue}; today is ${day}.`,
      field: 'instrument',
      figures: { instrument: named, calibrationDue: balance.calibrationDue, day },
    }),
  ];
}
