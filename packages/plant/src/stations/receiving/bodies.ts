import { z } from 'zod';
import { calculatedSchema } from '../../journal/calculated.ts';
import { metals } from '../../journal/place.ts';
import { massReadingSchema } from '../../journal/reading.ts';
import { idSchema, reasonSchema, titleSchema } from '../registers/index.ts';
import { lotByVariables, variablesOrder } from './variables/bodies.ts';

const wholeNumber = z.int().min(0).max(Number.MAX_SAFE_INTEGER);

/** What the metal of an act is, so that its postings follow from the body alone. */
const metalFields = {
  pieceStandard: idSchema,
  metal: z.enum(metals),
  finenessDeclaredPartsPerMillion: z.int().min(1).max(1_000_000),
};

/** Severities that a series can earn; reduced inspection would have to be asked for. */
const severity = z.enum(['normal', 'tightened']);

/** The drum that an act concerns. */
const drumFields = { consignment: idSchema, melt: idSchema, drum: idSchema };

const announcedDrum = z.strictObject({
  drum: idSchema,
  melt: idSchema,
  pieces: wholeNumber,
  gross: massReadingSchema,
  tare: massReadingSchema,
  netMicrograms: wholeNumber,
  seal: idSchema,
});

export const consignmentAnnounced = z.strictObject({
  consignment: idSchema,
  supplier: idSchema,
  document: titleSchema,
  ...metalFields,
  melts: z.array(z.strictObject({ melt: idSchema, pieces: wholeNumber })),
  drums: z.array(announcedDrum),
});

/** Apart from the announcement, so that the values can be kept from those who assay. */
export const supplierFinenessStated = z.strictObject({
  consignment: idSchema,
  melts: z.array(z.strictObject({ melt: idSchema, supplierFinenessPerMille: z.number() })),
});

const drumStates = [
  'announced',
  'weigh again',
  'needs tally',
  'counted',
  'tallied',
  'stopped',
  'returned',
] as const;

export type DrumState = (typeof drumStates)[number];

export const drumWeighed = z.strictObject({
  ...drumFields,
  ...metalFields,
  sealFound: idSchema,
  gross: massReadingSchema,
  tare: massReadingSchema,
  netMicrograms: wholeNumber,
  pieces: wholeNumber,
  count: calculatedSchema,
  state: z.enum(['weigh again', 'needs tally', 'counted']),
  words: z.string(),
});

export const drumTallied = z.strictObject({
  ...drumFields,
  ...metalFields,
  piecesDocumented: wholeNumber,
  /** As the account held them before: as documented, or as tallied earlier. */
  piecesBooked: wholeNumber,
  piecesFound: wholeNumber,
});

export const drumStopped = z.strictObject({
  ...drumFields,
  sealFound: idSchema.nullable(),
  reason: reasonSchema,
});

export const drumAdmitted = z.strictObject({
  ...drumFields,
  sealAdmitted: idSchema,
  reason: reasonSchema,
});

export const drumReturned = z.strictObject({
  ...drumFields,
  ...metalFields,
  document: titleSchema,
  /** What lay in receiving under this drum's name; nothing when it had not been weighed in. */
  pieces: wholeNumber,
  grossMicrograms: wholeNumber,
  /** What the drum's entries posted in, so that the same fine mass goes out. */
  fineMicrograms: wholeNumber,
});

const sampleBlank = z.strictObject({
  blank: idSchema,
  pick: wholeNumber,
  drum: idSchema,
  position: wholeNumber,
  forAssay: z.boolean(),
  forPhysical: z.boolean(),
  /** True for those that are measured first, where the lot is judged by variables. */
  forVariables: z.boolean().exactOptional(),
});

const meltSampling = z.strictObject({
  melt: idSchema,
  pieces: wholeNumber,
  /** SHA-256 of the seed entry's hash, a blank, and the melt's id. */
  seed: z.string(),
  assayPieces: wholeNumber,
  physicalPieces: wholeNumber,
  samplePieces: wholeNumber,
  acceptanceNumber: wholeNumber,
  rejectionNumber: wholeNumber,
  plan: calculatedSchema,
  draw: calculatedSchema,
  /** Which blanks of the sample are for assay, drawn among the picks; nothing when all are. */
  assayDraw: calculatedSchema.nullable(),
  /** Which are for the physical checks, likewise. */
  physicalDraw: calculatedSchema.nullable(),
  /** Absent where the lot is judged by attributes. */
  variables: variablesOrder.exactOptional(),
  blanks: z.array(sampleBlank),
});

