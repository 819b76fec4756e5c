import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { decimalOfNumber } from '../quantity/decimal.ts';
import { requireDomain } from '../quantity/domain.ts';
import { divideRounded, roundNumberText } from '../quantity/rounding.ts';
import { leastWhole } from './plan-search.ts';

const pieces = 'a whole number of pieces from 1 to 1000000000';
const percent = 'a percentage from 0.0001 to 50';
const cap = 'a whole number of pieces from 0 to 1000000000';

const lotPieces = () => z.int(pieces).min(1, pieces).max(1_000_000_000, pieces);

export const earnedCreditInput = z.strictObject({
  outgoingLimitPercent: z.number(percent).min(0.0001, percent).max(50, percent).meta({
    title: 'Limit on the outgoing quality',
    description: 'Faulty pieces passed, in the mean, as a share of all pieces presented',
    unit: '%',
  }),
  lotSizePieces: lotPieces().meta({ title: 'Pieces of the lot to be sampled', unit: 'pieces' }),
  history: z
    .array(
      z.strictObject({
        lot: z
          .string('the name of a lot')
          .min(1, 'the name of a lot')
          .max(200, 'at most 200 characters')
          .meta({ title: 'Lot' }),
        pieces: lotPieces().meta({ title: 'Pieces of the lot', unit: 'pieces' }),
        outcome: z
          .enum(['accepted', 'not accepted'], 'accepted or not accepted')
          .meta({ title: 'Outcome', description: 'Not accepted when one faulty piece was found' }),
      }),
      'a list of lots, which may be empty',
    )
    .max(10_000, 'at most 10000 lots')
    .meta({ title: 'Earlier lots of the supplier', description: 'Oldest first' }),
  greatestCreditPieces: z.int(cap).min(0, cap).max(1_000_000_000, cap).optional().meta({
    title: 'Greatest credit',
    description: 'Credit above this does not count; absent for no bound',
    unit: 'pieces',
  }),
  leastSamplePieces: lotPieces().optional().meta({
    title: 'Least sample',
    description: 'At least so many pieces are examined, or the whole lot; absent for 1',
    unit: 'pieces',
  }),
});

export type EarnedCreditInput = z.infer<typeof earnedCreditInput>;

export const earnedCreditOutput = z.strictObject({
  earnedPieces: z.int().meta({
    title: 'Credit earned',
    description: 'Pieces accepted since a lot was last not accepted',
    unit: 'pieces',
  }),
  countedPieces: z
    .int()
    .meta({ title: 'Credit counted', description: 'At most the greatest credit', unit: 'pieces' }),
  sampleSizePieces: z.int().meta({ title: 'Pieces to examine', unit: 'pieces' }),
  acceptanceNumber: z.int().meta({ title: 'Acceptance number, always 0' }),
  sampleWithoutCreditPieces: z.int().meta({ title: 'Sample without credit', unit: 'pieces' }),
  singleFaultDetection: z.number().meta({ title: 'Probability of finding a single faulty piece' }),
  faultsFoundHalfTheTimePieces: z.int().meta({
    title: 'Faulty pieces that are found at least half of the time',
    unit: 'pieces',
  }),
  words: z.string().meta({ title: 'In words' }),
});

export type EarnedCreditOutput = z.infer<typeof earnedCreditOutput>;

/** Pieces accepted since the last lot that was not. */
function earnedPieces(history: EarnedCreditInput['history']): number {
  const lastFault = history.findLastIndex(({ outcome }) => outcome !== 'accepted');
  return history.slice(lastFault + 1).reduce((sum, lot) => sum + lot.pieces, 0);
}

/** Least whole n with n/N ≥ 1/(1 + p·(K + N)), in whole numbers throughout. */
function sampleFor(percentLimit: number, lotPieces: number, creditPieces: number): number {
  const { coefficient, places } = decimalOfNumber(percentLimit);
  const whole = 100n * 10n ** BigInt(places);
  const lot = BigInt(lotPieces);
  const divisor = whole + coefficient * (BigInt(creditPieces) + lot);
  return Number(divideRounded(lot * whole, divisor, 'up'));
}

