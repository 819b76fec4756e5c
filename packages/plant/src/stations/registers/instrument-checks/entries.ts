import type { BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import { defineKind } from '../../../journal/station.ts';
import { instruments } from '../books.ts';
import { type InstrumentChecked as CheckedBody, instrumentChecked } from './bodies.ts';
import { instrumentChecks, suspectIntervals } from './books.ts';
import { wordsOfCheck } from './judge.ts';

async function applyCheck(books: BookWriter, entry: RecordedEntry<CheckedBody>): Promise<void> {
  const { body, number, instant, author } = entry;
  await books.put(instrumentChecks, { ...body, entry: number, instant, author });
  const row = await books.get(instruments, body.instrument);
  if (!row) return;
  const { stopped, ...working } = row;
  if (body.passes) {
    await books.put(instruments, { ...working, lastGood: number });
    return;
  }
  // While it is stopped nothing is measured with it: a further failure makes nothing else doubtful.
  if (stopped) return;
  const words = wordsOfCheck(body);
  await books.put(instruments, { ...row, stopped: { entry: number, instant, words } });
  await books.put(suspectIntervals, {
    instrument: body.instrument,
    from: body.lastGood,
    through: number,
    throughInstant: instant,
    words,
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

export const instrumentCheckKinds = [InstrumentChecked] as const;