export const samplesOrdered = z.strictObject({
  consignment: idSchema,
  pieceStandard: idSchema,
  severity,
  severityReason: z.string(),
  /** The last entry that settled a drum of the consignment, and its hash: nobody could choose it. */
  seedEntry: wholeNumber,
  seedHash: z.string(),
  melts: z.array(meltSampling),
});

export const sampleDrawn = z.strictObject({
  consignment: idSchema,
  melt: idSchema,
  ...metalFields,
  pieces: wholeNumber,
  gross: massReadingSchema,
  grossMicrograms: wholeNumber,
  blanks: z.array(z.strictObject({ blank: idSchema, drum: idSchema })),
});

export const lotJudged = z.strictObject({
  melt: idSchema,
  consignment: idSchema,
  supplier: idSchema,
  pieceStandard: idSchema,
  outcome: z.enum(['accepted', 'not accepted']),
  /** Under which its sample was ordered. */
  severity,
  lotSizePieces: wholeNumber,
  blanksForPhysical: wholeNumber,
  /** Fewer than asked for where the lot was refused before all were measured. */
  blanksMeasured: wholeNumber,
  blanksNonconforming: wholeNumber,
  acceptanceNumber: wholeNumber,
  rejectionNumber: wholeNumber,
  /** How it was judged by mean and spread; absent where blanks at fault were counted. */
  byVariables: lotByVariables.exactOptional(),
});

export const inspectionResumed = z.strictObject({
  supplier: idSchema,
  pieceStandard: idSchema,
  reason: reasonSchema,
  /** The melts for which it had been discontinued. */
  discontinuedBy: z.array(idSchema),
});

const columnName = z
  .string('the name of a column, 1 to 80 characters')
  .min(1, 'the name of a column, 1 to 80 characters')
  .max(80, 'the name of a column, 1 to 80 characters');

/** What the columns of a packing list are called; nothing where the list has no such column. */
const packingListColumnsSchema = z.strictObject({
  drum: columnName.meta({ title: 'Drum' }),
  melt: columnName.meta({ title: 'Melt' }),
  pieces: columnName.meta({ title: 'Pieces' }),
  gross: columnName.meta({ title: 'Gross mass' }),
  tare: columnName.meta({ title: 'Tare' }),
  seal: columnName.meta({ title: 'Seal' }),
  supplierFinenessPerMille: columnName.nullable().meta({ title: 'Fineness, ‰' }),
});

export const packingListColumnsKept = z.strictObject({
  supplier: idSchema.meta({ title: 'Supplier', description: 'Whose packing lists.' }),
  columns: packingListColumnsSchema.meta({ title: 'Columns', description: 'As in the header.' }),
  massUnit: z
    .enum(['kg', 'g'], 'kg or g')
    .meta({ title: 'Unit of mass', description: 'Of gross and tare in the list.' }),
  decimalMark: z
    .enum(['point', 'comma'], 'point or comma')
    .meta({ title: 'Decimal mark', description: 'How the list writes fractions.' }),
});

export type PackingListColumns = Readonly<z.infer<typeof packingListColumnsSchema>>;
export type PackingListColumnsKeptBody = Readonly<z.infer<typeof packingListColumnsKept>>;
export type ConsignmentAnnouncedBody = Readonly<z.infer<typeof consignmentAnnounced>>;
export type SupplierFinenessStatedBody = Readonly<z.infer<typeof supplierFinenessStated>>;
export type DrumWeighedBody = Readonly<z.infer<typeof drumWeighed>>;
export type DrumTalliedBody = Readonly<z.infer<typeof drumTallied>>;
export type DrumStoppedBody = Readonly<z.infer<typeof drumStopped>>;
export type DrumAdmittedBody = Readonly<z.infer<typeof drumAdmitted>>;
export type DrumReturnedBody = Readonly<z.infer<typeof drumReturned>>;
export type MeltSampling = Readonly<z.infer<typeof meltSampling>>;
export type SamplesOrderedBody = Readonly<z.infer<typeof samplesOrdered>>;
export type LotJudgedBody = Readonly<z.infer<typeof lotJudged>>;
export type InspectionResumedBody = Readonly<z.infer<typeof inspectionResumed>>;
export type SampleDrawnBody = Readonly<z.infer<typeof sampleDrawn>>;
