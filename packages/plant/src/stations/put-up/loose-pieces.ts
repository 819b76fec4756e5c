import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { massReadingSchema, readingMicrograms } from '../../journal/reading.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Circumstances, type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema, type PieceStandard } from '../registers/index.ts';
import { PiecesScrapped, PiecesSetAside } from './entries.ts';
import { balanceRefusals, type NamedBalance, namedBalance } from './instrument-check.ts';
import {
  looseRefusals,
  type MeltInPutUp,
  meltHeldRefusals,
  meltInPutUp,
  meltUnknownRefusals,
} from './melt-in-put-up.ts';
import { putUpRefusals } from './refusals.ts';

const piecesAccepted = 'a whole number of 1 piece or more';

const loosePiecesInput = z.strictObject({
  melt: idSchema.meta({ title: 'Melt', description: 'The melt of the pieces.' }),
  pieces: z
    .int(piecesAccepted)
    .min(1, piecesAccepted)
    .max(100_000, 'at most 100000 pieces')
    .meta({ title: 'Pieces', description: 'Counted by both of you.', unit: 'pieces' }),
  gross: massReadingSchema.meta({
    title: 'Mass',
    description: 'All of them, container tared off.',
  }),
  instrument: idSchema.meta({ title: 'Balance', description: 'Scan the balance.' }),
});

type LoosePiecesInput = z.infer<typeof loosePiecesInput>;

interface LooseFacts {
  readonly melt: MeltInPutUp;
  readonly balance: NamedBalance;
}

async function facts(
  books: BookReader,
  input: LoosePiecesInput,
  { instant }: Circumstances,
): Promise<LooseFacts> {
  return {
    melt: await meltInPutUp(books, input.melt, instant),
    balance: await namedBalance(books, input.instrument, instant),
  };
}

/** Refuses a mass that so many pieces within their limits cannot have. */
function massRefusals(input: LoosePiecesInput, standard: PieceStandard): readonly Refusal[] {
  const grams = readingMicrograms(input.gross) / 1e6;
  const least = ((input.pieces - 0.5) * standard.massLeastMilligrams) / 1000;
  const greatest = ((input.pieces + 0.5) * standard.massGreatestMilligrams) / 1000;
  if (grams >= least && grams <= greatest) return [];
  return [
    refuse(putUpRefusals, 'PiecesDoNotFitMass', {
      message: `${grams} g cannot be ${input.pieces} pieces of ${standard.title}.`,
      field: 'gross',
      figures: { massGrams: grams, massLeastGrams: least, massGreatestGrams: greatest },
    }),
  ];
}

function commonRefusals(input: LoosePiecesInput, { melt, balance }: LooseFacts) {
  return [
    ...meltUnknownRefusals(melt),
    ...balanceRefusals(balance),
    ...(melt.standard ? massRefusals(input, melt.standard) : []),
  ];
}

/** An unknown melt is refused as such; how many of its pieces lie loose says nothing more. */
function looseIfKnown(input: LoosePiecesInput, { melt }: LooseFacts): readonly Refusal[] {
  return melt.standard ? looseRefusals(melt, input.pieces) : [];
}

function bodyOf(input: LoosePiecesInput, standard: PieceStandard) {
  return {
    melt: input.melt,
    metal: standard.metal,
    pieceStandard: standard.pieceStandard,
    finenessDeclaredPartsPerMillion: standard.finenessDeclaredPartsPerMillion,
    pieces: input.pieces,
    gross: input.gross,
    grossMicrograms: readingMicrograms(input.gross),
  };
}

function decideSetAside(input: LoosePiecesInput, known: LooseFacts): Decision {
  const refusals = [
    ...commonRefusals(input, known),
    ...meltHeldRefusals(input.melt, known.melt, 'melt'),
    ...looseIfKnown(input, known),
  ];
  const { standard } = known.melt;
  if (refusals.length > 0 || !standard) return { refusals };
  const { instrument } = input;
  return { entries: [draft(PiecesSetAside, bodyOf(input, standard), { instrument })] };
}

function decideScrap(input: LoosePiecesInput, known: LooseFacts): Decision {
  const { piecesCondemned, standard } = known.melt;
  const tooMany =
    input.pieces <= piecesCondemned
      ? []
      : [
          refuse(putUpRefusals, 'PiecesNotCondemned', {
            message: `${input.pieces} pieces are named; ${piecesCondemned} of melt ${input.melt} in put-up are ruled to be scrap.`,
            field: 'pieces',
            figures: { pieces: input.pieces, piecesCondemned },
          }),
        ];
  const refusals = [...commonRefusals(input, known), ...tooMany, ...looseIfKnown(input, known)];
  if (refusals.length > 0 || !standard) return { refusals };
  const { instrument } = input;
  return { entries: [draft(PiecesScrapped, bodyOf(input, standard), { instrument })] };
}

const common = {
  station: 'put-up',
  input: loosePiecesInput,
  roles: ['custodian'],
  signature: 'author and witness',
  witnessRoles: ['custodian', 'inspector', 'metal accountant', 'chief assayer'],
  facts,
} as const;

/** Puts loose pieces into the archive, for a later trial. */
export const setAsidePieces = defineCommand<LoosePiecesInput, LooseFacts>({
  ...common,
  command: 'set-aside-pieces',
  title: 'Set pieces aside',
  decide: decideSetAside,
});

/** Puts condemned pieces that had come to put-up to the scrap. */
export const scrapPieces = defineCommand<LoosePiecesInput, LooseFacts>({
  ...common,
  command: 'scrap-pieces',
  title: 'Put condemned pieces to the scrap',
  decide: decideScrap,
});
