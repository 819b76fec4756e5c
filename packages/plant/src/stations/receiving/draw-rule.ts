import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { massReadingSchema, readingMicrograms } from '../../journal/reading.ts';
import type { Refusal } from '../../journal/refusal.ts';
import {
  type Circumstances,
  type Decision,
  type Draft,
  defineCommand,
  draft,
} from '../../journal/station.ts';
import {
  type Instrument,
  idSchema,
  instrumentOf,
  type PieceStandard,
  pieceStandardOf,
  plantDay,
} from '../registers/index.ts';
import type { SampleDrawnBody } from './bodies.ts';
import {
  type Blank,
  blanks,
  type Consignment,
  consignments,
  type Drum,
  drums,
  type Melt,
  melts,
  type SamplingOrder,
  samplingOrders,
} from './books.ts';
import { meltUnknown } from './drum-refusals.ts';
import { SampleDrawn } from './entries.ts';
import { massOfAnotherCount } from './mass-of-count.ts';
import { PicksVerified } from './pick-entries.ts';
import { notScanned, verificationField, verificationRefusals } from './pick-verification.ts';
import { sampleDrawnAlready, samplesNotOrdered } from './sample-refusals.ts';
import { implausibleMass, usableBalance } from './weighing-refusals.ts';

const drawInput = z.strictObject({
  melt: idSchema.meta({ title: 'Melt', description: 'Whose sample has been taken.' }),
  gross: massReadingSchema.meta({
    title: 'Mass of the sample',
    description: 'All its blanks together, without their container.',
  }),
  instrument: idSchema.meta({ title: 'Balance', description: 'Scan the label of the balance.' }),
  verification: verificationField.optional().meta({
    title: 'Verification',
    description: 'Absent where nothing was scanned at the drums.',
  }),
});

type RecordDrawInput = z.infer<typeof drawInput>;

interface DrawFacts {
  readonly day: string;
  readonly melt: Melt | undefined;
  readonly consignment: Consignment | undefined;
  readonly order: SamplingOrder | undefined;
  /** The picks where they lie now: a substitute lies elsewhere than was drawn. */
  readonly picks: readonly Blank[];
  readonly drums: readonly Drum[];
  readonly standard: PieceStandard | undefined;
  readonly instrument: Instrument | undefined;
}

async function drawFacts(
  books: BookReader,
  input: RecordDrawInput,
  circumstances: Circumstances,
): Promise<DrawFacts> {
  const melt = await books.get(melts, input.melt);
  return {
    day: await plantDay(books, circumstances.instant),
    melt,
    consignment: melt && (await books.get(consignments, melt.consignment)),
    order: await books.get(samplingOrders, input.melt),
    picks: await books.select(blanks, { by: 'byMelt', prefix: [input.melt] }),
    drums: await books.select(drums, { by: 'byMelt', prefix: [input.melt] }),
    standard: melt && (await pieceStandardOf(books, melt.pieceStandard)),
    instrument: await instrumentOf(books, input.instrument),
  };
}

function orderRefusal(input: RecordDrawInput, facts: DrawFacts): Refusal | undefined {
  const { melt, order } = facts;
  if (!melt) return meltUnknown(input.melt);
  if (!order) return samplesNotOrdered(input.melt);
  return order.drawnEntry === null ? undefined : sampleDrawnAlready(order);
}

function draftVerification(
  input: RecordDrawInput,
  { order, picks }: { readonly order: SamplingOrder; readonly picks: readonly Blank[] },
): readonly Draft[] {
  if (!input.verification) return [];
  const { scanned, reason } = input.verification;
  const missing = notScanned(input.verification, picks);
  const body = {
    consignment: order.consignment,
    melt: input.melt,
    scanned: [...new Set(scanned)],
    notScanned: [...missing],
    reason: missing.length === 0 ? null : reason,
  };
  return [draft(PicksVerified, body)];
}

function decideDraw(input: RecordDrawInput, facts: DrawFacts): Decision {
  const { consignment, order, standard, day } = facts;
  const refusal = orderRefusal(input, facts);
  if (refusal || !consignment || !order || !standard) {
    return { refusals: refusal ? [refusal] : [] };
  }
  const grossMicrograms = readingMicrograms(input.gross);
  const usable = usableBalance(facts.instrument, { instrument: input.instrument, day });
  const mass = { reading: input.gross, pieces: order.samplePieces, standard };
  const implausible = implausibleMass({ ...mass, field: 'gross', netMicrograms: grossMicrograms });
  const refusals = [
    ...('refusal' in usable ? [usable.refusal] : []),
    ...implausible,
    ...(implausible.length > 0 || 'refusal' in usable
      ? []
      : massOfAnotherCount({
          ...mass,
          melt: input.melt,
          drums: facts.drums,
          gainRelative: usable.balance.gainRelative,
        })),
    ...verificationRefusals(input, facts.picks),
  ];
  if (refusals.length > 0) return { refusals };
  const body: SampleDrawnBody = {
    consignment: consignment.consignment,
    melt: input.melt,
    pieceStandard: consignment.pieceStandard,
    metal: consignment.metal,
    finenessDeclaredPartsPerMillion: consignment.finenessDeclaredPartsPerMillion,
    pieces: order.samplePieces,
    gross: input.gross,
    grossMicrograms,
    blanks: facts.picks.map(({ blank, drum }) => ({ blank, drum })),
  };
  const verified = draftVerification(input, { order, picks: facts.picks });
  return {
    entries: [...verified, draft(SampleDrawn, body, { instrument: input.instrument })],
    answer: { melt: input.melt, pieces: order.samplePieces },
  };
}

export const recordDraw = defineCommand({
  command: 'record-draw',
  station: 'receiving',
  title: 'Record the draw',
  input: drawInput,
  roles: ['inspector'],
  signature: 'none',
  facts: drawFacts,
  decide: decideDraw,
});
