import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Circumstances, type Decision, defineCommand, draft } from '../../journal/station.ts';
import { type DeliveryRow, deliveryOf } from '../press-room/index.ts';
import { meltOf } from '../receiving/index.ts';
import { type PieceStandard, pieceStandardOf } from '../registers/index.ts';
import { type AcceptanceRow, acceptances } from './books.ts';
import { DeliveryAccepted } from './entries.ts';
import { putUpRefusals } from './refusals.ts';

const numberAccepted = 'the number of the delivery, a whole number';
const piecesAccepted = 'a whole number of 1 piece or more';

const acceptDeliveryInput = z.strictObject({
  delivery: z
    .int(numberAccepted)
    .min(1, numberAccepted)
    .meta({ title: 'Delivery', description: 'Number of the entry that sent it.' }),
  pieces: z
    .int(piecesAccepted)
    .min(1, piecesAccepted)
    .max(10_000_000, 'at most 10 million pieces')
    .meta({ title: 'Pieces', description: 'As you count them now.', unit: 'pieces' }),
});

type AcceptDeliveryInput = z.infer<typeof acceptDeliveryInput>;

interface AcceptanceFacts {
  readonly delivery: DeliveryRow | undefined;
  readonly acceptance: AcceptanceRow | undefined;
  readonly standard: PieceStandard | undefined;
}

async function facts(books: BookReader, input: AcceptDeliveryInput): Promise<AcceptanceFacts> {
  const delivery = await deliveryOf(books, input.delivery);
  const melt = delivery && (await meltOf(books, delivery.melt));
  return {
    delivery,
    acceptance: await books.get(acceptances, input.delivery),
    standard: melt && (await pieceStandardOf(books, melt.pieceStandard)),
  };
}

function refusalsOf(
  input: AcceptDeliveryInput,
  found: AcceptanceFacts,
  author: string,
): readonly Refusal[] {
  const { delivery, acceptance } = found;
  const figures = { delivery: input.delivery };
  if (!delivery) {
    const message = `The press room has sent nothing by entry ${input.delivery}.`;
    return [refuse(putUpRefusals, 'DeliveryUnknown', { message, field: 'delivery', figures })];
  }
  if (acceptance) {
    const message = `Delivery ${input.delivery} was accepted by ${acceptance.author}.`;
    const field = 'delivery';
    return [refuse(putUpRefusals, 'DeliveryAlreadyAccepted', { message, field, figures })];
  }
  if (delivery.author === author) {
    const message = `${author} sent delivery ${input.delivery} and cannot sign that it came.`;
    return [refuse(putUpRefusals, 'SenderCannotAccept', { message, figures })];
  }
  if (input.pieces === delivery.pieces) return [];
  return [
    refuse(putUpRefusals, 'DeliveryDiffers', {
      message: `${input.pieces} pieces are counted; ${delivery.author} signed that ${delivery.pieces} were sent.`,
      field: 'pieces',
      figures: { ...figures, piecesCounted: input.pieces, piecesSent: delivery.pieces },
    }),
  ];
}

function decide(
  input: AcceptDeliveryInput,
  found: AcceptanceFacts,
  { author }: Circumstances,
): Decision {
  const refusals = refusalsOf(input, found, author.person);
  const { delivery, standard } = found;
  if (refusals.length > 0 || !delivery || !standard) return { refusals };
  const body = {
    delivery: delivery.entry,
    run: delivery.run,
    melt: delivery.melt,
    metal: standard.metal,
    pieceStandard: standard.pieceStandard,
    finenessDeclaredPartsPerMillion: standard.finenessDeclaredPartsPerMillion,
    pieces: delivery.pieces,
    grossMicrograms: delivery.grossMicrograms,
    sentBy: delivery.author,
  };
  return { entries: [draft(DeliveryAccepted, body)] };
}

/** Pieces that the press room sent come to put-up: counted and signed by the other side. */
export const acceptDelivery = defineCommand<AcceptDeliveryInput, AcceptanceFacts>({
  command: 'accept-delivery',
  station: 'put-up',
  title: 'Accept delivery',
  input: acceptDeliveryInput,
  roles: ['custodian'],
  signature: 'author',
  facts,
  decide,
});
