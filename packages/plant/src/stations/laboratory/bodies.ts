import { z } from 'zod';
import { type Calculated, calculatedSchema } from '../../journal/calculated.ts';
import { metals } from '../../journal/place.ts';
import { readingSchema } from '../../journal/reading.ts';
import { lotByVariables } from '../receiving/index.ts';
import { assayMethods } from '../registers/index.ts';
import { namedEdition, runQuality } from './controls/bodies.ts';
import { meltUncertaintyInput, meltUncertaintyOutput } from './melt-uncertainty.ts';
import { muffleGrid } from './muffle/grid.ts';

/** The schema in the type that calculations answer, whose lists cannot be changed. */
const calculated = calculatedSchema as unknown as z.ZodType<Calculated>;

const wholeNumber = z.number().int().min(0).max(Number.MAX_SAFE_INTEGER);
const entryNumber = z.number().int().min(1);
const perMille = z.number();
const partsPerMillion = z.number().int().min(1).max(1_000_000);

/** What can be wrong with a measured blank. */
const blankFaults = [
  'mass below least',
  'mass above greatest',
  'diameter below least',
  'diameter above greatest',
  'thickness below least',
  'thickness above greatest',
] as const;

export type BlankFault = (typeof blankFaults)[number];

const measurement = z.strictObject({
  blank: z.string(),
  /** Whether the blank belongs to the sample by which the lot is judged. */
  forPhysical: z.boolean(),
  mass: readingSchema,
  diameter: readingSchema,
  thickness: readingSchema,
  massMicrograms: wholeNumber,
  diameterMillimetres: z.number(),
  thicknessMillimetres: z.number(),
  faults: z.array(z.enum(blankFaults)),
});

const physicalLimits = z.strictObject({
  massLeastMilligrams: z.number(),
  massGreatestMilligrams: z.number(),
  diameterLeastMillimetres: z.number(),
  diameterGreatestMillimetres: z.number(),
  thicknessLeastMillimetres: z.number(),
  thicknessGreatestMillimetres: z.number(),
});

export const blanksMeasured = z.strictObject({
  melt: z.string(),
  pieceStandard: z.string(),
  limits: physicalLimits,
  balance: z.string(),
  micrometer: z.string(),
  measurements: z.array(measurement).min(1),
  /** Blanks that the sampling order wants measured, and with how many faulty ones the lot stands. */
  blanksForPhysical: wholeNumber,
  acceptanceNumber: wholeNumber,
  rejectionNumber: wholeNumber,
  /** How the lot stands by variables; absent where its order is one by attributes. */
  byVariables: lotByVariables.exactOptional(),
});

export const blanksCut = z.strictObject({
  melt: z.string(),
  metal: z.enum(metals),
  pieceStandard: z.string(),
  blanks: z.array(z.string()).min(1),
});

export const blanksReturned = z.strictObject({
  melt: z.string(),
  metal: z.enum(metals),
  pieceStandard: z.string(),
  finenessDeclaredPartsPerMillion: partsPerMillion,
  blanks: z.array(z.string()).min(1),
  gross: readingSchema,
  grossMicrograms: wholeNumber,
  fineMicrograms: wholeNumber,
});

/** A determination with the parts of its uncertainty, as the result of a melt needs them. */
export const determination = z.strictObject({
  label: z.string(),
  blank: z.string(),
  finenessPerMille: perMille,
  ownStandardUncertaintyPerMille: perMille,
  runStandardUncertaintyPerMille: perMille,
  methodStandardUncertaintyPerMille: perMille,
});

const runStates = ['valid', 'void'] as const;

export const cupellationRecorded = z.strictObject({
  assayRun: z.string(),
  melt: z.string(),
  pieceStandard: z.string(),
  correction: z.enum(['absolute', 'proportional']),
  proofs: z.array(
    z.strictObject({ label: z.string(), goldTaken: readingSchema, cornet: readingSchema }),
  ),
  samples: z.array(
    z.strictObject({
      label: z.string(),
      blank: z.string(),
      sample: readingSchema,
      cornet: readingSchema,
    }),
  ),
  /** As its certificate states it; null where it states none. */
  proofGoldStandardUncertaintyPerMille: z.number().nullable(),
  instrument: z.string(),
  /** The assayer confirmed that the extraction ran; without it the run is not recorded. */
  extractionConfirmed: z.literal(true),
  state: z.enum(runStates),
  /** Why the run is void; null for a valid one. */
  voidReason: z.string().nullable(),
  cupellation: calculated,
  determinations: z.array(determination),
  /** Where the cupels stood; absent where nobody noted it. */
  muffle: muffleGrid.exactOptional(),
  ...runQuality,
});

export const differenceRecorded = z.strictObject({
  assayRun: z.string(),
  melt: z.string(),
  pieceStandard: z.string(),
  policy: z.enum(['zero', 'half', 'limit']),
  solutions: z.array(
    z.strictObject({ label: z.string(), blank: z.string(), difference: calculated }),
  ),
  instrument: z.string(),
  state: z.enum(runStates),
  voidReason: z.string().nullable(),
  determinations: z.array(determination),
  ...runQuality,
});

