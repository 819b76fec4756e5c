import { defineBook } from '../../journal/books.ts';
import type { Calculated } from '../../journal/calculated.ts';
import type { Metal } from '../../journal/place.ts';
import type { Reading } from '../../journal/reading.ts';
import type {
  DrumState,
  LotJudgedBody,
  MeltSampling,
  PackingListColumns,
  SamplesOrderedBody,
} from './bodies.ts';
import type { ListMappingConfirmedBody, PackingListTakenBody } from './list/list-bodies.ts';
import type { PickSubstitutedBody, PicksVerifiedBody } from './pick-bodies.ts';

/** One delivery of a supplier. */
export type Consignment = {
  readonly consignment: string;
  readonly supplier: string;
  readonly document: string;
  readonly pieceStandard: string;
  readonly metal: Metal;
  readonly finenessDeclaredPartsPerMillion: number;
  readonly entry: number;
  readonly announcedAt: string;
  readonly state: 'announced' | 'samples ordered' | 'samples drawn';
  /** The last entry that settled one of its drums, and its hash: the seed of the draw. */
  readonly seedEntry: number | null;
  readonly seedHash: string | null;
  readonly seedAt: string | null;
};

type MeltState = 'announced' | 'samples ordered' | 'sample drawn' | 'returned';

/** A melt of a consignment. */
export type Melt = {
  readonly melt: string;
  readonly consignment: string;
  readonly supplier: string;
  readonly pieceStandard: string;
  /** Pieces in the drums that have not gone back: as documented, or as tallied once that is done. */
  readonly pieces: number;
  readonly state: MeltState;
};

/** A drum of blanks, as announced and as found. */
export type Drum = {
  readonly drum: string;
  readonly consignment: string;
  readonly melt: string;
  readonly piecesDocumented: number;
  /** As documented until a tally finds another count. */
  readonly pieces: number;
  readonly grossDocumented: Reading;
  readonly tareDocumented: Reading;
  readonly netDocumentedMicrograms: number;
  /** Nothing until a weighing is accepted. */
  readonly netMicrograms: number | null;
  readonly fineMicrograms: number;
  readonly seal: string;
  readonly state: DrumState;
  /** What the drum was before it was stopped. */
  readonly stateBeforeStop: DrumState | null;
  readonly stopReason: string | null;
  /** True once it was admitted with another seal: then weight alone does not prove its count. */
  readonly needsTallyInAnyCase: boolean;
  /** Net masses of all weighings so far, oldest first. */
  readonly netReadingsMicrograms: readonly number[];
  readonly count: Calculated | null;
  readonly words: string;
  readonly changedAt: string;
};

/** What one melt's sample is and how it was drawn. */
export type SamplingOrder = MeltSampling & {
  readonly consignment: string;
  readonly pieceStandard: string;
  readonly severity: SamplesOrderedBody['severity'];
  readonly severityReason: string;
  readonly seedEntry: number;
  readonly seedHash: string;
  readonly entry: number;
  readonly orderedAt: string;
  readonly drawnEntry: number | null;
};

/** A blank of a sample. */
export type Blank = {
  readonly blank: string;
  readonly melt: string;
  readonly pick: number;
  readonly drum: string;
  readonly position: number;
  readonly forAssay: boolean;
  readonly forPhysical: boolean;
  /** True for those that are measured first, where the lot is judged by variables. */
  readonly forVariables?: boolean;
  /** The round of further blanks that it was drawn in; absent for one of the first sample. */
  readonly further?: number;
  readonly isDrawn: boolean;
};

export const consignments = defineBook<Consignment>({
  name: 'receiving_consignment',
  meaning: 'A delivery of blanks and how far it has come.',
  key: ['consignment'],
  indexes: { byState: ['state', 'entry'], byEntry: ['entry'] },
});

export const melts = defineBook<Melt>({
  name: 'receiving_melt',
  meaning: 'A melt, the consignment it came with and its pieces.',
  key: ['melt'],
  indexes: { byConsignment: ['consignment', 'melt'] },
});

export const drums = defineBook<Drum>({
  name: 'receiving_drum',
  meaning: 'A drum as announced, as weighed and as counted.',
  key: ['drum'],
  indexes: {
    byConsignment: ['consignment', 'drum'],
    byMelt: ['melt', 'drum'],
    byState: ['state', 'drum'],
  },
});

