import { type Refusal, refuse } from '../../../journal/refusal.ts';
import type { Instrument } from '../instruments.ts';
import { instrumentCheckRefusals } from './refusals.ts';

/** Refuses an instrument that failed its last check or is calibrated wrongly; every station gives this refusal. */
export function stoppedInstrument(instrument: Instrument, field: string): readonly Refusal[] {
  const { stopped, title } = instrument;
  if (!stopped) return [];
  return [
    refuse(instrumentCheckRefusals, 'InstrumentStopped', {
      message:
        stopped.cause === 'calibration'
          ? `The calibration of ${title} was found wrong in entry ${stopped.entry}. ${stopped.words}`
          : `${title} failed its check in entry ${stopped.entry}. ${stopped.words}`,
      field,
      figures: {
        instrument: instrument.instrument,
        entry: stopped.entry,
        since: stopped.instant,
      },
    }),
  ];
}
