import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { massReadingSchema, readingMicrograms } from '../../journal/reading.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Circumstances, type Decision, defineCommand, draft } from '../../journal/station.ts';
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
  type Consignment,
  consignments,
  type Melt,
  melts,
  type SamplingOrder,
  samplingOrders,
} from './books.ts';
import { SampleDrawn } from './entries.ts';
import { receivingRefusals } from './refusals.ts';
import { implausibleMass, usableBalance } from './weighing-refusals.ts';

const drawInput = z.strictObject({
  melt: idSchema.meta({ title: 'Melt', description: 'Whose sample has been taken.' }),
  gross: massReadingSchema.meta({
    title: 'Mass of the sample',
    description: 'All its blanks together, without their container.',
  }),
  instrument: idSchema.meta({ title: 'Balance', description: 'Scan the label of the balance.' }),
});

type RecordDrawInput = z.infer<typeof drawInput>;

interface DrawFacts {
  readonly day: string;
  readonly melt: Melt | undefined;
  readonly consignment: Consignment | undefined;
  readonly order: SamplingOrder | undefined;
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
    standard: melt && (await pieceStandardOf(books, melt.pieceStandard)),
    instrument: await instrumentOf(books, input.instrument),
  };
}

function orderRefusal(input: RecordDrawInput, facts: DrawFacts): Refusal | undefined {
  const { melt, order } = facts;
  const figures = { melt: input.melt };
  if (!melt) {
    const message = `No melt ${input.melt} has been announced.`;
    return refuse(receivingRefusals, 'MeltUnknown', { message, field: 'melt', figures });
  }
  if (!order) {
    const message = `No sample of melt ${input.melt} has been ordered.`;
    return refuse(receivingRefusals, 'SamplesNotOrdered', { message, field: 'melt', figures });
  }
  if (order.drawnEntry === null) return undefined;
  return refuse(receivingRefusals, 'SampleAlreadyDrawn', {
    message: `The sample of melt ${input.melt} was drawn in entry ${order.drawnEntry}.`,
    field: 'melt',
    figures: { ...figures, entry: order.drawnEntry },
  });
}

function decideDraw(input: RecordDrawInput, facts: DrawFacts): Decision {
  const { consignment, order, standard, day } = facts;
  const refusal = orderRefusal(input, facts);
  if (refusal || !consignment || !order || !standard) {
    return { refusals: refusal ? [refusal] : [] };
  }
  const grossMicrograms = readingMicrograms(input.gross);
  const usable = usableBalance(facts.instrument, { instrument: input.instrument, day });
  const refusals = [
    ...('refusal' in usable ? [usable.refusal] : []),
    ...implausibleMass({
      reading: input.gross,
      field: 'gross',
      netMicrograms: grossMicrograms,
      pieces: order.samplePieces,
      standard,
    }),
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
    blanks: order.blanks.map(({ blank, drum }) => ({ blank, drum })),
  };
  return {
    entries: [draft(SampleDrawn, body, { instrument: input.instrument })],
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
