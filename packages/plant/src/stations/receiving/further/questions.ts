import { z } from 'zod';
import { defineQuestion } from '../../../journal/station.ts';
import type { Json } from '../../../ports/json.ts';
import { pieceStandardOf } from '../../registers/index.ts';
import { melts } from '../books.ts';
import { greatestTray } from '../pick-walk.ts';
import { furtherRoundsOf } from './read-model.ts';
import { furtherWalk } from './walk.ts';

/** The rounds of further blanks of a melt, the newest with its walk along the drums. */
const furtherBlanks = defineQuestion({
  question: 'further-blanks',
  station: 'receiving',
  input: z.strictObject({
    melt: z.string(),
    trayPieces: z.int().min(1).max(greatestTray).optional(),
  }),
  answer: async (books, input) => {
    const melt = await books.get(melts, input.melt);
    const rounds = await furtherRoundsOf(books, input.melt);
    const newest = rounds.at(-1);
    if (!melt || !newest) return null;
    const walk = await furtherWalk(books, newest, input.trayPieces ?? null);
    return {
      melt: melt.melt,
      consignment: melt.consignment,
      supplier: melt.supplier,
      pieceStandardTitle:
        (await pieceStandardOf(books, melt.pieceStandard))?.title ?? melt.pieceStandard,
      round: newest,
      earlier: rounds.slice(0, -1),
      walkWords: walk.words,
      drums: walk.drums,
    } as unknown as Json;
  },
});

export const furtherQuestions = [furtherBlanks] as const;
