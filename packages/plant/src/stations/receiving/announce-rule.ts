import type { BookReader } from '../../journal/books.ts';
import { readingMicrograms } from '../../journal/reading.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Circumstances, type Decision, defineCommand, draft } from '../../journal/station.ts';
import type { JsonObject } from '../../ports/json.ts';
import {
  finenessSlip,
  isApproved,
  type PieceStandard,
  pieceStandardOf,
  plantDay,
  type Supplier,
  supplierOf,
} from '../registers/index.ts';
import { type AnnounceInput, announceInput } from './announce-input.ts';
import { consignments, drums, melts } from './books.ts';
import { ConsignmentAnnounced, PackingListTaken, SupplierFinenessStated } from './entries.ts';
import { type ListFacts, listFacts, listRefusals } from './list/list-rule.ts';
import { receivingRefusals } from './refusals.ts';
import { type SealHolder, sealHolder, sealWords } from './seal-use.ts';

/** Where an id of the packing list is known from: its place in the input and the earlier holder. */
interface Known {
  readonly index: number;
  readonly id: string;
  readonly holder: string;
}

interface AnnounceFacts {
  readonly day: string;
  readonly supplier: Supplier | undefined;
  readonly standard: PieceStandard | undefined;
  readonly consignmentEntry: number | undefined;
  readonly knownMelts: readonly Known[];
  readonly knownDrums: readonly Known[];
  readonly knownSeals: readonly (Omit<Known, 'holder'> & { readonly holder: SealHolder })[];
  readonly list: ListFacts;
}

async function announceFacts(
  books: BookReader,
  input: AnnounceInput,
  circumstances: Circumstances,
): Promise<AnnounceFacts> {
  const knownMelts: Known[] = [];
  for (const [index, { melt }] of input.melts.entries()) {
    const row = await books.get(melts, melt);
    if (row) knownMelts.push({ index, id: melt, holder: row.consignment });
  }
  const knownDrums: Known[] = [];
  const knownSeals: AnnounceFacts['knownSeals'][number][] = [];
  for (const [index, { drum, seal }] of input.drums.entries()) {
    const row = await books.get(drums, drum);
    if (row) knownDrums.push({ index, id: drum, holder: row.consignment });
    const holder = await sealHolder(books, seal);
    if (holder) knownSeals.push({ index, id: seal, holder });
  }
  return {
    day: await plantDay(books, circumstances.instant),
    supplier: await supplierOf(books, input.supplier),
    standard: await pieceStandardOf(books, input.pieceStandard),
    consignmentEntry: (await books.get(consignments, input.consignment))?.entry,
    knownMelts,
    knownDrums,
    knownSeals,
    list: await listFacts(books, input),
  };
}

function registerRefusals(input: AnnounceInput, facts: AnnounceFacts): readonly Refusal[] {
  const refusals: Refusal[] = [];
  const say = (
    name: keyof typeof receivingRefusals,
    detail: { message: string; field: string; figures: JsonObject },
  ) => refusals.push(refuse(receivingRefusals, name, detail));
  const { supplier, standard, day } = facts;
  if (!supplier) {
    say('SupplierUnknown', {
      message: `${input.supplier} is not in the register of suppliers.`,
      field: 'supplier',
      figures: { supplier: input.supplier },
    });
  } else if (!isApproved(supplier, day)) {
    say('SupplierNotApproved', {
      message: `${supplier.name} was approved until ${supplier.approvedUntil}; today is ${day}.`,
      field: 'supplier',
      figures: { supplier: input.supplier, approvedUntil: supplier.approvedUntil, day },
    });
  }
  if (!standard) {
    say('PieceStandardUnknown', {
      message: `${input.pieceStandard} is not in the register of piece standards.`,
      field: 'pieceStandard',
      figures: { pieceStandard: input.pieceStandard },
    });
  }
  if (facts.consignmentEntry !== undefined) {
    say('ConsignmentAlreadyAnnounced', {
      message: `Consignment ${input.consignment} was announced in entry ${facts.consignmentEntry}.`,
      field: 'consignment',
      figures: { consignment: input.consignment, entry: facts.consignmentEntry },
    });
  }
  return refusals;
}

