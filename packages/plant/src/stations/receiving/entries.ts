import type { Descent, Thing } from '../../journal/entry.ts';
import { defineKind } from '../../journal/station.ts';
import {
  type ConsignmentAnnouncedBody,
  consignmentAnnounced,
  type DrumAdmittedBody,
  type DrumReturnedBody,
  type DrumStoppedBody,
  type DrumTalliedBody,
  type DrumWeighedBody,
  drumAdmitted,
  drumReturned,
  drumStopped,
  drumTallied,
  drumWeighed,
  type InspectionResumedBody,
  inspectionResumed,
  type LotJudgedBody,
  lotJudged,
  type PackingListColumnsKeptBody,
  packingListColumnsKept,
  type SampleDrawnBody,
  type SamplesOrderedBody,
  type SupplierFinenessStatedBody,
  sampleDrawn,
  samplesOrdered,
  supplierFinenessStated,
} from './bodies.ts';
import {
  type ListMappingConfirmedBody,
  listMappingConfirmed,
  type PackingListTakenBody,
  packingListTaken,
} from './list/list-bodies.ts';
import { applyListMapping, applyTakenList } from './list/list-read-model.ts';
import { PickSubstituted, PicksVerified } from './pick-entries.ts';
import {
  postingsOfDraw,
  postingsOfReturn,
  postingsOfTally,
  postingsOfWeighing,
} from './postings.ts';
import {
  applyAdmission,
  applyAnnouncement,
  applyDraw,
  applyOrder,
  applyPackingListColumns,
  applyReturn,
  applyStop,
  applySupplierFineness,
  applyTally,
  applyWeighing,
} from './read-model.ts';
import { applyInspectionResumed, applyLotJudged } from './series.ts';

const station = 'receiving';

const thing =
  (name: string) =>
  (id: string): Thing => ({ thing: name, id });
const consignmentThing = thing('consignment');
const supplierThing = thing('supplier');
const meltThing = thing('melt');
const drumThing = thing('drum');
const sealThing = thing('seal');
const blankThing = thing('blank');

/** The things that an act on one drum speaks of. */
function thingsOfDrum(body: { consignment: string; melt: string; drum: string }): readonly Thing[] {
  return [consignmentThing(body.consignment), meltThing(body.melt), drumThing(body.drum)];
}

function descentsOfAnnouncement(body: ConsignmentAnnouncedBody): readonly Descent[] {
  const consignment = consignmentThing(body.consignment);
  return [
    { parent: supplierThing(body.supplier), child: consignment },
    ...body.melts.map(({ melt }) => ({ parent: consignment, child: meltThing(melt) })),
    ...body.drums.map(({ drum, melt }) => ({ parent: meltThing(melt), child: drumThing(drum) })),
  ];
}

export const ConsignmentAnnounced = defineKind<ConsignmentAnnouncedBody>({
  kind: 'ConsignmentAnnounced',
  version: 1,
  station,
  meaning:
    "The custodian enters a supplier's packing list: melts, drums, pieces, masses, seals. Nothing has come in by it.",
  body: consignmentAnnounced,
  postings: 'moves nothing',
  things: (body) => [
    consignmentThing(body.consignment),
    supplierThing(body.supplier),
    ...body.melts.map(({ melt }) => meltThing(melt)),
    ...body.drums.flatMap(({ drum, seal }) => [drumThing(drum), sealThing(seal)]),
  ],
  descents: descentsOfAnnouncement,
  apply: applyAnnouncement,
});

export const SupplierFinenessStated = defineKind<SupplierFinenessStatedBody>({
  kind: 'SupplierFinenessStated',
  version: 1,
  station,
  meaning:
    "The supplier's own fineness of melts, as his document states it. Nobody who assays sees it before the plant's own result of that melt is signed.",
  body: supplierFinenessStated,
  readableBy: ['auditor'],
  postings: 'moves nothing',
  things: (body) => [
    consignmentThing(body.consignment),
    ...body.melts.map(({ melt }) => meltThing(melt)),
  ],
  apply: applySupplierFineness,
});

export const DrumWeighed = defineKind<DrumWeighedBody>({
  kind: 'DrumWeighed',
  version: 1,
  station,
  meaning:
    'The custodian checks the seal of a drum and weighs it; an accepted weighing takes it in with the documented pieces and the weighed metal. Where weight cannot prove the count, it says so.',
  body: drumWeighed,
  postings: postingsOfWeighing,
  things: (body) => [...thingsOfDrum(body), sealThing(body.sealFound)],
  apply: applyWeighing,
});

export const DrumTallied = defineKind<DrumTalliedBody>({
  kind: 'DrumTallied',
  version: 1,
  station,
  meaning:
    'Two people count the pieces of a drum one by one; what differs from the document is settled with the supplier. The mass stays as weighed.',
  body: drumTallied,
  postings: postingsOfTally,
  things: thingsOfDrum,
  apply: applyTally,
});

export const DrumStopped = defineKind<DrumStoppedBody>({
  kind: 'DrumStopped',
  version: 1,
  station,
  meaning:
    'Two people stop a drum whose seal or state is not as documented. It goes neither on nor back by this.',
  body: drumStopped,
  postings: 'moves nothing',
  things: (body) => [
    ...thingsOfDrum(body),
    ...(body.sealFound === null ? [] : [sealThing(body.sealFound)]),
  ],
  apply: applyStop,
});

