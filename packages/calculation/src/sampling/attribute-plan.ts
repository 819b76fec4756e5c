import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import {
  binomialAcceptance,
  hypergeometricAcceptance,
  poissonAcceptance,
} from './acceptance-probability.ts';
import { acceptanceQualityLimits, inspectionLevels, severities } from './attribute-tables.ts';
import { codeLetter, singlePlan } from './single-plan.ts';

export { binomialAcceptance, hypergeometricAcceptance, poissonAcceptance };

/** Above this limit the tables count nonconformities per hundred pieces, not pieces in percent. */
const greatestPercentNonconforming = 10;

export const attributePlanInput = z.strictObject({
  lotSizePieces: z
    .int('a whole number of 2 pieces or more')
    .min(2, 'a whole number of 2 pieces or more')
    .meta({ title: 'Lot size', description: 'Pieces presented as one lot', unit: 'pieces' }),
  inspectionLevel: z.enum(inspectionLevels, `one of ${inspectionLevels.join(', ')}`).meta({
    title: 'Inspection level',
    description:
      'II unless the order says otherwise; S-1 to S-4 where only small samples are possible',
  }),
  acceptanceQualityLimitPercent: z
    .literal(acceptanceQualityLimits, `one of ${acceptanceQualityLimits.join(', ')}`)
    .meta({
      title: 'Acceptance quality limit',
      description:
        'Percent nonconforming up to 10; nonconformities per hundred pieces for every value above',
      unit: '%',
    }),
  severity: z.enum(severities, `one of ${severities.join(', ')}`).meta({
    title: 'Severity',
    description: 'State that supplier, product and defect class have earned',
  }),
});

export type AttributePlanInput = z.infer<typeof attributePlanInput>;

export const attributePlanOutput = z.strictObject({
  codeLetter: z.string().meta({ title: 'Code letter of the lot' }),
  planLetter: z.string().meta({ title: 'Letter of the plan used, after arrows' }),
  planSampleSizePieces: z.int().meta({ title: 'Sample size of that plan', unit: 'pieces' }),
  sampleSizePieces: z.int().meta({ title: 'Pieces to examine', unit: 'pieces' }),
  acceptanceNumber: z.int().meta({ title: 'Acceptance number' }),
  rejectionNumber: z.int().meta({ title: 'Rejection number' }),
  examineEveryPiece: z.boolean().meta({ title: 'Examine every piece' }),
  gap: z.boolean().meta({ title: 'Counts between acceptance and rejection number exist' }),
  acceptanceProbabilityAtLimit: z
    .number()
    .meta({ title: 'Probability that a lot series at the limit is accepted' }),
  words: z.string().meta({ title: 'In words' }),
});

export type AttributePlanOutput = z.infer<typeof attributePlanOutput>;

/** Greatest count with which the lot is still accepted: a gap accepts, but ends reduced inspection. */
function greatestAcceptedCount(plan: { rejectionNumber: number }): number {
  return plan.rejectionNumber - 1;
}

function probabilityAtLimit(
  plan: { sampleSizePieces: number; rejectionNumber: number },
  limitPercent: number,
): number {
  const { sampleSizePieces } = plan;
  const counted = { sampleSizePieces, acceptanceNumber: greatestAcceptedCount(plan) };
  return limitPercent <= greatestPercentNonconforming
    ? binomialAcceptance(counted, limitPercent / 100)
    : poissonAcceptance(counted, limitPercent / 100);
}

function describePlan(
  output: Omit<AttributePlanOutput, 'words'>,
  input: AttributePlanInput,
): string {
  const { acceptanceNumber: accept, rejectionNumber: reject } = output;
  const what =
    input.acceptanceQualityLimitPercent <= greatestPercentNonconforming
      ? 'nonconforming'
      : 'nonconformities';
  const sample = output.examineEveryPiece
    ? `The plan asks for ${output.planSampleSizePieces}, the lot has ${input.lotSizePieces}: examine every piece.`
    : `Examine ${output.sampleSizePieces} of ${input.lotSizePieces} pieces.`;
  const upTo = accept === 0 ? `0 ${what}` : `0 to ${accept} ${what}`;
  const between = reject - 1 === accept + 1 ? `${accept + 1}` : `${accept + 1} to ${reject - 1}`;
  const middle = output.gap
    ? ` With ${between} accept this lot and go back to normal inspection from the next one.`
    : '';
  return `${sample} Accept with ${upTo}.${middle} Reject with ${reject} or more.`;
}

/**
 * Sampling plan for a lot judged by attributes: how many pieces are examined and how many faulty
 * ones it may show; it usually serves the visual and dimensional examination of received blanks.
 *
 * Formula: Table I gives the code letter from lot size and level; Tables II-A, II-B and II-C give
 * the plan, arrows followed to the first plan in the column, whose letter and size then hold. When
 * its size equals or exceeds the lot, every piece is examined and the numbers stay. The
 * probability of acceptance at the limit is binomial for limits up to 10 and Poisson above; under
 * reduced inspection a count between the two numbers still accepts the lot and is counted so.
 *
 * @param input lot size in pieces, 2 or more; level; limit, one of the twenty-six columns; severity
 * @returns letters, sample size, acceptance and rejection numbers, probability in [0, 1] not rounded
 * @throws DomainError for a lot below 2 pieces or a limit that is no column
 * Validity: pieces drawn at random (see `draw`); lots in a series. Tables compared cell by cell in
 * reference/mil-std-105e.
 * Source: MIL-STD-105E (1989), Tables I, II-A, II-B, II-C; clauses 4.9 to 4.13
 * @example attributePlan({ lotSizePieces: 7000, inspectionLevel: 'II',
 *   acceptanceQualityLimitPercent: 1.5, severity: 'normal' }).sampleSizePieces // 200
 */