export const seals = defineBook<{ seal: string; drum: string; entry: number }>({
  name: 'receiving_seal',
  meaning: 'A seal number that has been used, and on which drum.',
  key: ['seal'],
});

export const supplierFinenesses = defineBook<{
  melt: string;
  supplierFinenessPerMille: number;
  entry: number;
}>({
  name: 'receiving_supplier_fineness',
  meaning: "The supplier's own value for a melt; shown to nobody before the plant's is signed.",
  key: ['melt'],
});

export const samplingOrders = defineBook<SamplingOrder>({
  name: 'receiving_sampling_order',
  meaning: 'How many and which blanks of a melt are examined, and from what seed they were drawn.',
  key: ['melt'],
  indexes: { byConsignment: ['consignment', 'melt'] },
});

export const blanks = defineBook<Blank>({
  name: 'receiving_blank',
  meaning: 'A blank of a sample and where it lay.',
  key: ['blank'],
  indexes: { byMelt: ['melt', 'pick'] },
});

/** A lot in the series of its supplier and piece standard, as it is judged now. */
export type JudgedLotRow = LotJudgedBody & {
  readonly event: 'lot judged';
  /** Entry that judged it first: its place in the series. */
  readonly entry: number;
  readonly instant: string;
  /** Entry that stands: the first one, or its newest correction. */
  readonly standingEntry: number;
};

/** A resumption of inspection in a series. */
type ResumptionRow = {
  readonly supplier: string;
  readonly pieceStandard: string;
  readonly event: 'inspection resumed';
  readonly entry: number;
  readonly instant: string;
  /** Always empty: it concerns no melt. */
  readonly melt: '';
  readonly reason: string;
  readonly author: string;
};

export type SeriesRow = JudgedLotRow | ResumptionRow;

export const inspectionSeries = defineBook<SeriesRow>({
  name: 'receiving_inspection_series',
  meaning:
    "A judged lot, or a resumption, in the series of a supplier's lots of one piece standard.",
  key: ['supplier', 'pieceStandard', 'entry'],
  indexes: { byMelt: ['melt', 'entry'] },
});

export const packingListColumns = defineBook<{
  supplier: string;
  columns: PackingListColumns;
  massUnit: 'kg' | 'g';
  decimalMark: 'point' | 'comma';
  entry: number;
}>({
  name: 'receiving_packing_list_columns',
  meaning: "What the columns of a supplier's packing list are called.",
  key: ['supplier'],
});

export const listMappings = defineBook<ListMappingConfirmedBody & { entry: number }>({
  name: 'receiving_list_mapping',
  meaning: "How a supplier's packing lists are read, as a person confirmed it.",
  key: ['supplier'],
});

/** The file of a consignment's packing list, and what was done with its lines. */
export type TakenListRow = PackingListTakenBody & { readonly entry: number };

export const takenLists = defineBook<TakenListRow & { readonly sha256: string }>({
  name: 'receiving_packing_list',
  meaning: 'The file by which a consignment was announced, and the lines of it set aside.',
  key: ['consignment'],
  indexes: { byFile: ['sha256', 'consignment'] },
});

/** A pick that could not be taken, and the place that was drawn in its stead. */
export type PickSubstitution = PickSubstitutedBody & { readonly entry: number };

export const pickSubstitutions = defineBook<PickSubstitution>({
  name: 'receiving_pick_substitution',
  meaning: 'A pick that was taken from another place than the one drawn first, and why.',
  key: ['melt', 'entry'],
  indexes: { byBlank: ['blank', 'entry'] },
});

/** Which picks of a melt were scanned when they were taken. */
export const pickVerifications = defineBook<PicksVerifiedBody & { readonly entry: number }>({
  name: 'receiving_pick_verification',
  meaning: 'Which picks of a sample were scanned at the drum, and why others were not.',
  key: ['melt'],
});

export const receivingBooks = [
  blanks,
  consignments,
  drums,
  inspectionSeries,
  listMappings,
  melts,
  packingListColumns,
  pickSubstitutions,
  pickVerifications,
  samplingOrders,
  seals,
  supplierFinenesses,
  takenLists,
] as const;
