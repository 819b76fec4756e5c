import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { decimalOfNumber, numberOfDecimal, subtractDecimals } from '../quantity/decimal.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { hypergeometricAcceptance } from './acceptance-probability.ts';
import { acceptsAtMost } from './decided-risk.ts';
import { leastWhole } from './plan-search.ts';

const lot = 'a whole number of pieces from 1 to 10000000';
const tolerated = 'a whole number of pieces from 0 to 9999999';
const sure = 'a number from 0.5 to 0.999999';

export const acceptZeroPlanInput = z.strictObject({
  lotSizePieces: z
    .int(lot)
    .min(1, lot)
    .max(10_000_000, lot)
    .meta({ title: 'Lot size', unit: 'pieces' }),
  toleratedPieces: z.int(tolerated).min(0, tolerated).max(9_999_999, tolerated).meta({
    title: 'Faulty pieces tolerated',
    description: 'The claim after a clean sample: at most so many in the lot',
    unit: 'pieces',
  }),
  confidence: z.number(sure).min(0.5, sure).max(0.999999, sure).meta({
    title: 'Confidence',
    description: 'Probability at least with which a lot that has more is found out',
  }),
});

export type AcceptZeroPlanInput = z.infer<typeof acceptZeroPlanInput>;

export const acceptZeroPlanOutput = z.strictObject({
  sampleSizePieces: z.int().meta({ title: 'Pieces to examine', unit: 'pieces' }),
  acceptanceNumber: z.int().meta({ title: 'Acceptance number, always 0' }),
  examineEveryPiece: z.boolean().meta({ title: 'Examine every piece' }),
  detectionProbability: z.number().meta({
    title: 'Probability of finding a fault',
    description: 'In a lot with one faulty piece more than tolerated',
  }),
  halfAcceptedPieces: z.int().meta({
    title: 'Faulty pieces at which half of the lots are refused',
    description: 'A lot with so many is refused at least every second time',
    unit: 'pieces',
  }),
  words: z.string().meta({ title: 'In words' }),
});

export type AcceptZeroPlanOutput = z.infer<typeof acceptZeroPlanOutput>;

/** Whether a faultless sample of a lot with so many faulty pieces is rare enough. */
function isFound(
  lotSizePieces: number,
  sampleSizePieces: number,
  nonconformingPieces: number,
  confidence: number,
): boolean {
  const quality = { basis: 'hypergeometric', lotSizePieces, nonconformingPieces } as const;
  // The complement of a decimal is taken as a decimal: 1 − 0.95 is 0.05 and not the double beside it.
  const { coefficient, places } = decimalOfNumber(confidence);
  const one = { coefficient: 10n ** BigInt(places), places };
  const risk = numberOfDecimal(subtractDecimals(one, { coefficient, places }));
  return acceptsAtMost({ sampleSizePieces, acceptanceNumber: 0 }, quality, risk);
}

/**
 * Sample that must be free of faults before a lot is accepted: the smallest for which a clean sample
 * proves, with a stated confidence, that at most so many faulty pieces are in the lot. It serves
 * isolated lots, and faults of which none is to be tolerated in the sample.
 *
 * Formula: the least n with 1 − C(N − D, n)/C(N, n) ≥ confidence, D one more than the tolerated pieces,
 * N the lot. Near the confidence whole numbers decide, so that a sample that just suffices is found.
 *
 * @param input lot of 1 to 10 000 000 pieces; tolerated pieces, 0 to below the lot; confidence from
 * 0.5 to 0.999999
 * @returns sample, 1 to the lot; probability of finding a fault, not rounded
 * @throws DomainError when as many faulty pieces are tolerated as the lot has
 * Validity: pieces drawn at random (see `draw`), every fault in the sample recognised. Exact; held
 * against a search with exact fractions in laws/sampling-isolated.
 * Source: the hypergeometric distribution; acceptance number zero and one lot: common practice
 * @example acceptZeroPlan({ lotSizePieces: 20, toleratedPieces: 0, confidence: 0.95,
 *   }).sampleSizePieces // 19
 */