export function attributePlan(input: AttributePlanInput): AttributePlanOutput {
  const letter = codeLetter(input.lotSizePieces, input.inspectionLevel);
  const plan = singlePlan(letter, input.acceptanceQualityLimitPercent, input.severity);
  const examineEveryPiece = plan.sampleSizePieces >= input.lotSizePieces;
  const sampleSizePieces = examineEveryPiece ? input.lotSizePieces : plan.sampleSizePieces;
  const output = {
    codeLetter: letter,
    planLetter: plan.letter,
    planSampleSizePieces: plan.sampleSizePieces,
    sampleSizePieces,
    acceptanceNumber: plan.acceptanceNumber,
    rejectionNumber: plan.rejectionNumber,
    examineEveryPiece,
    gap: plan.rejectionNumber > plan.acceptanceNumber + 1,
    acceptanceProbabilityAtLimit: probabilityAtLimit(
      { sampleSizePieces, rejectionNumber: plan.rejectionNumber },
      input.acceptanceQualityLimitPercent,
    ),
  };
  return { ...output, words: describePlan(output, input) };
}

/** Up to about this many points the curve is drawn. */
const curvePoints = 80;

/** Points of the exact curve of one lot: a nonconforming number of pieces has no fractions. */
function isolatedLotCurve(
  plan: { sampleSizePieces: number; acceptanceNumber: number },
  lotSizePieces: number,
  greatestPercent: number,
): { x: number[]; y: number[] } {
  const most = Math.min(lotSizePieces, Math.ceil((greatestPercent / 100) * lotSizePieces));
  const step = Math.max(1, Math.floor(most / curvePoints));
  const x: number[] = [];
  const y: number[] = [];
  for (let nonconformingPieces = 0; nonconformingPieces <= most; nonconformingPieces += step) {
    x.push((100 * nonconformingPieces) / lotSizePieces);
    y.push(hypergeometricAcceptance(plan, { lotSizePieces, nonconformingPieces }));
  }
  return { x, y };
}

function drawAttributePlan(input: AttributePlanInput, output: AttributePlanOutput): Chart[] {
  const limit = input.acceptanceQualityLimitPercent;
  const { sampleSizePieces } = output;
  const plan = { sampleSizePieces, acceptanceNumber: greatestAcceptedCount(output) };
  const percent = limit <= greatestPercentNonconforming;
  // Four means beyond the acceptance number the curve has come down to a few per thousand.
  const reach =
    (100 * (plan.acceptanceNumber + 5 + 3 * Math.sqrt(plan.acceptanceNumber))) / sampleSizePieces;
  const greatest = percent ? Math.min(100, Math.max(reach, 2 * limit)) : Math.max(reach, 2 * limit);
  const small = percent && sampleSizePieces * 10 > input.lotSizePieces;
  const curve = small
    ? isolatedLotCurve(plan, input.lotSizePieces, greatest)
    : seriesCurve(plan, greatest, percent);
  const basis = small ? 'this lot, exact' : percent ? 'series of lots, binomial' : 'Poisson';
  return [
    {
      kind: 'chart',
      title: 'Operating characteristic',
      xTitle: percent ? 'Nonconforming, %' : 'Nonconformities per hundred pieces',
      yTitle: 'Probability of acceptance',
      series: [{ label: basis, kind: small ? 'points' : 'line', ...curve }],
      marks: [{ x: limit, label: `limit ${limit}` }],
    },
  ];
}

function seriesCurve(
  plan: { sampleSizePieces: number; acceptanceNumber: number },
  greatestPercent: number,
  percent: boolean,
): { x: number[]; y: number[] } {
  const x = Array.from(
    { length: curvePoints + 1 },
    (_, index) => (greatestPercent * index) / curvePoints,
  );
  const accept = percent ? binomialAcceptance : poissonAcceptance;
  return { x, y: x.map((value) => accept(plan, value / 100)) };
}

export const attributePlanCalculation = defineCalculation({
  id: 'attribute-plan',
  version: 1,
  topic: 'sampling',
  title: 'Sampling plan by attributes',
  purpose:
    'How many pieces of a lot to examine, and with how many faulty ones the lot is still accepted: single sampling, normal, tightened or reduced.',
  source:
    'MIL-STD-105E (1989), Tables I, II-A, II-B and II-C; operating characteristic by the binomial, Poisson or hypergeometric distribution',
  input: attributePlanInput,
  output: attributePlanOutput,
  // The plans of this lot are a published textbook exercise: letter L; 200, 7, 8.
  example: {
    lotSizePieces: 7000,
    inspectionLevel: 'II',
    acceptanceQualityLimitPercent: 1.5,
    severity: 'normal',
  },
  compute: attributePlan,
  draw: drawAttributePlan,
});
