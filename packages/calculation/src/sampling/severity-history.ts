import { z } from 'zod';
import { requireDomain } from '../quantity/domain.ts';
import { severities } from './attribute-tables.ts';

/** The rules by which a severity changes. */
export const switchingEditions = ['MIL-STD-105E', 'ISO 2859-1:1999'] as const;

export type SwitchingEdition = (typeof switchingEditions)[number];

const size = 'a whole number of pieces from 1 to 1000000';
const count = 'a whole number from 0 to 10000000';
const reject = 'a whole number above the acceptance number';

const samplePieces = (title: string) =>
  z.int(size).min(1, size).max(1_000_000, size).meta({ title, unit: 'pieces' });
const counted = (title: string, description?: string) =>
  z
    .int(count)
    .min(0, count)
    .max(10_000_000, count)
    .meta({ title, ...(description === undefined ? {} : { description }) });
const rejecting = (title: string) =>
  z.int(reject).min(1, reject).max(10_000_000, reject).meta({ title });

const singleResult = z.strictObject({
  sampling: z.literal('single').meta({ title: 'Sampling' }),
  sampleSizePieces: samplePieces('Sample size'),
  acceptanceNumber: counted('Acceptance number'),
  rejectionNumber: rejecting('Rejection number'),
  nonconformingPieces: counted('Nonconforming found', 'Pieces, or nonconformities'),
});

const doubleResult = z.strictObject({
  sampling: z.literal('double').meta({ title: 'Sampling' }),
  firstSampleSizePieces: samplePieces('First sample'),
  firstAcceptanceNumber: counted('Acceptance number of the first sample'),
  firstRejectionNumber: rejecting('Rejection number of the first sample'),
  firstNonconformingPieces: counted('Nonconforming in the first sample'),
  secondSampleSizePieces: samplePieces('Second sample'),
  secondAcceptanceNumber: counted('Acceptance number of both samples'),
  secondRejectionNumber: rejecting('Rejection number of both samples'),
  secondNonconformingPieces: counted(
    'Nonconforming in the second sample alone',
    'Absent where the first sample decided',
  ).optional(),
});

const lotJudged = z.strictObject({
  event: z.literal('lot judged').meta({ title: 'Event' }),
  lot: z
    .string('the name of a lot')
    .min(1, 'the name of a lot')
    .max(200, 'at most 200 characters')
    .meta({ title: 'Lot' }),
  presented: z.enum(['first time', 'again'], 'first time or again').meta({
    title: 'Presented',
    description: 'A lot that is presented again after it was refused does not count',
  }),
  severity: z
    .enum(severities, `one of ${severities.join(', ')}`)
    .optional()
    .meta({
      title: 'Severity of its plan',
      description: 'Absent for the severity then in force',
    }),
  result: z
    .discriminatedUnion('sampling', [singleResult, doubleResult], 'a single or a double sample')
    .meta({ title: 'Result' }),
});

const because = 'a reason of 1 to 500 characters';

const notWanted = z.strictObject({
  event: z.literal('reduced inspection not wanted').meta({ title: 'Event' }),
  reason: z
    .string(because)
    .min(1, because)
    .max(500, because)
    .meta({ title: 'Reason', description: 'Irregular or delayed production, or what else' }),
});

const marker = <Event extends string>(event: Event) =>
  z.strictObject({ event: z.literal(event).meta({ title: 'Event' }) });

/** What happens to a series of lots, in the order in which it happens. */
export const severityHistory = z
  .array(
    z.discriminatedUnion(
      'event',
      [lotJudged, marker('reduced inspection wanted'), notWanted, marker('inspection resumed')],
      'a lot judged, reduced inspection wanted or not wanted, or inspection resumed',
    ),
    'a list of events, which may be empty',
  )
  .max(5000, 'at most 5000 events')
  .meta({ title: 'History', description: 'Oldest first' });

export type HistoryEvent = z.infer<typeof severityHistory>[number];
export type LotEvent = Extract<HistoryEvent, { event: 'lot judged' }>;

/** How a lot came out of its inspection. */
export interface LotResult {
  readonly accepted: boolean;
  /** Accepted with a count above the acceptance number: reduced inspection ends. */
  readonly inGap: boolean;
  readonly onFirstSample: boolean;
  readonly sampleUnits: number;
  readonly nonconforming: number;
  /** Acceptance number of a single plan; null for a double one. */
  readonly singleAcceptanceNumber: number | null;
}

function requireNumbers(at: string, accept: number, reject: number, mayHaveGap: boolean): void {
  requireDomain(reject === accept + 1 || (mayHaveGap && reject > accept), {
    field: at,
    value: reject,
    accepted: mayHaveGap
      ? `a whole number above the acceptance number ${accept}`
      : `${accept + 1}, one above the acceptance number: only reduced plans of MIL-STD-105E leave a gap`,
  });
}

function doubleOutcome(
  result: Extract<LotEvent['result'], { sampling: 'double' }>,
  at: string,
  mayHaveGap: boolean,
): LotResult {
  const { firstNonconformingPieces: first, firstAcceptanceNumber: accept } = result;
  const { firstRejectionNumber: rejectFirst, secondNonconformingPieces: second } = result;
  requireDomain(rejectFirst > accept, {
    field: `${at}.firstRejectionNumber`,
    value: rejectFirst,
    accepted: `a whole number above the acceptance number ${accept}`,
  });
  const { secondAcceptanceNumber: both, secondRejectionNumber: rejectBoth } = result;
  requireNumbers(`${at}.secondRejectionNumber`, both, rejectBoth, mayHaveGap);
  const isDecided = first <= accept || first >= rejectFirst;
  requireDomain((second === undefined) === isDecided, {
    field: `${at}.secondNonconformingPieces`,
    value: second,
    accepted: isDecided
      ? 'nothing, since the first sample decided'
      : 'the count of the second sample, since the first left the lot undecided',
  });
  const nonconforming = first + (second ?? 0);
  return {
    accepted: isDecided ? first <= accept : nonconforming < rejectBoth,
    inGap: !isDecided && nonconforming > both && nonconforming < rejectBoth,
    onFirstSample: isDecided,
    sampleUnits: result.firstSampleSizePieces + (isDecided ? 0 : result.secondSampleSizePieces),
    nonconforming,
    singleAcceptanceNumber: null,
  };
}

/**
 * Outcome of a lot from its counts, so that no outcome can contradict them.
 *
 * @param event the lot with its plan and counts
 * @param at path of the event, for refusals
 * @param mayHaveGap whether the plan may leave counts between acceptance and rejection number
 * @throws DomainError for numbers that contradict each other, or a second count where none belongs
 */
export function resultOf(event: LotEvent, at: string, mayHaveGap: boolean): LotResult {
  const { result } = event;
  if (result.sampling === 'double') return doubleOutcome(result, `${at}.result`, mayHaveGap);
  const { acceptanceNumber, rejectionNumber, nonconformingPieces: nonconforming } = result;
  requireNumbers(`${at}.result.rejectionNumber`, acceptanceNumber, rejectionNumber, mayHaveGap);
  return {
    accepted: nonconforming < rejectionNumber,
    inGap: nonconforming > acceptanceNumber && nonconforming < rejectionNumber,
    onFirstSample: true,
    sampleUnits: result.sampleSizePieces,
    nonconforming,
    singleAcceptanceNumber: acceptanceNumber,
  };
}
