import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { massReadingSchema, readingMicrograms } from '../../../journal/reading.ts';
import {
  type Circumstances,
  type Decision,
  defineCommand,
  draft,
} from '../../../journal/station.ts';
import {
  type Instrument,
  idSchema,
  instrumentOf,
  type PieceStandard,
  pieceStandardOf,
  plantDay,
} from '../../registers/index.ts';
import { massOfAnotherCount } from '../mass-of-count.ts';
import { notScanned, verificationField, verificationRefusals } from '../pick-verification.ts';
import { implausibleMass, usableBalance } from '../weighing-refusals.ts';
import type { FurtherBlanksTakenBody } from './bodies.ts';
import { FurtherBlanksTaken } from './entries.ts';
import { notDrawn, openRound, picksOf, type RoundFacts, roundFacts } from './round-facts.ts';

const takeInput = z.strictObject({
  melt: idSchema.meta({ title: 'Melt', description: 'Whose further blanks were taken.' }),
  gross: massReadingSchema.meta({
    title: 'Mass of the further blanks',
    description: 'All of them together, without their container.',
  }),
  instrument: idSchema.meta({ title: 'Balance', description: 'Scan the label of the balance.' }),
  verification: verificationField.meta({
    title: 'Verification',
    description: 'Which of them were scanned at their drums.',
  }),
});

type TakeInput = z.infer<typeof takeInput>;

interface TakeFacts extends RoundFacts {
  readonly day: string;
  readonly standard: PieceStandard | undefined;
  readonly instrument: Instrument | undefined;
}

async function takeFacts(
  books: BookReader,
  input: TakeInput,
  { instant }: Circumstances,
): Promise<TakeFacts> {
  const facts = await roundFacts(books, input.melt);
  const { consignment } = facts;
  return {
    ...facts,
    day: await plantDay(books, instant),
    standard: consignment && (await pieceStandardOf(books, consignment.pieceStandard)),
    instrument: await instrumentOf(books, input.instrument),
  };
}

function decideTaking(input: TakeInput, facts: TakeFacts): Decision {
  const open = openRound(input.melt, facts);
  if ('refusal' in open) return { refusals: [open.refusal] };
  const { round, consignment } = open;
  if (!round.drawn || !facts.standard) return { refusals: [notDrawn(round)] };
  const picks = picksOf(facts, round);
  const grossMicrograms = readingMicrograms(input.gross);
  const usable = usableBalance(facts.instrument, {
    instrument: input.instrument,
    day: facts.day,
  });
  const implausible = implausibleMass({
    reading: input.gross,
    field: 'gross',
    netMicrograms: grossMicrograms,
    pieces: picks.length,
    standard: facts.standard,
  });
  const refusals = [
    ...('refusal' in usable ? [usable.refusal] : []),
    ...implausible,
    ...(implausible.length > 0 || 'refusal' in usable
      ? []
      : massOfAnotherCount({
          melt: input.melt,
          reading: input.gross,
          pieces: picks.length,
          drums: facts.own,
          standard: facts.standard,
          gainRelative: usable.balance.gainRelative,
        })),
    ...verificationRefusals(input, picks),
  ];
  if (refusals.length > 0) return { refusals };
  const missing = notScanned(input.verification, picks);
  const body: FurtherBlanksTakenBody = {
    consignment: consignment.consignment,
    melt: input.melt,
    round: round.round,
    pieceStandard: consignment.pieceStandard,
    metal: consignment.metal,
    finenessDeclaredPartsPerMillion: consignment.finenessDeclaredPartsPerMillion,
    pieces: picks.length,
    gross: input.gross,
    grossMicrograms,
    blanks: picks.map(({ blank, drum }) => ({ blank, drum })),
    scanned: [...new Set(input.verification.scanned)],
    notScanned: [...missing],
    reason: missing.length === 0 ? null : input.verification.reason,
  };
  return {
    entries: [draft(FurtherBlanksTaken, body, { instrument: input.instrument })],
    answer: { melt: input.melt, pieces: picks.length },
  };
}

/** Records that the further blanks were taken to the laboratory. */
export const takeFurtherBlanks = defineCommand({
  command: 'take-further-blanks',
  station: 'receiving',
  title: 'Take further blanks',
  input: takeInput,
  roles: ['inspector'],
  signature: 'none',
  facts: takeFacts,
  decide: decideTaking,
});
