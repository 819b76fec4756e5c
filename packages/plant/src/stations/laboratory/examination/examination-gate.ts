import type { BookReader } from '../../../journal/books.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import type { UsedFor } from '../controls/books.ts';
import { type Hold, holdsOn } from '../controls/holds.ts';
import { controlRefusals } from '../controls/refusals.ts';
import { screenings } from '../screening/books.ts';
import { examinations } from './books.ts';

/** Something that was found of a blank, with an instrument in doubt. */
export interface HeldFinding {
  readonly melt: string;
  readonly entry: number;
  readonly blank: string;
  readonly what: UsedFor;
  readonly hold: Hold;
}

/** The findings on the blanks of a melt that are in doubt: hardness, grain size, edge, screenings. */
export async function heldFindings(
  books: BookReader,
  melt: string,
): Promise<readonly HeldFinding[]> {
  const examined = await books.select(examinations, { prefix: [melt] });
  const screened = await books.select(screenings, { prefix: [melt] });
  const counting = [
    ...examined
      .filter((row) => row.setAside === null)
      .map(({ quality, ...row }) => ({ ...row, what: quality as UsedFor })),
    ...screened
      .filter((row) => row.state !== 'set aside')
      .map((row) => ({ ...row, what: 'screening' as const })),
  ];
  const held: HeldFinding[] = [];
  for (const { entry, blank, what, instrument } of counting) {
    for (const hold of await holdsOn(books, { entry, instruments: [instrument] })) {
      held.push({ melt, entry, blank, what, hold });
    }
  }
  return held;
}

/** Why a melt may not be released on what was found of its blanks. */
export function findingGate(held: readonly HeldFinding[]): readonly Refusal[] {
  return held.map(({ melt, entry, blank, what, hold }) =>
    refuse(controlRefusals, 'ExaminationHeld', {
      message: `The ${what} of blank ${blank} in entry ${entry} is in doubt. ${hold.words}`,
      figures: { melt, entry, blank, hold: hold.hold },
    }),
  );
}
