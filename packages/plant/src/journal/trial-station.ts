import { z } from 'zod';
import { defineBook } from './books.ts';
import { metals, type Place, places } from './place.ts';
import type { Posting } from './posting.ts';
import { type RefusalMeanings, refuse } from './refusal.ts';
import { defineCommand, defineKind, defineQuestion, draft, type Station } from './station.ts';

/**
 * A station of a trial: the least that moves metal, keeps a book, refuses, takes two people and
 * signs a head. The journal is tested, measured and broken with it, apart from the plant's own.
 */

const piecesMovedBody = z.strictObject({
  drum: z.string().min(1).max(40),
  melt: z.string().min(1).max(40),
  metal: z.enum(metals),
  from: z.enum(places as readonly [Place, ...Place[]]),
  to: z.enum(places as readonly [Place, ...Place[]]),
  pieces: z.number().int().min(1).max(1_000_000),
  grossMicrograms: z.number().int().min(0),
  words: z.string().max(4000),
  estimated: z.literal(true).exactOptional(),
});

type PiecesMovedBody = z.infer<typeof piecesMovedBody>;

const pieceStandard = 'trial-piece';

const postingOf = (body: PiecesMovedBody): Posting => ({
  metal: body.metal,
  pieceStandard,
  melt: body.melt,
  container: body.drum,
  from: body.from,
  to: body.to,
  pieces: body.pieces,
  grossMicrograms: body.grossMicrograms,
  fineMicrograms: body.grossMicrograms,
  estimated: body.estimated ?? false,
});

/** What a drum of the trial station holds. */
export const trialDrums = defineBook<{ drum: string; moves: number; pieces: number; last: string }>(
  {
    name: 'trial_drum',
    meaning: 'How often pieces of a drum have moved, how many, and what was said last.',
    key: ['drum'],
    indexes: { byMoves: ['moves'] },
  },
);

/** Pieces that went from place to place. */
const piecesMoved = defineKind<PiecesMovedBody>({
  kind: 'TrialPiecesMoved',
  version: 1,
  station: 'trial',
  meaning: 'Pieces of a drum went from one place to another.',
  body: piecesMovedBody,
  postings: (body) => [postingOf(body)],
  things: (body) => [
    { thing: 'drum', id: body.drum },
    { thing: 'melt', id: body.melt },
  ],
  descents: (body) => [
    { parent: { thing: 'melt', id: body.melt }, child: { thing: 'drum', id: body.drum } },
  ],
  apply: async (books, { body }) => {
    const before = await books.get(trialDrums, body.drum);
    await books.put(trialDrums, {
      drum: body.drum,
      moves: (before?.moves ?? 0) + 1,
      pieces: (before?.pieces ?? 0) + body.pieces,
      last: body.words,
    });
  },
});

/** A count that two people closed. */
const countClosed = defineKind<{ words: string }>({
  kind: 'TrialCountClosed',
  version: 1,
  station: 'trial',
  meaning: 'Two people closed a count; the tree of the entries is signed.',
  body: z.strictObject({ words: z.string().max(4000) }),
  postings: 'moves nothing',
  things: () => [],
  apply: async () => {},
  signsHead: true,
});

const refusals = {
  TrialDrumForbidden: {
    meaning: 'The drum is one that the trial does not take.',
    nextStep: 'Take another drum.',
  },
} satisfies RefusalMeanings;

const movePieces = defineCommand({
  command: 'trial-move-pieces',
  station: 'trial',
  title: 'Move pieces',
  input: z.strictObject({
    moves: z.array(piecesMovedBody).min(1).max(100),
    /** What the trial does wrong after the last entry, if anything. */
    fault: z.enum(['decide', 'body', 'posting']).optional(),
    /** The balance that gave the masses. */
    instrument: z.string().exactOptional(),
  }),
  roles: ['custodian', 'chief assayer'],
  signature: 'none',
  facts: async (books, { moves }) => books.get(trialDrums, moves[0]?.drum ?? ''),
  decide: ({ moves, fault, instrument }, drum) => {
    if (moves[0]?.drum === 'forbidden') {
      const message = 'The drum forbidden is not taken.';
      return { refusals: [refuse(refusals, 'TrialDrumForbidden', { message })] };
    }
    if (fault === 'decide') throw new Error('the rule of the trial is broken');
    const more = instrument === undefined ? {} : { instrument };
    const entries = moves.map((move) => draft(piecesMoved, move, more));
    if (fault === 'body') entries.push(draft(countClosed, { words: 7 as unknown as string }));
    if (fault === 'posting')
      entries.push(draft(piecesMoved, { ...moves[0], to: moves[0]?.from } as PiecesMovedBody));
    return { entries, answer: { movesBefore: drum?.moves ?? 0 } };
  },
});

const closeCount = defineCommand({
  command: 'trial-close-count',
  station: 'trial',
  title: 'Close the count',
  input: z.strictObject({ words: z.string().max(4000) }),
  roles: ['custodian', 'chief assayer'],
  signature: 'author and witness',
  witnessRoles: ['custodian', 'chief assayer'],
  facts: async () => undefined,
  decide: ({ words }) => ({ entries: [draft(countClosed, { words })] }),
});

/** The trial station. */
export const trialStation: Station = {
  station: 'trial',
  title: 'Trial',
  kinds: [piecesMoved, countClosed],
  books: [trialDrums],
  commands: [movePieces, closeCount],
  questions: [
    defineQuestion({
      question: 'trial-drum',
      station: 'trial',
      input: z.strictObject({ drum: z.string() }),
      answer: async (books, { drum }) => (await books.get(trialDrums, drum)) ?? null,
    }),
  ],
  refusals,
};

/** One move of the trial station's command: a hundred pieces of 31.103 g into receiving. */
export function trialMove(changes: Partial<PiecesMovedBody> = {}): PiecesMovedBody {
  return {
    drum: 'D-1',
    melt: 'M-1',
    metal: 'gold',
    from: 'with-supplier',
    to: 'receiving',
    pieces: 100,
    grossMicrograms: 3_110_300_000,
    words: '',
    ...changes,
  };
}