function identityRefusals(facts: AnnounceFacts): readonly Refusal[] {
  return [
    ...facts.knownMelts.map(({ index, id, holder }) =>
      refuse(receivingRefusals, 'MeltAlreadyAnnounced', {
        message: `Melt ${id} came with consignment ${holder}.`,
        field: `melts.${index}.melt`,
        figures: { melt: id, consignment: holder },
      }),
    ),
    ...facts.knownDrums.map(({ index, id, holder }) =>
      refuse(receivingRefusals, 'DrumAlreadyAnnounced', {
        message: `Drum ${id} belongs to consignment ${holder}.`,
        field: `drums.${index}.drum`,
        figures: { drum: id, consignment: holder },
      }),
    ),
    ...facts.knownSeals.map(({ index, id, holder }) =>
      refuse(receivingRefusals, 'SealAlreadyUsed', {
        message: sealWords(id, holder),
        field: `drums.${index}.seal`,
        figures: { seal: id, [holder.thing]: holder.id },
      }),
    ),
  ];
}

/** A plan needs a lot of two pieces at least, and the assay its blanks. */
export function leastPiecesOfMelt(standard: PieceStandard): number {
  return Math.max(2, standard.blanksForAssayPerMelt);
}

function sizeRefusals(
  sizes: readonly { melt: string; pieces: number }[],
  standard: PieceStandard,
): readonly Refusal[] {
  const leastPieces = leastPiecesOfMelt(standard);
  return sizes.flatMap(({ melt, pieces }, index) =>
    pieces >= leastPieces
      ? []
      : refuse(receivingRefusals, 'MeltTooSmall', {
          message: `Melt ${melt} has ${pieces} pieces; its sample needs ${leastPieces}.`,
          field: `melts.${index}.melt`,
          figures: { melt, pieces, leastPieces },
        }),
  );
}

/** A fineness of the supplier that is no figure in ‰. */
function finenessRefusals(input: AnnounceInput, standard: PieceStandard): readonly Refusal[] {
  return input.melts.flatMap(({ melt, supplierFinenessPerMille }, index) =>
    supplierFinenessPerMille === null
      ? []
      : finenessSlip({
          of: `Melt ${melt}`,
          field: `melts.${index}.supplierFinenessPerMille`,
          finenessPerMille: supplierFinenessPerMille,
          declaredPerMille: standard.finenessDeclaredPartsPerMillion / 1000,
        }),
  );
}

function decideAnnouncement(input: AnnounceInput, facts: AnnounceFacts): Decision {
  const sizes = input.melts.map(({ melt }) => ({
    melt,
    pieces: input.drums.reduce((sum, drum) => sum + (drum.melt === melt ? drum.pieces : 0), 0),
  }));
  const { standard } = facts;
  const refusals = [
    ...registerRefusals(input, facts),
    ...identityRefusals(facts),
    ...listRefusals(input, facts.list),
    ...(standard ? sizeRefusals(sizes, standard) : []),
    ...(standard ? finenessRefusals(input, standard) : []),
  ];
  if (refusals.length > 0 || !standard) return { refusals };
  const announcement = draft(ConsignmentAnnounced, {
    consignment: input.consignment,
    supplier: input.supplier,
    document: input.document,
    pieceStandard: input.pieceStandard,
    metal: standard.metal,
    finenessDeclaredPartsPerMillion: standard.finenessDeclaredPartsPerMillion,
    melts: sizes,
    drums: input.drums.map((drum) => ({
      ...drum,
      netMicrograms: readingMicrograms(drum.gross) - readingMicrograms(drum.tare),
    })),
  });
  const stated = input.melts.flatMap(({ melt, supplierFinenessPerMille }) =>
    supplierFinenessPerMille === null ? [] : [{ melt, supplierFinenessPerMille }],
  );
  const { consignment, supplier, packingList } = input;
  const fineness = draft(SupplierFinenessStated, { consignment, melts: stated });
  const entries = [
    announcement,
    ...(stated.length === 0 ? [] : [fineness]),
    ...(packingList ? [draft(PackingListTaken, { consignment, supplier, ...packingList })] : []),
  ];
  return { entries, answer: { consignment } };
}

export const announceConsignment = defineCommand({
  command: 'announce-consignment',
  station: 'receiving',
  title: 'Announce a consignment',
  input: announceInput,
  roles: ['custodian'],
  signature: 'none',
  facts: announceFacts,
  decide: decideAnnouncement,
});