export const determinationDiscarded = z.strictObject({
  assayRun: z.string(),
  label: z.string(),
  melt: z.string(),
  reason: z.string(),
});

/** Fineness, uncertainty and verdict of a melt from its valid determinations. */
const resultFigures = z.strictObject({
  finenessPerMille: perMille,
  standardUncertaintyPerMille: perMille,
  degreesOfFreedom: z.number().nullable(),
  scope: z.enum(['inside', 'outside']),
  verdict: z.enum(['passes', 'undecided', 'fails']),
  replicates: calculated,
  uncertainty: z.strictObject({
    version: z.number().int().min(1),
    input: meltUncertaintyInput,
    output: meltUncertaintyOutput,
  }),
  decision: calculated,
  /** Impurities against the table of the piece standard; absent where it has none. */
  impurities: calculated.exactOptional(),
});

export const resultSigned = z.strictObject({
  melt: z.string(),
  pieceStandard: z.string(),
  method: z.enum(assayMethods),
  determinations: z.array(determination.extend({ assayRun: z.string(), entry: entryNumber })),
  /** People who recorded the runs. */
  runAuthors: z.array(z.string()),
  ...resultFigures.shape,
  /** Entry of the earlier result that this one takes the place of; null for the first. */
  supersedes: entryNumber.nullable(),
  /** Editions of the methods that the runs were made by. */
  editions: z.array(namedEdition).exactOptional(),
});

export const resultChecked = z.strictObject({ melt: z.string(), result: entryNumber });

export const resultSentBack = z.strictObject({
  melt: z.string(),
  result: entryNumber,
  reason: z.string(),
});

export const rulings = ['release', 'refuse', 'hold', 'concession'] as const;

const physicalStates = ['open', 'accepted', 'rejected'] as const;

export const meltRuled = z.strictObject({
  melt: z.string(),
  pieceStandard: z.string(),
  ruling: z.enum(rulings),
  reason: z.string(),
  /** Entry of the checked result it rests on; null where a melt is held or refused without one. */
  result: entryNumber.nullable(),
  verdict: z.enum(['passes', 'undecided', 'fails']).nullable(),
  finenessPerMille: perMille.nullable(),
  standardUncertaintyPerMille: perMille.nullable(),
  conformanceProbability: z.number().nullable(),
  physical: z.strictObject({
    state: z.enum(physicalStates),
    blanksForPhysical: wholeNumber,
    blanksMeasured: wholeNumber,
    blanksNonconforming: wholeNumber,
    acceptanceNumber: wholeNumber,
    rejectionNumber: wholeNumber,
  }),
});

export const meltReturned = z.strictObject({
  melt: z.string(),
  document: z.string(),
  metal: z.enum(metals),
  pieceStandard: z.string(),
  pieces: wholeNumber,
  grossMicrograms: wholeNumber,
  fineMicrograms: wholeNumber,
});

/** What can be found when the signal of a control chart is looked into. */
export const chartFindings = ['no cause found', 'cause removed', 'new level'] as const;

export const chartSignalAnswered = z.strictObject({
  chart: z.string(),
  finding: z.enum(chartFindings),
  reason: z.string(),
  signals: z
    .array(z.strictObject({ rule: z.string(), points: z.array(wholeNumber), words: z.string() }))
    .min(1),
  /** Runs of the points that the signals name. */
  assayRuns: z.array(z.string()),
  /** Number of the newest point that was looked at. */
  answeredThrough: wholeNumber,
  /** Points whose cause was removed: they stay on the chart and set no limits. */
  leftOut: z.array(wholeNumber),
  /** Number of the point from which limits are set anew; null where they stay. */
  judgedFrom: wholeNumber.nullable(),
});

export type Measurement = z.infer<typeof measurement>;
export type BlanksMeasured = z.infer<typeof blanksMeasured>;
export type BlanksCut = z.infer<typeof blanksCut>;
export type BlanksReturned = z.infer<typeof blanksReturned>;
export type Determination = z.infer<typeof determination>;
export type CupellationRecorded = z.infer<typeof cupellationRecorded>;
export type DifferenceRecorded = z.infer<typeof differenceRecorded>;
export type DeterminationDiscarded = z.infer<typeof determinationDiscarded>;
export type ResultFigures = z.infer<typeof resultFigures>;
export type ResultSigned = z.infer<typeof resultSigned>;
export type ChartFinding = (typeof chartFindings)[number];
export type ChartSignalAnswered = z.infer<typeof chartSignalAnswered>;
export type ResultChecked = z.infer<typeof resultChecked>;
export type ResultSentBack = z.infer<typeof resultSentBack>;
export type Ruling = (typeof rulings)[number];
export type PhysicalState = (typeof physicalStates)[number];
export type MeltRuled = z.infer<typeof meltRuled>;
export type MeltReturned = z.infer<typeof meltReturned>;