export function acceptZeroPlan(input: AcceptZeroPlanInput): AcceptZeroPlanOutput {
  const { lotSizePieces, toleratedPieces, confidence } = input;
  requireDomain(toleratedPieces < lotSizePieces, {
    field: 'toleratedPieces',
    value: toleratedPieces,
    accepted: `fewer than the ${lotSizePieces} pieces of the lot`,
  });
  const faulty = toleratedPieces + 1;
  const sampleSizePieces = leastWhole(1, lotSizePieces, (pieces) =>
    isFound(lotSizePieces, pieces, faulty, confidence),
  );
  if (sampleSizePieces === null) throw new Error('the whole lot shows every fault');
  const halfAcceptedPieces = leastWhole(1, lotSizePieces, (bad) =>
    isFound(lotSizePieces, sampleSizePieces, bad, 0.5),
  );
  const plan = { sampleSizePieces, acceptanceNumber: 0 };
  const missed = hypergeometricAcceptance(plan, { lotSizePieces, nonconformingPieces: faulty });
  const detectionProbability = 1 - missed;
  return {
    ...plan,
    examineEveryPiece: sampleSizePieces === lotSizePieces,
    detectionProbability,
    halfAcceptedPieces: halfAcceptedPieces ?? lotSizePieces,
    words: wordsOf(input, sampleSizePieces, detectionProbability),
  };
}

function wordsOf(input: AcceptZeroPlanInput, sample: number, detected: number): string {
  const { lotSizePieces, toleratedPieces, confidence } = input;
  const percent = (value: number) => roundNumberText(100 * value, 2, 'half-even');
  const claim = toleratedPieces === 0 ? 'no piece' : `at most ${toleratedPieces}`;
  const what =
    sample === lotSizePieces
      ? `Examine every one of the ${lotSizePieces} pieces.`
      : `Examine ${sample} of ${lotSizePieces} pieces; accept the lot only if none is faulty.`;
  return `${what} A clean sample then shows with ${percent(confidence)} % confidence that ${claim} of the lot is faulty: one more would be found ${percent(detected)} times in a hundred.`;
}

/** Up to about this many points are drawn. */
const chartPoints = 60;

function drawDetection(input: AcceptZeroPlanInput, output: AcceptZeroPlanOutput): Chart[] {
  const { lotSizePieces, toleratedPieces, confidence } = input;
  const most = Math.min(lotSizePieces, Math.max(2 * (toleratedPieces + 1), 10));
  const step = Math.max(1, Math.floor(most / chartPoints));
  const x = Array.from({ length: Math.floor(most / step) + 1 }, (_, index) => index * step);
  const plan = { sampleSizePieces: output.sampleSizePieces, acceptanceNumber: 0 };
  return [
    {
      kind: 'chart',
      title: 'Probability of finding a fault',
      xTitle: 'Faulty pieces in the lot',
      yTitle: 'Probability that the lot is refused',
      series: [
        {
          label: 'refused',
          kind: 'points',
          x,
          y: x.map(
            (nonconformingPieces) =>
              1 - hypergeometricAcceptance(plan, { lotSizePieces, nonconformingPieces }),
          ),
        },
      ],
      marks: [{ x: toleratedPieces + 1, label: 'one too many' }],
      levels: [{ y: confidence, label: 'confidence' }],
    },
  ];
}

export const acceptZeroPlanCalculation = defineCalculation({
  id: 'accept-zero-plan',
  version: 1,
  topic: 'sampling',
  title: 'Sample that must be free of faults',
  purpose:
    'How many pieces of one lot must be found good before it can be said, with a stated confidence, that at most so many of all its pieces are faulty.',
  source: 'Hypergeometric distribution, exact; acceptance number zero for one lot: common practice',
  input: acceptZeroPlanInput,
  output: acceptZeroPlanOutput,
  // One lot of 500, at most four faulty: the probability with 225 clean pieces is tested exactly.
  example: { lotSizePieces: 500, toleratedPieces: 4, confidence: 0.95 },
  compute: acceptZeroPlan,
  draw: drawDetection,
});
