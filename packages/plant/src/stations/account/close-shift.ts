import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Circumstances, type Decision, defineCommand, draft } from '../../journal/station.ts';
import { type ClosingRow, closings, type TallyRow } from './books.ts';
import type { PeriodRow } from './books-periods.ts';
import { closingPlace } from './closing-lines.ts';
import { movementAfterTally } from './comparison.ts';
import { ShiftClosed } from './entries.ts';
import { needsTally, openShifts, type Period, type PlacePeriod, periodOf } from './period.ts';
import { piecesRefusals } from './pieces-differ.ts';
import { placeName } from './place-name.ts';
import { closedPeriodsOf } from './read-model-periods.ts';
import { accountRefusals } from './refusals.ts';
import { type Scales, scalesOf } from './scales.ts';
import { witnessRoles } from './witness.ts';

const closeInput = z.strictObject({
  shift: z
    .string()
    .regex(/^\d{4}-\d{2}-\d{2}-[a-z]{1,20}$/, 'a shift such as 2026-11-25-early')
    .meta({ title: 'Shift', description: 'The shift to close.' }),
});

type CloseInput = z.infer<typeof closeInput>;

interface CloseFacts {
  readonly closed: ClosingRow | undefined;
  /** The closed day or month that the shift lies in. */
  readonly closedPeriods: readonly PeriodRow[];
  readonly period: Period;
  readonly scales: Scales;
}

async function closeFacts(books: BookReader, input: CloseInput): Promise<CloseFacts> {
  const period = await periodOf(books);
  return {
    closed: await books.get(closings, input.shift),
    closedPeriods: await closedPeriodsOf(books, input.shift),
    period,
    scales: await scalesOf(books, period),
  };
}

function shiftRefusal(
  input: CloseInput,
  facts: CloseFacts,
  circumstances: Circumstances,
): Refusal | undefined {
  const { shift } = input;
  if (facts.closed) {
    return refuse(accountRefusals, 'ShiftAlreadyClosed', {
      message: `Shift ${shift} was closed in entry ${facts.closed.entry}.`,
      field: 'shift',
      figures: { shift, entry: facts.closed.entry },
    });
  }
  const [period] = facts.closedPeriods;
  if (period) {
    return refuse(accountRefusals, 'PeriodClosed', {
      message: `Shift ${shift} lies in ${period.period}, which was closed in entry ${period.entry}.`,
      field: 'shift',
      figures: { shift, period: period.period, entry: period.entry },
    });
  }
  const open = openShifts(facts.period);
  if (shift === circumstances.shift || open.includes(shift)) return undefined;
  return refuse(accountRefusals, 'ShiftWithoutWork', {
    message: `Shift ${shift} is not the present shift ${circumstances.shift}, and no metal has moved in it since the last close.`,
    field: 'shift',
    figures: { shift, presentShift: circumstances.shift, openShifts: [...open] },
  });
}

/** The last entry of the shift that moved metal; of the present shift, the last entry there is. */
function lastOfShift(input: CloseInput, facts: CloseFacts, circumstances: Circumstances): number {
  if (input.shift === circumstances.shift) return circumstances.nextNumber - 1;
  const moved = facts.period.movements.filter((movement) => movement.shift === input.shift);
  return moved.at(-1)?.entry ?? 0;
}

function tallyRefusal(place: PlacePeriod, last: number, period: Period): Refusal | undefined {
  const name = placeName(place.place);
  if (!place.tally) {
    return refuse(accountRefusals, 'TallyMissing', {
      message: `Metal lies in ${name} or has moved there, and nobody has tallied it since entry ${place.start}.`,
      figures: { place: place.place, sinceEntry: place.start },
    });
  }
  const { tally } = place.tally;
  const after = movementAfterTally({
    place: place.place,
    tally,
    last,
    movements: place.movements,
    signed: period.signed,
  });
  if (!after) return undefined;
  return refuse(accountRefusals, 'TallyOutdated', {
    message: `Entry ${tally} is the tally of ${name}; metal moved there afterwards, in entry ${after.entry}.`,
    figures: { place: place.place, tally, movedInEntry: after.entry },
  });
}

function decideClose(input: CloseInput, facts: CloseFacts, circumstances: Circumstances): Decision {
  const wrongShift = shiftRefusal(input, facts, circumstances);
  if (wrongShift) return { refusals: [wrongShift] };
  const { period } = facts;
  const last = lastOfShift(input, facts, circumstances);
  const places = period.places.filter(needsTally);
  const untallied = places.flatMap((place) => tallyRefusal(place, last, period) ?? []);
  if (untallied.length > 0) return { refusals: untallied };
  const differing = places.flatMap((place) => piecesRefusals(place.tally as TallyRow, period));
  if (differing.length > 0) return { refusals: differing };
  const lastEntry = Math.max(last, ...places.map((place) => (place.tally as TallyRow).tally));
  const body = {
    shift: input.shift,
    firstEntry: (period.closing?.lastEntry ?? 0) + 1,
    lastEntry,
    places: places.map((place) =>
      closingPlace({ place, period, scales: facts.scales, entry: circumstances.nextNumber }),
    ),
  };
  return {
    entries: [draft(ShiftClosed, body)],
    answer: { shift: input.shift, firstEntry: body.firstEntry, lastEntry },
  };
}

/** Closes a shift: tally against book at every place that holds metal or has moved some. */
export const closeShift = defineCommand({
  command: 'close-shift',
  station: 'account',
  title: 'Close shift',
  input: closeInput,
  roles: ['metal accountant'],
  signature: 'author and witness',
  witnessRoles,
  facts: closeFacts,
  decide: decideClose,
});
