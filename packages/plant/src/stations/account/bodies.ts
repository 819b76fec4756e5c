import { z } from 'zod';
import { calculatedSchema } from '../../journal/calculated.ts';
import { insidePlaces, metals } from '../../journal/place.ts';
import { readingSchema } from '../../journal/reading.ts';

const wholeNumber = z.number().int().min(0).max(Number.MAX_SAFE_INTEGER);
const signedWholeNumber = z
  .number()
  .int()
  .min(-Number.MAX_SAFE_INTEGER)
  .max(Number.MAX_SAFE_INTEGER);
const entryNumber = z.number().int().min(1);

/** What was found at a place of one piece standard. */
export const tallyLine = z.strictObject({
  metal: z.enum(metals),
  pieceStandard: z.string(),
  finenessDeclaredPartsPerMillion: z.number().int().min(1).max(1_000_000),
  pieces: wholeNumber,
  /** Net mass as the balance sent it; null where only pieces were counted. */
  gross: readingSchema.nullable(),
  instrument: z.string().nullable(),
  grossMicrograms: wholeNumber.nullable(),
  fineMicrograms: wholeNumber.nullable(),
});

export const placeTallied = z.strictObject({
  place: z.enum(insidePlaces),
  lines: z.array(tallyLine),
  /** The counts of its racks of which it is the sum, beside what lay in none; left out where it was counted as one. */
  racks: z
    .array(z.strictObject({ rack: z.string(), count: entryNumber, author: z.string() }))
    .exactOptional(),
});

/** Book, tally and difference of one piece standard at one place; the difference is tally less book. */
const closingLine = z.strictObject({
  metal: z.enum(metals),
  pieceStandard: z.string(),
  piecesBook: signedWholeNumber,
  piecesTally: wholeNumber,
  /** Pieces that the chief assayer and a witness have signed since the tally; negative where missing. */
  piecesSigned: signedWholeNumber,
  piecesDifference: signedWholeNumber,
  grossMicrogramsBook: signedWholeNumber,
  grossMicrogramsTally: wholeNumber.nullable(),
  grossMicrogramsSigned: signedWholeNumber,
  grossMicrogramsDifference: signedWholeNumber.nullable(),
  fineMicrogramsBook: signedWholeNumber,
  fineMicrogramsTally: wholeNumber.nullable(),
  fineMicrogramsSigned: signedWholeNumber,
  fineMicrogramsDifference: signedWholeNumber.nullable(),
  /** Gross mass that moved at the place by estimate instead of by balance. */
  grossMicrogramsEstimated: wholeNumber,
  /** Balance of the weighed metal with its uncertainty; null where it cannot be stated. */
  balance: calculatedSchema.nullable(),
  /** Why there is no balance; null where there is one. */
  balanceMissing: z.string().nullable(),
  /** Name under which a significant difference of grams waits for its explanation. */
  gramDifference: z.string().nullable(),
});

export const shiftClosed = z.strictObject({
  shift: z.string(),
  firstEntry: entryNumber,
  lastEntry: wholeNumber,
  places: z.array(
    z.strictObject({
      place: z.enum(insidePlaces),
      /** Number of the entry that tallied the place. */
      tally: entryNumber,
      tallyAuthor: z.string(),
      lines: z.array(closingLine),
    }),
  ),
});

/** Which way a difference goes: metal that is missing, or metal too much. */
export const directions = ['missing', 'surplus'] as const;

export const differenceSigned = z.strictObject({
  difference: z.string(),
  place: z.enum(insidePlaces),
  metal: z.enum(metals),
  pieceStandard: z.string(),
  melt: z.string().nullable(),
  finenessDeclaredPartsPerMillion: z.number().int().min(1).max(1_000_000),
  direction: z.enum(directions),
  pieces: wholeNumber,
  gross: readingSchema.nullable(),
  grossMicrograms: wholeNumber,
  fineMicrograms: wholeNumber,
  /** True where nobody knew the melt: it is that of which most pieces lay there. */
  meltAssumed: z.literal(true).exactOptional(),
  /** Number of the tally that shows it. */
  tally: entryNumber,
  explanation: z.string(),
});

/**
 * How a difference ended. `found` and `booked since` put the metal back into the place's book,
 * because it was there or because its true move has been recorded; the others leave the books.
 */
export const differenceOutcomes = ['found', 'booked since', 'written off', 'explained'] as const;

export const differenceExplained = z.strictObject({
  difference: z.string(),
  outcome: z.enum(differenceOutcomes),
  explanation: z.string(),
  /** The metal that the outcome puts back; null where nothing is posted. */
  putBack: differenceSigned.omit({ tally: true, explanation: true, gross: true }).nullable(),
});

export type PlaceTallied = z.infer<typeof placeTallied>;
export type TallyLine = PlaceTallied['lines'][number];
export type ShiftClosed = z.infer<typeof shiftClosed>;
export type ClosingPlace = ShiftClosed['places'][number];
export type ClosingLine = ClosingPlace['lines'][number];
export type DifferenceSigned = z.infer<typeof differenceSigned>;
export type DifferenceExplained = z.infer<typeof differenceExplained>;
