import type { BookReader } from '../../journal/books.ts';
import type { DocketPaper } from '../../journal/station.ts';
import type { HoldRow, RunRow } from './books.ts';
import { openHolds, openRuns } from './queries.ts';

const station = 'press-room';

function holdPaper(hold: HoldRow): DocketPaper {
  return {
    paper: `press-room-hold-${hold.hold}`,
    station,
    what: `${hold.pieces} pieces are held after strike ${hold.strikeNumber} of run ${hold.run}: ${hold.words.replace(/\.$/, '')}.`,
    why: `A defect of ${hold.family} holds ${scopeWords(hold)}.`,
    holdsUp: `Delivery from ${[...new Set(hold.held.map(({ run }) => run))].join(', ')}.`,
    act: 'Rule on hold',
    path: `/press-room/holds/${hold.hold}`,
    since: hold.openedInstant,
    weight: 'stopped',
  };
}

function scopeWords(hold: HoldRow): string {
  if (hold.scope === 'melt') return `every piece struck from melt ${hold.melt}`;
  if (hold.scope === 'press and shift') return `what press ${hold.press} struck in ${hold.shift}`;
  const [bracket] = hold.held;
  return `strikes ${bracket?.strikeFrom} to ${bracket?.strikeTo} of the run`;
}

function waitingPaper(run: RunRow): DocketPaper {
  return {
    paper: `press-room-first-strike-${run.run}`,
    station,
    what: `Run ${run.run} in press ${run.press} waits for its first strike.`,
    why:
      run.lastStrike === 0
        ? 'The dies are in the press and nothing is approved.'
        : `Strike ${run.lastStrike} was a fault.`,
    holdsUp: `Striking of melt ${run.melt}.`,
    act: 'Record strike',
    path: `/press-room/runs/${run.run}`,
    since: run.openedInstant,
    weight: 'look',
  };
}

/** What waits in the press room: holds without a ruling, and runs without an approved first strike. */
export async function pressRoomDocket(books: BookReader): Promise<readonly DocketPaper[]> {
  const held = await openHolds(books);
  const waiting = (await openRuns(books)).filter((run) => run.state === 'waiting for first strike');
  return [...held.map(holdPaper), ...waiting.map(waitingPaper)];
}
