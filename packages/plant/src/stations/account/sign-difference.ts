import { fineMicrograms } from '@cupel/calculation';
import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type BalanceRow, balances } from '../../journal/core-books.ts';
import { insidePlaces } from '../../journal/place.ts';
import { massReadingSchema, readingMicrograms } from '../../journal/reading.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Circumstances, type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema, type PieceStandard, pieceStandardOf } from '../registers/index.ts';
import { directions } from './bodies.ts';
import type { DifferenceRow, TallyRow } from './books.ts';
import { compareTally } from './comparison.ts';
import { DifferenceSigned } from './entries.ts';
import { placeName } from './place-name.ts';
import { lastClosing, newestTally, signedSince } from './read-model.ts';
import { accountRefusals } from './refusals.ts';
import { witnessRoles } from './witness.ts';

const pieces = 'a whole number of pieces, 0 or more';

const signInput = z
  .strictObject({
    place: z
      .enum(insidePlaces, `one of ${insidePlaces.join(', ')}`)
      .meta({ title: 'Place', description: 'Where the tally differs.' }),
    pieceStandard: idSchema.meta({ title: 'Piece standard' }),
    melt: idSchema.nullable().meta({
      title: 'Melt',
      description: 'The melt that the metal belongs to; none where melts are mixed.',
    }),
    direction: z
      .enum(directions, `one of ${directions.join(', ')}`)
      .meta({ title: 'Direction', description: 'Missing, or found too much.' }),
    pieces: z
      .int({ error: pieces })
      .min(0, { error: pieces })
      .meta({ title: 'Pieces', description: 'How many pieces are signed for.' }),
    gross: massReadingSchema.nullable().meta({
      title: 'Gross mass',
      description: 'Mass that is signed for with them; nothing for pieces only.',
    }),
    explanation: z
      .string()
      .trim()
      .min(10, 'a sentence of at least 10 characters')
      .max(2000, 'at most 2000 characters')
      .meta({
        title: 'Explanation',
        description: 'What is known, and what was done to find the metal.',
      }),
  })
  .refine((input) => input.pieces > 0 || input.gross !== null, {
    error: 'at least one piece, or a mass',
    path: ['pieces'],
  });

type SignInput = z.infer<typeof signInput>;

interface SignFacts {
  readonly standard: PieceStandard | undefined;
  readonly tally: TallyRow | undefined;
  readonly signed: readonly DifferenceRow[];
  readonly balance: BalanceRow | undefined;
}

async function signFacts(books: BookReader, input: SignInput): Promise<SignFacts> {
  const { place, pieceStandard } = input;
  const standard = await pieceStandardOf(books, pieceStandard);
  const tally = await newestTally(books, place, await lastClosing(books));
  return {
    standard,
    tally,
    signed: tally ? await signedSince(books, tally.tally) : [],
    balance:
      standard &&
      (await books.get(balances, place, standard.metal, pieceStandard, input.melt ?? '')),
  };
}

/** What the newest tally leaves to be signed in that direction, as figures of 0 or more. */
function openDifference(
  input: SignInput,
  facts: SignFacts,
): { pieces: number; grossMicrograms: number } {
  const sign = input.direction === 'missing' ? -1 : 1;
  const line =
    facts.tally &&
    compareTally(facts.tally, facts.signed).find(
      (one) => one.pieceStandard === input.pieceStandard,
    );
  return {
    pieces: Math.max(0, sign * (line?.piecesDifference ?? 0)),
    grossMicrograms: Math.max(0, sign * (line?.grossMicrogramsDifference ?? 0)),
  };
}

function signRefusal(input: SignInput, facts: SignFacts): Refusal | undefined {
  const { place, pieceStandard, direction } = input;
  const gross = input.gross === null ? 0 : readingMicrograms(input.gross);
  if (!facts.standard) {
    return refuse(accountRefusals, 'PieceStandardUnknown', {
      message: `${pieceStandard} is not in the register of piece standards.`,
      field: 'pieceStandard',
      figures: { pieceStandard },
    });
  }
  const open = openDifference(input, facts);
  const figures = { place, pieceStandard, direction, piecesDiffering: open.pieces };
  if (!facts.tally || (input.pieces > 0 ? open.pieces === 0 : open.grossMicrograms === 0)) {
    const why = facts.tally
      ? `The tally of entry ${facts.tally.tally} shows nothing ${direction} of ${pieceStandard} in ${placeName(place)}.`
      : `Nobody has tallied ${placeName(place)} since the last close.`;
    return refuse(accountRefusals, 'DifferenceNotFound', {
      message: why,
      field: 'pieces',
      figures,
    });
  }
  if (input.pieces > open.pieces) {
    return refuse(accountRefusals, 'DifferenceExceeded', {
      message: `${input.pieces} pieces of ${pieceStandard} would be signed for; the tally of entry ${facts.tally.tally} shows ${open.pieces} ${direction} in ${placeName(place)}.`,
      field: 'pieces',
      figures: { ...figures, pieces: input.pieces },
    });
  }
  const held = facts.balance?.grossMicrograms ?? 0;
  if (direction === 'surplus' || gross <= held) return undefined;
  return refuse(accountRefusals, 'GramsExceedBook', {
    message: `${gross / 1e6} g would leave ${placeName(place)}, where the postings say ${held / 1e6} g of ${pieceStandard}${input.melt ? ` from melt ${input.melt}` : ''} lie.`,
    field: 'gross',
    figures: { ...figures, melt: input.melt, grossMicrograms: gross, grossMicrogramsBook: held },
  });
}

function decideSign(input: SignInput, facts: SignFacts, circumstances: Circumstances): Decision {
  const refusal = signRefusal(input, facts);
  if (refusal) return { refusals: [refusal] };
  const { metal, finenessDeclaredPartsPerMillion } = facts.standard as PieceStandard;
  const grossMicrograms = input.gross === null ? 0 : readingMicrograms(input.gross);
  const fine = fineMicrograms(
    BigInt(grossMicrograms),
    BigInt(finenessDeclaredPartsPerMillion),
    'half-even',
  );
  const difference = `D-${circumstances.nextNumber}`;
  const body = {
    ...input,
    difference,
    metal,
    finenessDeclaredPartsPerMillion,
    grossMicrograms,
    fineMicrograms: Number(fine),
    tally: (facts.tally as TallyRow).tally,
  };
  return { entries: [draft(DifferenceSigned, body)], answer: { difference } };
}

/** Signs for metal that a tally shows as missing or too much. */
export const signDifference = defineCommand({
  command: 'sign-difference',
  station: 'account',
  title: 'Sign difference',
  input: signInput,
  roles: ['chief assayer'],
  signature: 'author and witness',
  witnessRoles,
  facts: signFacts,
  decide: decideSign,
});
