import { type Refusal, refuse } from '../../journal/refusal.ts';
import type { RunRow } from './books.ts';
import { pressRoomRefusals } from './refusals.ts';

/** Refuses a run that was never opened. */
export function runUnknown(run: string): Refusal {
  return refuse(pressRoomRefusals, 'RunUnknown', {
    message: `No run ${run} was opened.`,
    field: 'run',
    figures: { run },
  });
}

/** Refuses a run whose dies are out of the press. */
export function runClosed(run: RunRow): Refusal {
  return refuse(pressRoomRefusals, 'RunAlreadyClosed', {
    message: `Run ${run.run} was closed on ${run.closedInstant}.`,
    field: 'run',
    figures: { run: run.run, closed: run.closedInstant },
  });
}
