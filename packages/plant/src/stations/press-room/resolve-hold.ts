import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema, reasonSchema } from '../registers/index.ts';
import { type HeldRange, holdRulings } from './bodies.ts';
import { type HoldRow, holds } from './books.ts';
import { HoldResolved } from './entries.ts';
import { runOf } from './queries.ts';
import { pressRoomRefusals } from './refusals.ts';

const resolveHoldInput = z.strictObject({
  hold: idSchema.meta({ title: 'Hold', description: 'The name of the hold.' }),
  ruling: z
    .enum(holdRulings, `one of ${holdRulings.join(', ')}`)
    .meta({ title: 'Ruling', description: 'Release the pieces, or call them scrap.' }),
  reason: reasonSchema,
});

type ResolveHoldInput = z.infer<typeof resolveHoldInput>;

interface HoldFacts {
  readonly hold: HoldRow | undefined;
  /** Pieces that have left each of the held runs. */
  readonly piecesDelivered: Readonly<Record<string, number>>;
}

async function facts(books: BookReader, input: ResolveHoldInput): Promise<HoldFacts> {
  const hold = await books.get(holds, input.hold);
  const piecesDelivered: Record<string, number> = {};
  for (const { run } of hold?.held ?? []) {
    piecesDelivered[run] = (await runOf(books, run))?.piecesDelivered ?? 0;
  }
  return { hold, piecesDelivered };
}

/**
 * How many held pieces of a run can be among those delivered. Pieces leave in the order of their
 * strikes as far as the books know, so the first held strike that has left counts, and all behind it.
 */
export function heldPiecesDelivered(range: HeldRange, piecesDelivered: number): number {
  const left = Math.min(piecesDelivered, range.strikeTo) - range.strikeFrom + 1;
  return Math.max(0, left);
}

function refusalsOf(input: ResolveHoldInput, hold: HoldRow | undefined): readonly Refusal[] {
  if (!hold) {
    const message = `No hold ${input.hold} was opened.`;
    const figures = { hold: input.hold };
    return [refuse(pressRoomRefusals, 'HoldUnknown', { message, field: 'hold', figures })];
  }
  if (hold.state === 'open') return [];
  return [
    refuse(pressRoomRefusals, 'HoldAlreadyResolved', {
      message: `Hold ${hold.hold} was ruled ${hold.state} on ${hold.resolvedInstant}.`,
      field: 'hold',
      figures: { hold: hold.hold, ruling: hold.state, resolved: hold.resolvedInstant },
    }),
  ];
}

function decide(input: ResolveHoldInput, found: HoldFacts): Decision {
  const { hold } = found;
  const refusals = refusalsOf(input, hold);
  if (refusals.length > 0 || !hold) return { refusals };
  const body = {
    hold: hold.hold,
    run: hold.run,
    melt: hold.melt,
    strikeNumber: hold.strikeNumber,
    ruling: input.ruling,
    reason: input.reason,
    held: hold.held.map((range) => ({
      ...range,
      piecesDelivered: heldPiecesDelivered(range, found.piecesDelivered[range.run] ?? 0),
    })),
  };
  return { entries: [draft(HoldResolved, body)] };
}

/** The chief assayer rules on held pieces. */
export const resolveHold = defineCommand({
  command: 'resolve-hold',
  station: 'press-room',
  title: 'Rule on hold',
  input: resolveHoldInput,
  roles: ['chief assayer'],
  signature: 'author',
  facts,
  decide,
});