/** Probability that a sample shows none of the faulty pieces. */
function missed(lotPieces: number, samplePieces: number, faultyPieces: number): number {
  const [fewer, more] = [
    Math.min(samplePieces, faultyPieces),
    Math.max(samplePieces, faultyPieces),
  ];
  let probability = 1;
  for (let index = 0; index < fewer && probability > 0; index += 1) {
    probability *= Math.max(0, lotPieces - more - index) / (lotPieces - index);
  }
  return probability;
}

/** Least number of faulty pieces of which a sample shows one at least half of the time. */
function foundHalfTheTime(lotPieces: number, samplePieces: number): number {
  const found = leastWhole(
    1,
    lotPieces,
    (faulty) => missed(lotPieces, samplePieces, faulty) <= 0.5,
  );
  return found ?? lotPieces;
}

function requireEachOnce(history: EarnedCreditInput['history']): void {
  const seen = new Set<string>();
  for (const [index, { lot }] of history.entries()) {
    requireDomain(!seen.has(lot), {
      field: `history.${index}.lot`,
      value: lot,
      accepted: 'each lot once',
    });
    seen.add(lot);
  }
}

/**
 * Sample that must be free of faults when the supplier has earned credit: the more of his pieces were
 * accepted since a lot was last refused, the smaller it is, and one faulty piece takes all credit
 * away. It serves faults of which none is tolerated, from suppliers who deliver for years.
 *
 * Formula: n = ⌈N/(1 + p·(K + N))⌉, N the lot, K the credit: pieces of the lots accepted since the
 * last one that was not, at most the greatest credit; p the limit as a fraction. A lot is accepted
 * only when its sample shows no fault; otherwise the credit is 0 again.
 *
 * Why it holds: let m = p·(K + N). A lot with D faulty pieces is accepted with probability
 * A ≤ (1 − n/N)ᴰ ≤ (m/(1 + m))ᴰ ≤ m/(m + D), the last by Bernoulli's inequality. Count F, the faulty
 * pieces passed so far, less p times all pieces presented so far, plus p·K. The next lot changes this
 * sum by D when accepted and by −m when not: in the mean by A·D − (1 − A)·m ≤ 0. The sum begins at 0
 * and K is never negative, so that at any time the mean of F is at most p times the pieces
 * presented, whatever the supplier presents and even if he knows the rule. A greater sample or a
 * smaller credit keeps the proof.
 *
 * @param input limit from 0.0001 to 50 %; lot of 1 to 1 000 000 000 pieces; up to 10 000 earlier
 * lots, oldest first, each once; bounds on credit and sample where wanted
 * @returns credit and sample in pieces, probability of finding one faulty piece, not rounded
 * @throws DomainError for a lot that stands twice in the history
 * Validity: lots drawn at random (see `draw`), every fault in a sample recognised. The promise is on
 * the mean over all pieces presented, with refused lots screened or not delivered: it is none about one lot,
 * which `acceptZeroPlan` gives. laws/sampling-credit plays against it with the worst strategies
 * found, exactly and by simulation.
 * Source: idea and name of credit after C. A. J. Klaassen (2001), Credit in acceptance sampling on
 * attributes, Technometrics 43(2), 212-222, as remembered; rule, bounds and proof as written here
 * are ours
 * @example earnedCredit({ outgoingLimitPercent: 0.1, lotSizePieces: 10000, history: [
 *   { lot: 'A', pieces: 90000, outcome: 'accepted' }] }).sampleSizePieces // 100
 */
