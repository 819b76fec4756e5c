import type { BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import { defineKind } from '../../../journal/station.ts';
import { instruments } from '../books.ts';
import {
  type InstrumentChecked as CheckedBody,
  calibrationDoubted,
  type CalibrationDoubted as DoubtedBody,
  instrumentChecked,
} from './bodies.ts';
import { instrumentChecks, suspectIntervals } from './books.ts';
import { wordsOfCheck } from './judge.ts';

async function applyCheck(books: BookWriter, entry: RecordedEntry<CheckedBody>): Promise<void> {
  const { body, number, instant, author } = entry;
  await books.put(instrumentChecks, { ...body, entry: number, instant, author });
  const row = await books.get(instruments, body.instrument);
  if (!row) return;
  const { stopped, ...working } = row;
  // A weight that reads right does not heal a calibration that is wrong elsewhere.
  if (stopped?.cause === 'calibration') return;
  if (body.passes) {
    await books.put(instruments, { ...working, lastGood: number });
    return;
  }
  // While it is stopped nothing is measured with it: a further failure makes nothing else doubtful.
  if (stopped) return;
  const words = wordsOfCheck(body);
  await books.put(instruments, {
    ...row,
    stopped: { cause: 'check', entry: number, instant, words },
  });
  await books.put(suspectIntervals, {
    instrument: body.instrument,
    from: body.lastGood,
    through: number,
    throughInstant: instant,
    words,
    cause: 'check',
  });
}

async function applyDoubt(books: BookWriter, entry: RecordedEntry<DoubtedBody>): Promise<void> {
  const { body, number, instant } = entry;
  const row = await books.get(instruments, body.instrument);
  if (!row) return;
  const words = body.reason;
  const stopped = { cause: 'calibration' as const, entry: number, instant, words };
  await books.put(instruments, { ...row, stopped });
  await books.put(suspectIntervals, {
    instrument: body.instrument,
    from: body.calibration,
    through: number,
    throughInstant: instant,
    words,
    cause: 'calibration',
  });
}

export const InstrumentChecked = defineKind<CheckedBody>({
  kind: 'InstrumentChecked',
  version: 1,
  station: 'registers',
  meaning:
    'An instrument was checked against a standard between calibrations. A failed check stops it and puts in doubt what it gave since the last good one; a passed check opens it again and clears nothing that is in doubt.',
  body: instrumentChecked,
  postings: 'moves nothing',
  things: (body) => [
    { thing: 'instrument', id: body.instrument },
    ...body.check.points.map(({ checkStandard }) => ({
      thing: 'check-standard',
      id: checkStandard,
    })),
  ],
  apply: applyCheck,
});

export const CalibrationDoubted = defineKind<DoubtedBody>({
  kind: 'CalibrationDoubted',
  version: 1,
  station: 'registers',
  meaning:
    'The calibration of an instrument was found wrong. The instrument is stopped, and what it gave since that calibration is in doubt, also what came before checks that passed.',
  body: calibrationDoubted,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'instrument', id: body.instrument }],
  apply: applyDoubt,
});

export const instrumentCheckKinds = [InstrumentChecked, CalibrationDoubted] as const;
