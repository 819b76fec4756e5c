import { z } from 'zod';
import { calculatedSchema } from '../../journal/calculated.ts';
import { insidePlaces, metals } from '../../journal/place.ts';

const wholeNumber = z.number().int().min(0).max(Number.MAX_SAFE_INTEGER);
const signedWholeNumber = z
  .number()
  .int()
  .min(-Number.MAX_SAFE_INTEGER)
  .max(Number.MAX_SAFE_INTEGER);
const entryNumber = z.number().int().min(1);
const hash = z.string().regex(/^[0-9a-f]{64}$/);

/** What lay at a place of one piece standard when the period began and ended, by the postings. */
const periodLine = z.strictObject({
  place: z.enum(insidePlaces),
  metal: z.enum(metals),
  pieceStandard: z.string(),
  piecesOpening: signedWholeNumber,
  piecesReceived: wholeNumber,
  piecesSent: wholeNumber,
  piecesClosing: signedWholeNumber,
  grossMicrogramsOpening: signedWholeNumber,
  grossMicrogramsReceived: wholeNumber,
  grossMicrogramsSent: wholeNumber,
  grossMicrogramsClosing: signedWholeNumber,
  fineMicrogramsOpening: signedWholeNumber,
  fineMicrogramsReceived: wholeNumber,
  fineMicrogramsSent: wholeNumber,
  fineMicrogramsClosing: signedWholeNumber,
});

/** What the tallies of the period found beside the book at a place of one piece standard. */
const periodDifference = z.strictObject({
  place: z.enum(insidePlaces),
  metal: z.enum(metals),
  pieceStandard: z.string(),
  /** How many closes tell of it, and how many of them by weight. */
  closes: wholeNumber,
  weighedCloses: wholeNumber,
  /** Negative is missing. */
  piecesSigned: signedWholeNumber,
  grossMicrogramsSigned: signedWholeNumber,
  /** Sum of what the balances of the shifts leave unexplained; negative is missing. */
  grossMicrogramsUnexplained: signedWholeNumber.nullable(),
});

const closedShift = z.strictObject({
  shift: z.string(),
  /** The entry that closed it, and the entries that it covers. */
  entry: entryNumber,
  firstEntry: entryNumber,
  lastEntry: wholeNumber,
});

/** A day or month as two people froze it. */
export const periodClosed = z.strictObject({
  /** `2026-11-25` or `2026-11`. */
  period: z.string(),
  firstEntry: entryNumber,
  lastEntry: entryNumber,
  /** Leaf of the last entry in the tree of RFC 9162: SHA-256 over 0x00 and the hash of the entry. */
  lastEntryLeafHash: hash,
  /** Root of the tree of all entries up to and with the last. */
  treeHash: hash,
  shifts: z.array(closedShift),
  /** The days of a month; none for a day. */
  days: z.array(z.string()),
  lines: z.array(periodLine),
  differences: z.array(periodDifference),
  /** Names of the differences of the period that nobody had explained when it was closed. */
  openDifferences: z.array(z.string()),
});

export const periodCorrected = z.strictObject({
  period: z.string(),
  /** The entry inside the period that was wrong. */
  entry: entryNumber,
  explanation: z.string(),
});

export const shiftHandedOver = z.strictObject({
  shift: z.string(),
  arrivingShift: z.string(),
  leaving: z.string(),
  arriving: z.string(),
  /** Places that nobody has counted since the last close. */
  uncountedPlaces: z.array(z.enum(insidePlaces)),
  openShifts: z.array(z.string()),
  openDifferences: z.array(z.string()),
  remark: z.string(),
});

export const driftResolved = z.strictObject({
  place: z.enum(insidePlaces),
  pieceStandard: z.string(),
  /** Entry of the newest close that the sums had seen. */
  closing: entryNumber,
  /** The shift since which it most likely went on. */
  sinceShift: z.string(),
  way: z.enum(['missing', 'too much']),
  finding: z.string(),
  series: calculatedSchema,
});

export type PeriodClosed = z.infer<typeof periodClosed>;
export type PeriodLine = PeriodClosed['lines'][number];
export type PeriodDifference = PeriodClosed['differences'][number];
export type PeriodCorrected = z.infer<typeof periodCorrected>;
export type ShiftHandedOver = z.infer<typeof shiftHandedOver>;
export type DriftResolved = z.infer<typeof driftResolved>;
