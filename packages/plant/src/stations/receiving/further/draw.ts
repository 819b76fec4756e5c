import type { DrawOutput } from '@cupel/calculation';
import { z } from 'zod';
import { calculate } from '../../../journal/calculated.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import { idSchema } from '../../registers/index.ts';
import { seedOfMelt } from '../sampling-rule.ts';
import type { FurtherBlanksDrawnBody } from './bodies.ts';
import type { FurtherRound } from './books.ts';
import { FurtherBlanksDrawn } from './entries.ts';
import { furtherRefusals } from './refusals.ts';
import { openRound, type RoundFacts, roundFacts } from './round-facts.ts';

const drawInput = z.strictObject({
  melt: idSchema.meta({ title: 'Melt', description: 'Of which further blanks are asked for.' }),
});

function againstDraw(round: FurtherRound, facts: RoundFacts): readonly Refusal[] {
  const { melt, pieces, drawn } = round;
  if (drawn) {
    return [
      refuse(furtherRefusals, 'FurtherBlanksAlreadyDrawn', {
        message: `The further blanks of melt ${melt} were drawn in entry ${drawn.entry}.`,
        field: 'melt',
        figures: { melt, entry: drawn.entry },
      }),
    ];
  }
  const left = facts.drums.reduce((total, drum) => total + drum.pieces, 0);
  if (left < pieces) {
    return [
      refuse(furtherRefusals, 'TooFewBlanksLeft', {
        message: `${pieces} further blanks of melt ${melt} are asked for; ${left} are left in its drums.`,
        field: 'melt',
        figures: { melt, pieces, left },
      }),
    ];
  }
  if (facts.piecesAtReceiving >= left) return [];
  return [
    refuse(furtherRefusals, 'MeltInWork', {
      message: `Blanks of melt ${melt} have left receiving, so that its drums hold fewer than was drawn from.`,
      field: 'melt',
      figures: { melt },
    }),
  ];
}

/** The places of a round: drawn over what is left in the drums, from the hash of the asking. */
function drawnBody(round: FurtherRound, facts: RoundFacts): FurtherBlanksDrawnBody {
  const { melt, askedEntry, askedHash } = round;
  const seed = seedOfMelt(askedHash, melt);
  const { calculated, output } = calculate<DrawOutput>('draw', {
    seed,
    containers: facts.drums
      .filter(({ pieces }) => pieces > 0)
      .map(({ drum, pieces }) => ({ container: drum, pieces })),
    sampleSizePieces: round.pieces,
  });
  const last = facts.drawn.reduce((greatest, { pick }) => Math.max(greatest, pick), 0);
  return {
    consignment: round.consignment,
    melt,
    round: round.round,
    seedEntry: askedEntry,
    seedHash: askedHash,
    seed,
    takenBefore: facts.drums.map(({ drum, taken }) => ({ drum, pieces: taken })),
    draw: calculated,
    blanks: output.picks.map(({ pick, container, position }) => ({
      blank: `${melt}/${last + pick}`,
      pick: last + pick,
      drum: container,
      position,
    })),
  };
}

/** Draws the places of the further blanks that the laboratory asked for. */
export const drawFurtherBlanks = defineCommand({
  command: 'draw-further-blanks',
  station: 'receiving',
  title: 'Draw further blanks',
  input: drawInput,
  roles: ['inspector', 'assayer', 'chief assayer'],
  signature: 'none',
  facts: async (books, { melt }) => roundFacts(books, melt),
  decide: ({ melt }, facts): Decision => {
    const open = openRound(melt, facts);
    if ('refusal' in open) return { refusals: [open.refusal] };
    const refusals = againstDraw(open.round, facts);
    if (refusals.length > 0) return { refusals };
    const body = drawnBody(open.round, facts);
    const blanks = body.blanks.map(({ blank }) => blank);
    return { entries: [draft(FurtherBlanksDrawn, body)], answer: { melt, blanks } };
  },
});
