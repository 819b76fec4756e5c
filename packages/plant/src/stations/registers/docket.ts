import type { BookReader } from '../../journal/books.ts';
import type { DocketPaper } from '../../journal/station.ts';
import { type InstrumentRow, instruments, people, purchasers, suppliers } from './books.ts';
import { plantDay } from './index.ts';

/** Days before the end of a calibration, approval or authorisation on which it comes up. */
const noticeDays = 14;

function dayAfter(day: string, days: number): string {
  const date = new Date(`${day}T00:00:00Z`);
  date.setUTCDate(date.getUTCDate() + days);
  return date.toISOString().slice(0, 10);
}

/** Something that has run out or soon will. */
export type RunningOut = {
  readonly what: 'calibration' | 'supplier' | 'purchaser' | 'authorisation';
  readonly id: string;
  readonly title: string;
  readonly until: string;
  readonly hasRunOut: boolean;
};

/** What has run out, or will within a fortnight: calibrations, approvals, authorisations. */
export async function waitingApprovals(
  books: BookReader,
  instant: string,
): Promise<readonly RunningOut[]> {
  const day = await plantDay(books, instant);
  const all: Omit<RunningOut, 'hasRunOut'>[] = [
    ...(await books.select(instruments)).map((row: InstrumentRow) => ({
      what: 'calibration' as const,
      id: row.instrument,
      title: row.title,
      until: row.calibrationDue,
    })),
    ...(await books.select(suppliers)).map((row) => ({
      what: 'supplier' as const,
      id: row.supplier,
      title: row.name,
      until: row.approvedUntil,
    })),
    ...(await books.select(purchasers)).map((row) => ({
      what: 'purchaser' as const,
      id: row.purchaser,
      title: row.name,
      until: row.approvedUntil,
    })),
    ...(await books.select(people))
      .filter((row) => row.active)
      .flatMap((row) =>
        row.methods.map((held) => ({
          what: 'authorisation' as const,
          id: row.person,
          title: `${row.name}, ${held.method}`,
          until: held.until,
        })),
      ),
  ];
  const soon = dayAfter(day, noticeDays);
  return all
    .filter((one) => one.until < soon)
    .map((one) => ({ ...one, hasRunOut: one.until < day }))
    .sort((a, b) => (a.until < b.until ? -1 : a.until > b.until ? 1 : 0));
}

const words = {
  calibration: {
    name: 'Calibration of',
    holdsUp: 'Every weighing or measurement with it',
    act: 'Record the calibration',
    list: 'instruments',
  },
  supplier: {
    name: 'Approval of supplier',
    holdsUp: 'Consignments of this supplier',
    act: 'Change the supplier',
    list: 'suppliers',
  },
  purchaser: {
    name: 'Approval of purchaser',
    holdsUp: 'Dispatches to this purchaser',
    act: 'Change the purchaser',
    list: 'purchasers',
  },
  authorisation: {
    name: 'Authorisation of',
    holdsUp: 'Results that he would sign',
    act: 'Change the person',
    list: 'people',
  },
} as const;

export async function registersDocket(
  books: BookReader,
  instant: string,
): Promise<readonly DocketPaper[]> {
  const day = await plantDay(books, instant);
  const running = await waitingApprovals(books, instant);
  return running.map((one) => {
    const said = words[one.what];
    return {
      paper: `registers-${one.what}-${one.id}-${one.until}${one.what === 'authorisation' ? `-${one.title}` : ''}`,
      station: 'registers',
      what: `${said.name} ${one.title} ${one.hasRunOut ? 'ran' : 'runs'} out on ${one.until}.`,
      why: one.hasRunOut ? `Today is ${day}.` : `Less than ${noticeDays} days are left.`,
      holdsUp: said.holdsUp,
      act: said.act,
      path: `/registers/${said.list}/${encodeURIComponent(one.id)}`,
      since: `${one.hasRunOut ? one.until : dayAfter(one.until, -noticeDays)}T00:00:00.000Z`,
      weight: one.hasRunOut ? ('stopped' as const) : ('look' as const),
    };
  });
}