export function earnedCredit(input: EarnedCreditInput): EarnedCreditOutput {
  requireEachOnce(input.history);
  const { outgoingLimitPercent: limit, lotSizePieces: lot, leastSamplePieces = 1 } = input;
  const earned = earnedPieces(input.history);
  const counted = Math.min(earned, input.greatestCreditPieces ?? earned);
  const atLeast = (sample: number) => Math.min(lot, Math.max(sample, leastSamplePieces));
  const output = {
    earnedPieces: earned,
    countedPieces: counted,
    sampleSizePieces: atLeast(sampleFor(limit, lot, counted)),
    acceptanceNumber: 0,
    sampleWithoutCreditPieces: atLeast(sampleFor(limit, lot, 0)),
  };
  const singleFaultDetection = output.sampleSizePieces / lot;
  const faultsFoundHalfTheTimePieces = foundHalfTheTime(lot, output.sampleSizePieces);
  return {
    ...output,
    singleFaultDetection,
    faultsFoundHalfTheTimePieces,
    words: wordsOf(input, output, faultsFoundHalfTheTimePieces),
  };
}

function wordsOf(
  input: EarnedCreditInput,
  output: Pick<
    EarnedCreditOutput,
    'countedPieces' | 'sampleSizePieces' | 'sampleWithoutCreditPieces'
  >,
  faulty: number,
): string {
  const { countedPieces: credit, sampleSizePieces: sample } = output;
  const earned =
    credit === 0
      ? 'The supplier has no credit.'
      : `The supplier has credit for ${credit} pieces accepted since a lot was last refused; without it ${output.sampleWithoutCreditPieces} would be examined.`;
  const limit = roundNumberText(input.outgoingLimitPercent, 4, 'half-even').replace(/\.?0+$/, '');
  return `Examine ${sample} of ${input.lotSizePieces} pieces; accept the lot only if none is faulty, else all credit is lost. ${earned} In the long run at most ${limit} % of the pieces presented pass faulty; in this lot ${faulty} faulty pieces would be found at least half of the time.`;
}

/** Credits at which the curve is drawn. */
const chartPoints = 60;

function drawCredit(input: EarnedCreditInput, output: EarnedCreditOutput): Chart[] {
  const { outgoingLimitPercent: limit, lotSizePieces: lot } = input;
  const most = Math.max(2 * output.earnedPieces, 10 * lot);
  const x = Array.from({ length: chartPoints + 1 }, (_, index) =>
    Math.round((most * index) / chartPoints),
  );
  const bounded = (credit: number) => Math.min(credit, input.greatestCreditPieces ?? credit);
  return [
    {
      kind: 'chart',
      title: 'Sample that the credit asks for',
      xTitle: 'Pieces accepted since a lot was last refused',
      yTitle: 'Pieces to examine',
      series: [
        {
          label: 'sample',
          kind: 'line',
          x,
          y: x.map((credit) =>
            Math.min(
              lot,
              Math.max(sampleFor(limit, lot, bounded(credit)), input.leastSamplePieces ?? 1),
            ),
          ),
        },
      ],
      marks: [{ x: output.earnedPieces, label: 'earned' }],
    },
  ];
}

export const earnedCreditCalculation = defineCalculation({
  id: 'earned-credit',
  version: 1,
  topic: 'sampling',
  title: 'Sample under earned credit',
  purpose:
    'How many pieces must be found good when the supplier has delivered faultless lots before: the sample shrinks with the accepted quantity, and one faulty piece takes the credit away.',
  source:
    'Idea of credit after C. A. J. Klaassen (2001), Technometrics 43(2), 212-222, as remembered; rule, bounds and proof: our own',
  input: earnedCreditInput,
  output: earnedCreditOutput,
  example: {
    outgoingLimitPercent: 0.1,
    lotSizePieces: 10_000,
    history: [
      { lot: 'R-0411', pieces: 12_000, outcome: 'not accepted' },
      { lot: 'R-0412', pieces: 48_000, outcome: 'accepted' },
      { lot: 'R-0413', pieces: 42_000, outcome: 'accepted' },
    ],
    greatestCreditPieces: 200_000,
    leastSamplePieces: 32,
  },
  compute: earnedCredit,
  draw: drawCredit,
});
