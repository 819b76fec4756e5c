import { z } from 'zod';
import { insidePlaces } from '../../journal/place.ts';
import { faultKindNames } from './fault-kinds.ts';
import { findings } from './findings.ts';

const entryNumber = z.number().int().min(1);
const wholeNumber = z.number().int().min(-Number.MAX_SAFE_INTEGER).max(Number.MAX_SAFE_INTEGER);
const probability = z.number().min(0).max(1);

export const searchOpened = z.strictObject({
  search: z.string(),
  pieceStandard: z.string(),
  /** Book less tally at each tallied place when the search began; positive is missing. */
  residuals: z.array(
    z.strictObject({ place: z.enum(insidePlaces), tally: entryNumber, pieces: wholeNumber }),
  ),
  /** How often each kind of fault could have happened since the search before. */
  opportunities: z.array(
    z.strictObject({ kind: z.enum(faultKindNames), count: z.number().int().min(0) }),
  ),
  /** Opportunities are counted up to and with this entry. */
  countedTo: z.number().int().min(0),
  /** The shift whose tallies differ; left out where it is the one in which the search began. */
  forShift: z.string().exactOptional(),
});

export const causesForetold = z.strictObject({
  search: z.string(),
  /** Every cause that the search named with a probability worth telling, before anybody looked. */
  causes: z.array(z.strictObject({ name: z.string(), kind: z.enum(faultKindNames), probability })),
});

/** What a look came to. */
export const lookOutcomes = ['nothing found', 'found'] as const;

export const lookTaken = z.strictObject({
  search: z.string(),
  look: z.string(),
  title: z.string(),
  outcome: z.enum(lookOutcomes),
  /** What was seen, in the words of those who looked. */
  words: z.string(),
  /** Probability that it was there, as it stood before the look, and the chance to see it. */
  probabilityBefore: probability,
  seenIfThere: probability,
  minutes: z.number().min(0),
  /** As what it was found; left out where nothing was, or where nobody said. */
  finding: z.enum(findings).exactOptional(),
  /** The chance of a false sighting that was assumed of a look that found something. */
  falseSightingProbability: probability.exactOptional(),
  /** The entry of another person's look that was mistaken: nothing is there after all. */
  mistaken: entryNumber.exactOptional(),
  /** The search's figures are those after this entry. */
  rankedAfter: z.number().int().min(0).exactOptional(),
});

/** How a search can end. */
export const searchEnds = ['cause confirmed', 'left unresolved'] as const;

export const searchEnded = z.strictObject({
  search: z.string(),
  end: z.enum(searchEnds),
  /** Name of the suspicion that was proved; null where none was, or another cause was found. */
  cause: z.string().nullable(),
  kind: z.enum(faultKindNames).nullable(),
  proof: z.string(),
  /** What the search had said of this cause, and of the place of its look, when it was confirmed. */
  probabilityPredicted: probability.nullable(),
  rankPredicted: z.number().int().min(1).nullable(),
  minutesLooked: z.number().min(0),
  /** The search's figures are those after this entry. */
  rankedAfter: z.number().int().min(0).exactOptional(),
});

export type SearchOpened = z.infer<typeof searchOpened>;
export type CausesForetold = z.infer<typeof causesForetold>;
export type LookTaken = z.infer<typeof lookTaken>;
export type SearchEnded = z.infer<typeof searchEnded>;
