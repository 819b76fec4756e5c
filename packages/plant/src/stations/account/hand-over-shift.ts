import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Circumstances, type Decision, defineCommand, draft } from '../../journal/station.ts';
import { differences } from './books.ts';
import { type HandOverRow, handOvers, type PeriodRow } from './books-periods.ts';
import { ShiftHandedOver } from './entries-periods.ts';
import { needsTally, openShifts, type Period, periodOf } from './period.ts';
import { closedPeriodsOf } from './read-model-periods.ts';
import { accountRefusals } from './refusals.ts';
import { shiftAfter, shiftBefore } from './shift-names.ts';
import { witnessRoles } from './witness.ts';

const shift = 'a shift such as 2026-11-25-early';

const handOverInput = z.strictObject({
  shift: z
    .string(shift)
    .regex(/^\d{4}-\d{2}-\d{2}-[a-z]{1,20}$/, shift)
    .meta({ title: 'Shift', description: 'The shift that leaves.' }),
  remark: z
    .string()
    .trim()
    .min(3, 'what the next crew has to know; "nothing" where there is nothing')
    .max(2000, 'at most 2000 characters')
    .meta({ title: 'Remark', description: 'What is open and where, for those who arrive.' }),
});

type HandOverInput = z.infer<typeof handOverInput>;

interface HandOverFacts {
  readonly earlier: HandOverRow | undefined;
  readonly closedPeriods: readonly PeriodRow[];
  readonly period: Period;
  readonly openDifferences: readonly string[];
}

async function handOverFacts(books: BookReader, input: HandOverInput): Promise<HandOverFacts> {
  const open = await books.select(differences, { by: 'byState', prefix: ['open'] });
  return {
    earlier: await books.get(handOvers, input.shift),
    closedPeriods: await closedPeriodsOf(books, input.shift),
    period: await periodOf(books),
    openDifferences: open.map((row) => row.difference),
  };
}

function handOverRefusal(
  input: HandOverInput,
  facts: HandOverFacts,
  circumstances: Circumstances,
): Refusal | undefined {
  const present = circumstances.shift;
  const figures = { shift: input.shift, presentShift: present };
  if (facts.earlier) {
    const { entry, leaving, arriving } = facts.earlier;
    return refuse(accountRefusals, 'HandedOverAlready', {
      message: `${leaving} handed shift ${input.shift} over to ${arriving} in entry ${entry}.`,
      field: 'shift',
      figures: { ...figures, entry },
    });
  }
  const [closed] = facts.closedPeriods;
  if (closed) {
    return refuse(accountRefusals, 'PeriodClosed', {
      message: `Shift ${input.shift} lies in ${closed.period}, which was closed in entry ${closed.entry}.`,
      field: 'shift',
      figures: { ...figures, period: closed.period, entry: closed.entry },
    });
  }
  const before = shiftBefore(present);
  if (input.shift === present || input.shift === before) return undefined;
  return refuse(accountRefusals, 'ShiftNotLeaving', {
    message: `The present shift is ${present}; only it, or ${before} before it, can be handed over.`,
    field: 'shift',
    figures: { ...figures, shiftBefore: before },
  });
}

function decideHandOver(
  input: HandOverInput,
  facts: HandOverFacts,
  circumstances: Circumstances,
): Decision {
  const refusal = handOverRefusal(input, facts, circumstances);
  if (refusal) return { refusals: [refusal] };
  const { period } = facts;
  const arrivingShift = shiftAfter(input.shift);
  const body = {
    shift: input.shift,
    arrivingShift,
    leaving: circumstances.author.person,
    arriving: circumstances.witness?.person ?? '',
    uncountedPlaces: period.places
      .filter((place) => needsTally(place) && !place.tally)
      .map(({ place }) => place),
    openShifts: [...openShifts(period)],
    openDifferences: [...facts.openDifferences],
    remark: input.remark,
  };
  return {
    entries: [draft(ShiftHandedOver, body)],
    answer: { shift: input.shift, arrivingShift },
  };
}

/** Hands a shift over: who leaves signs first, who arrives signs second. */
export const handOverShift = defineCommand({
  command: 'hand-over-shift',
  station: 'account',
  title: 'Hand over shift',
  input: handOverInput,
  roles: [...witnessRoles],
  signature: 'author and witness',
  witnessRoles,
  facts: handOverFacts,
  decide: decideHandOver,
});
