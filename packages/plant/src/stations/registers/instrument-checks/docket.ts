import type { BookReader } from '../../../journal/books.ts';
import type { DocketPaper } from '../../../journal/station.ts';
import { instruments } from '../books.ts';

/** The instruments that a failed check has stopped. */
export async function stoppedDocket(books: BookReader): Promise<readonly DocketPaper[]> {
  const rows = await books.select(instruments);
  return rows.flatMap(({ stopped, title, instrument }) =>
    stopped
      ? [
          {
            paper: `registers/stopped/${instrument}/${stopped.entry}`,
            station: 'registers',
            what:
              stopped.cause === 'calibration'
                ? `${title} was calibrated wrongly and is stopped.`
                : `${title} failed its check and is stopped.`,
            why: stopped.words,
            holdsUp: 'Every weighing or measurement with it',
            act:
              stopped.cause === 'calibration'
                ? 'Record a calibration'
                : 'Check the instrument again, or record a calibration',
            path: `/registers/instruments/${encodeURIComponent(instrument)}`,
            since: stopped.instant,
            weight: 'stopped' as const,
          },
        ]
      : [],
  );
}