export const DrumAdmitted = defineKind<DrumAdmittedBody>({
  kind: 'DrumAdmitted',
  version: 1,
  station,
  meaning:
    'The chief assayer and a witness let a stopped drum go on, with the seal it now bears. It must be counted piece by piece.',
  body: drumAdmitted,
  postings: 'moves nothing',
  things: (body) => [...thingsOfDrum(body), sealThing(body.sealAdmitted)],
  apply: applyAdmission,
});

export const DrumReturned = defineKind<DrumReturnedBody>({
  kind: 'DrumReturned',
  version: 1,
  station,
  meaning:
    'The chief assayer and a witness send a drum back before any sample is ordered, with all that came in under its name.',
  body: drumReturned,
  postings: postingsOfReturn,
  things: thingsOfDrum,
  apply: applyReturn,
});

export const SamplesOrdered = defineKind<SamplesOrderedBody>({
  kind: 'SamplesOrdered',
  version: 1,
  station,
  meaning:
    'How many blanks of each melt are examined, and which: drawn from the hash of an entry that nobody could choose. It takes no blank out of a drum.',
  body: samplesOrdered,
  postings: 'moves nothing',
  things: (body) => [
    consignmentThing(body.consignment),
    ...body.melts.map(({ melt }) => meltThing(melt)),
  ],
  apply: applyOrder,
});

export const SampleDrawn = defineKind<SampleDrawnBody>({
  kind: 'SampleDrawn',
  version: 1,
  station,
  meaning:
    'The inspector takes the blanks of a sampling order out of the drums, marks them and brings them to the laboratory. It is no judgement of them.',
  body: sampleDrawn,
  postings: postingsOfDraw,
  things: (body) => [
    consignmentThing(body.consignment),
    meltThing(body.melt),
    ...body.blanks.map(({ blank }) => blankThing(blank)),
  ],
  descents: (body) =>
    body.blanks.map(({ blank, drum }) => ({
      parent: drumThing(drum),
      child: blankThing(blank),
    })),
  apply: applyDraw,
});

export const LotJudged = defineKind<LotJudgedBody>({
  kind: 'LotJudged',
  version: 1,
  station,
  meaning:
    "The blanks of a melt's sample were measured, and by their faults the lot is accepted or not under its plan. It earns or costs its supplier the severity of the next lots; it rules on no melt.",
  body: lotJudged,
  postings: 'moves nothing',
  things: (body) => [
    meltThing(body.melt),
    consignmentThing(body.consignment),
    supplierThing(body.supplier),
  ],
  apply: applyLotJudged,
});

export const InspectionResumed = defineKind<InspectionResumedBody>({
  kind: 'InspectionResumed',
  version: 1,
  station,
  meaning:
    "The chief assayer takes up the inspection of a supplier's pieces again, tightened, since the cause of the lots not accepted was corrected. It accepts none of those lots.",
  body: inspectionResumed,
  postings: 'moves nothing',
  things: (body) => [
    supplierThing(body.supplier),
    { thing: 'piece-standard', id: body.pieceStandard },
  ],
  apply: applyInspectionResumed,
});

export const PackingListColumnsKept = defineKind<PackingListColumnsKeptBody>({
  kind: 'PackingListColumnsKept',
  version: 1,
  station,
  meaning:
    "What the columns of a supplier's packing lists are called, so that the next one is read the same way.",
  body: packingListColumnsKept,
  postings: 'moves nothing',
  things: (body) => [supplierThing(body.supplier)],
  apply: applyPackingListColumns,
});

export const ListMappingConfirmed = defineKind<ListMappingConfirmedBody>({
  kind: 'ListMappingConfirmed',
  version: 1,
  station,
  meaning:
    "A person confirms what the columns of a supplier's packing lists mean, and how they write units and numbers. The next list is read the same way.",
  body: listMappingConfirmed,
  postings: 'moves nothing',
  things: (body) => [supplierThing(body.supplier)],
  apply: applyListMapping,
});

export const PackingListTaken = defineKind<PackingListTakenBody>({
  kind: 'PackingListTaken',
  version: 1,
  station,
  meaning:
    "The file by which a consignment was announced: its hash, where each drum stands in it, and the lines that were set aside. The file may state the supplier's own fineness, so its hash is not shown to those who assay.",
  body: packingListTaken,
  readableBy: ['custodian', 'auditor'],
  postings: 'moves nothing',
  things: (body) => [consignmentThing(body.consignment), supplierThing(body.supplier)],
  apply: applyTakenList,
});

export const receivingKinds = [
  ConsignmentAnnounced,
  SupplierFinenessStated,
  DrumWeighed,
  DrumTallied,
  DrumStopped,
  DrumAdmitted,
  DrumReturned,
  SamplesOrdered,
  SampleDrawn,
  LotJudged,
  InspectionResumed,
  PackingListColumnsKept,
  ListMappingConfirmed,
  PackingListTaken,
  PickSubstituted,
  PicksVerified,
] as const;
