import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { readingMicrograms } from '../../journal/reading.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Circumstances, type Decision, defineCommand, draft } from '../../journal/station.ts';
import { rulingOf } from '../laboratory/index.ts';
import { meltOf } from '../receiving/index.ts';
import { type PieceStandard, pieceStandardOf } from '../registers/index.ts';
import { BlanksTaken } from './entries.ts';
import { balanceField, grossField, meltField, piecesField } from './inputs.ts';
import { instrumentRefusals, type NamedInstrument, namedInstrument } from './instrument-check.ts';
import { piecesByMassRefusals } from './pieces-by-mass.ts';
import { metalHoldsOfMelt } from './queries.ts';
import { pressRoomRefusals } from './refusals.ts';

const takeBlanksInput = z.strictObject({
  melt: meltField,
  pieces: piecesField,
  gross: grossField,
  instrument: balanceField,
});

type TakeBlanksInput = z.infer<typeof takeBlanksInput>;

/** What is known about a melt that somebody wants to strike. */
export interface MeltFacts {
  readonly melt: string;
  readonly standard: PieceStandard | undefined;
  /** The newest ruling on the melt; null while there is none. */
  readonly ruling: string | null;
  /** Open holds of its metal, by name. */
  readonly metalHolds: readonly string[];
}

/** Looks a melt up. */
export async function meltFacts(books: BookReader, melt: string): Promise<MeltFacts> {
  const received = await meltOf(books, melt);
  return {
    melt,
    standard: received && (await pieceStandardOf(books, received.pieceStandard)),
    ruling: (await rulingOf(books, melt))?.ruling ?? null,
    metalHolds: (await metalHoldsOfMelt(books, melt)).map((row) => row.hold),
  };
}

/** Whether the ruling lets the melt be struck. */
export function isStrikingRuling(ruling: string | null): ruling is 'release' | 'concession' {
  return ruling === 'release' || ruling === 'concession';
}

/** Why a melt may not be struck, most important first; nothing when it may. */
export function meltRefusals(facts: MeltFacts): readonly Refusal[] {
  const { melt, standard, ruling, metalHolds } = facts;
  const figures = { melt, ruling };
  if (!standard) {
    const message = `No consignment brought a melt ${melt}.`;
    return [refuse(pressRoomRefusals, 'MeltUnknown', { message, field: 'melt', figures })];
  }
  if (!isStrikingRuling(ruling)) {
    const message = `Melt ${melt} has ${ruling === null ? 'no ruling yet' : `the ruling ${ruling}`}; it is struck only after a release or a concession.`;
    return [refuse(pressRoomRefusals, 'MeltNotReleased', { message, field: 'melt', figures })];
  }
  if (metalHolds.length > 0) {
    const message = `Melt ${melt} is held since a fault of its metal was seen: ${metalHolds.join(', ')}.`;
    return [
      refuse(pressRoomRefusals, 'MeltOnHold', {
        message,
        field: 'melt',
        figures: { melt, holds: [...metalHolds] },
      }),
    ];
  }
  return [];
}

interface TakeBlanksFacts {
  readonly melt: MeltFacts;
  readonly balance: NamedInstrument;
}

function decide(input: TakeBlanksInput, facts: TakeBlanksFacts): Decision {
  const { standard, ruling } = facts.melt;
  const grossMicrograms = readingMicrograms(input.gross);
  const refusals = [
    ...meltRefusals(facts.melt),
    ...instrumentRefusals(facts.balance, { kinds: ['balance'], field: 'instrument' }),
    ...(standard ? piecesByMassRefusals(standard, { pieces: input.pieces, grossMicrograms }) : []),
  ];
  if (refusals.length > 0 || !standard || !isStrikingRuling(ruling)) return { refusals };
  const body = {
    melt: input.melt,
    metal: standard.metal,
    pieceStandard: standard.pieceStandard,
    finenessDeclaredPartsPerMillion: standard.finenessDeclaredPartsPerMillion,
    pieces: input.pieces,
    gross: input.gross,
    grossMicrograms,
    ruling,
  };
  return { entries: [draft(BlanksTaken, body, { instrument: input.instrument })] };
}

/** Blanks of a ruled melt come into the press room. */
export const takeBlanks = defineCommand({
  command: 'take-blanks',
  station: 'press-room',
  title: 'Take blanks',
  input: takeBlanksInput,
  roles: ['inspector'],
  signature: 'author and witness',
  witnessRoles: ['custodian'],
  facts: async (books, input: TakeBlanksInput, circumstances: Circumstances) => ({
    melt: await meltFacts(books, input.melt),
    balance: await namedInstrument(books, input.instrument, circumstances.instant),
  }),
  decide,
});
