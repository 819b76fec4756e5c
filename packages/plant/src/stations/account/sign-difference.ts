import { fineMicrograms } from '@cupel/calculation';
import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type BalanceRow, balances, threads } from '../../journal/core-books.ts';
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
      description:
        'The melt that the metal belongs to; none where nobody knows it: then it is taken from the melt of which most lies there.',
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
  /** What the postings say lies there of the piece standard, melt by melt. */
  readonly held: readonly BalanceRow[];
  /** Whether an entry speaks of the melt that is named. */
  readonly isMeltKnown: boolean;
}

async function signFacts(books: BookReader, input: SignInput): Promise<SignFacts> {
  const { place, pieceStandard } = input;
  const standard = await pieceStandardOf(books, pieceStandard);
  const tally = await newestTally(books, place, await lastClosing(books));
  return {
    standard,
    tally,
    signed: tally ? await signedSince(books, tally.tally) : [],
    held: standard
      ? await books.select(balances, { prefix: [place, standard.metal, pieceStandard] })
      : [],
    isMeltKnown: input.melt === null || (await isKnownMelt(books, input.melt)),
  };
}

async function isKnownMelt(books: BookReader, melt: string): Promise<boolean> {
  const spoken = await books.select(threads, { by: 'byId', prefix: [melt] });
  return spoken.some(({ thing }) => thing === 'melt');
}

/** The balance that the metal leaves, under the melt that is named or the one that is assumed. */
interface Taken {
  readonly melt: string | null;
  readonly isAssumed: boolean;
}

const grossOf = ({ gross }: SignInput): number => (gross === null ? 0 : readingMicrograms(gross));

/**
 * The melt that missing metal is taken from where none is named: none where the metal lies there
 * without one, as in scrap; else the one of which most pieces lie there, from which it is most
 * probably missing. Nothing where no melt by itself holds so much.
 */
function takenFrom(input: SignInput, { held }: SignFacts): Taken | undefined {
  if (input.melt !== null || input.direction === 'surplus') {
    return { melt: input.melt, isAssumed: false };
  }
  // Weighings may have taken more out than came in; a piece that is missing then has no gram left.
  const holds = (row: BalanceRow) =>
    row.pieces >= input.pieces && Math.max(0, row.grossMicrograms) >= grossOf(input);
  const enough = held.filter(holds);
  const mixed = enough.find(
    ({ melt, pieces, grossMicrograms }) => melt === '' && (pieces > 0 || grossMicrograms > 0),
  );
  if (mixed) return { melt: null, isAssumed: false };
  const [most] = enough
    .filter(({ melt }) => melt !== '')
    .toSorted((one, other) => other.pieces - one.pieces);
  return most && { melt: most.melt, isAssumed: true };
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
  if (!facts.isMeltKnown) {
    return refuse(accountRefusals, 'MeltUnknown', {
      message: `No entry speaks of a melt ${input.melt}.`,
      field: 'melt',
      figures: { melt: input.melt },
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
  if (direction === 'surplus') return undefined;
  const rows = facts.held.filter(({ melt }) => input.melt === null || melt === input.melt);
  const held = rows.reduce((total, row) => total + row.grossMicrograms, 0);
  const piecesHeld = rows.reduce((total, row) => total + row.pieces, 0);
  if (input.melt !== null && input.pieces > piecesHeld) {
    return refuse(accountRefusals, 'MeltHoldsFewer', {
      message: `By the postings ${piecesHeld} pieces of ${pieceStandard} from melt ${input.melt} lie in ${placeName(place)}; ${input.pieces} would be signed for.`,
      field: 'melt',
      figures: { ...figures, melt: input.melt, pieces: input.pieces, piecesHeld },
    });
  }
  // Weighings may have taken more out than came in; a piece that is missing then has no gram left.
  if (gross > Math.max(0, held)) {
    return refuse(accountRefusals, 'GramsExceedBook', {
      message: `${gross / 1e6} g would leave ${placeName(place)}, where the postings say ${held / 1e6} g of ${pieceStandard}${input.melt ? ` from melt ${input.melt}` : ''} lie.`,
      field: 'gross',
      figures: { ...figures, melt: input.melt, grossMicrograms: gross, grossMicrogramsBook: held },
    });
  }
  if (takenFrom(input, facts)) return undefined;
  return refuse(accountRefusals, 'NoMeltHoldsSoMuch', {
    message: `No melt of ${pieceStandard} by itself holds ${input.pieces} pieces and ${gross / 1e6} g in ${placeName(place)}.`,
    field: 'melt',
    figures: { ...figures, pieces: input.pieces, grossMicrograms: gross },
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
  const taken = takenFrom(input, facts);
  const body = {
    ...input,
    melt: taken?.melt ?? null,
    ...(taken?.isAssumed ? { meltAssumed: true as const } : {}),
    difference,
    metal,
    finenessDeclaredPartsPerMillion,
    grossMicrograms,
    fineMicrograms: Number(fine),
    tally: (facts.tally as TallyRow).tally,
  };
  return { entries: [draft(DifferenceSigned, body)], answer: { difference, melt: body.melt } };
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
