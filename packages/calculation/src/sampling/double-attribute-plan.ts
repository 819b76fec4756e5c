import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { type AttributePlanInput, attributePlanInput } from './attribute-plan.ts';
import { doublePlan, type TabledPlan } from './double-plan.ts';
import { averageSampleChart, curveOf, curveSeries, qualityTitle } from './plan-charts.ts';
import { type PlanBasis, qualityOfPercent } from './plan-curve.ts';
import { planOutcome } from './plan-outcome.ts';
import { allSamplesPieces, type SamplingPlan } from './sampling-plan.ts';
import { codeLetter, singlePlan } from './single-plan.ts';

/** Above this limit the tables count nonconformities per hundred pieces, not pieces in percent. */
const greatestPercentNonconforming = 10;

const ofSecond = 'Counts both samples together; nothing where no second sample is drawn';
const pieces = (title: string) => z.number().meta({ title, unit: 'pieces' });

export const doubleAttributePlanOutput = z.strictObject({
  codeLetter: z.string().meta({ title: 'Code letter of the lot' }),
  planLetter: z.string().meta({ title: 'Letter of the plan used, after arrows' }),
  usesSinglePlan: z.boolean().meta({
    title: 'A single plan is used',
    description: 'The table sends back to it, or the first sample would be the whole lot',
  }),
  examineEveryPiece: z.boolean().meta({ title: 'Examine every piece' }),
  firstSampleSizePieces: z.int().meta({ title: 'First sample', unit: 'pieces' }),
  firstAcceptanceNumber: z.int().meta({ title: 'Acceptance number of the first sample' }),
  firstRejectionNumber: z.int().meta({ title: 'Rejection number of the first sample' }),
  secondSampleSizePieces: z
    .int()
    .nullable()
    .meta({ title: 'Second sample', description: 'Nothing for none', unit: 'pieces' }),
  secondAcceptanceNumber: z
    .int()
    .nullable()
    .meta({ title: 'Acceptance number after the second sample', description: ofSecond }),
  secondRejectionNumber: z
    .int()
    .nullable()
    .meta({ title: 'Rejection number after the second sample', description: ofSecond }),
  gap: z.boolean().meta({
    title: 'Counts between the last acceptance and rejection number exist',
    description: 'They accept the lot and end reduced inspection',
  }),
  acceptanceProbabilityAtLimit: z
    .number()
    .meta({ title: 'Probability that a lot series at the limit is accepted' }),
  averageSampleAtLimitPieces: pieces('Average sample number at the limit'),
  averageSampleCurtailedAtLimitPieces: pieces(
    'Average sample number at the limit, second sample cut short at rejection',
  ),
  singleSampleSizePieces: z
    .int()
    .meta({ title: 'Sample of the single plan for the same lot', unit: 'pieces' }),
  words: z.string().meta({ title: 'In words' }),
});

export type DoubleAttributePlanOutput = z.infer<typeof doubleAttributePlanOutput>;

/** The tabled plan cut down to what the lot holds. */
function fittedPlan(
  tabled: TabledPlan,
  input: AttributePlanInput,
): { readonly plan: SamplingPlan; readonly usesSinglePlan: boolean; readonly every: boolean } {
  const { lotSizePieces: lot } = input;
  const { first, second } = tabled.plan;
  if (second && first.sampleSizePieces < lot) {
    const rest = Math.min(second.sampleSizePieces, lot - first.sampleSizePieces);
    const plan = { first, second: { ...second, sampleSizePieces: rest } };
    return { plan, usesSinglePlan: false, every: false };
  }
  const { letter: _, ...single } = second
    ? singlePlan(tabled.letter, input.acceptanceQualityLimitPercent, input.severity)
    : { ...first, letter: tabled.letter };
  const every = single.sampleSizePieces >= lot;
  const sampleSizePieces = Math.min(single.sampleSizePieces, lot);
  return { plan: { first: { ...single, sampleSizePieces } }, usesSinglePlan: true, every };
}

const upTo = (accept: number, what: string): string =>
  accept === 0 ? `0 ${what}` : `0 to ${accept} ${what}`;

function between(accept: number, reject: number): string {
  return reject - 1 === accept + 1 ? `${accept + 1}` : `${accept + 1} to ${reject - 1}`;
}

function gapWords(accept: number, reject: number, where: string): string {
  if (reject === accept + 1) return '';
  return ` With ${between(accept, reject)}${where} accept this lot and go back to normal inspection from the next one.`;
}

/** What is counted, by the limit: pieces up to 10, nonconformities above. */
const counted = (limitPercent: number): string =>
  limitPercent <= greatestPercentNonconforming ? 'nonconforming' : 'nonconformities';

function describeSingle(plan: SamplingPlan, input: AttributePlanInput, every: boolean): string {
  const { sampleSizePieces, acceptanceNumber: accept, rejectionNumber: reject } = plan.first;
  const what = counted(input.acceptanceQualityLimitPercent);
  const sample = every
    ? `Examine every one of the ${input.lotSizePieces} pieces.`
    : `There is no double plan for this lot: examine ${sampleSizePieces} of ${input.lotSizePieces} pieces as one sample.`;
  return `${sample} Accept with ${upTo(accept, what)}.${gapWords(accept, reject, '')} Reject with ${reject} or more.`;
}

function describeDouble(plan: Required<SamplingPlan>, input: AttributePlanInput): string {
  const { first, second } = plan;
  const what = counted(input.acceptanceQualityLimitPercent);
  const rest = allSamplesPieces(plan) === input.lotSizePieces ? ', the rest of the lot' : '';
  return [
    `Examine ${first.sampleSizePieces} of ${input.lotSizePieces} pieces.`,
    `Accept with ${upTo(first.acceptanceNumber, what)}, reject with ${first.rejectionNumber} or more.`,
    `With ${between(first.acceptanceNumber, first.rejectionNumber)} examine ${second.sampleSizePieces} more${rest}:`,
    `accept with up to ${second.acceptanceNumber} in both samples together.${gapWords(second.acceptanceNumber, second.rejectionNumber, ' in both')}`,
    `Reject with ${second.rejectionNumber} or more in both.`,
  ].join(' ');
}

function basisOf(limitPercent: number): PlanBasis {
  return limitPercent <= greatestPercentNonconforming ? 'binomial' : 'poisson';
}

/**
 * Double sampling plan for a lot judged by attributes: a smaller first sample, and a second one only
 * where the first leaves the lot undecided. It serves examinations that cost much time for each piece.
 *
 * Formula: Table I gives the code letter; Tables III-A, III-B and III-C give both samples and their
 * numbers, arrows followed to the first plan in the column, or send to the single plan. When the
 * first sample equals or exceeds the lot, every piece is examined under the single plan of that
 * letter; when both samples together exceed it, the second sample is the rest of the lot: the
 * standard is silent on both, and this is common practice. Probability and average sample number
 * at the limit are binomial for limits up to 10 and Poisson above; a gap accepts.
 *
 * @param input lot size in pieces, 2 or more; level; limit, one of the twenty-six columns; severity
 * @returns letters, both samples with their numbers, probability and average sample numbers, not
 * rounded
 * @throws DomainError for a lot below 2 pieces or a limit that is no column
 * Validity: pieces drawn at random (see `draw`); lots in a series. Tables compared cell by cell in
 * reference/mil-std-105e, which names their one full source.
 * Source: MIL-STD-105E (1989), Tables I, III-A, III-B, III-C; clauses 4.9 to 4.13
 * @example doubleAttributePlan({ lotSizePieces: 7000, inspectionLevel: 'II',
 *   acceptanceQualityLimitPercent: 1.5, severity: 'normal' }).firstSampleSizePieces // 125
 */
export function doubleAttributePlan(input: AttributePlanInput): DoubleAttributePlanOutput {
  const { acceptanceQualityLimitPercent: limit, severity, lotSizePieces } = input;
  const letter = codeLetter(lotSizePieces, input.inspectionLevel);
  const tabled = doublePlan(letter, limit, severity);
  const { plan, usesSinglePlan, every } = fittedPlan(tabled, input);
  const { first, second } = plan;
  const last = second ?? first;
  const outcome = planOutcome(plan, qualityOfPercent(basisOf(limit), limit, lotSizePieces));
  const single = singlePlan(letter, limit, severity);
  return {
    codeLetter: letter,
    planLetter: tabled.letter,
    usesSinglePlan,
    examineEveryPiece: every,
    firstSampleSizePieces: first.sampleSizePieces,
    firstAcceptanceNumber: first.acceptanceNumber,
    firstRejectionNumber: first.rejectionNumber,
    secondSampleSizePieces: second?.sampleSizePieces ?? null,
    secondAcceptanceNumber: second?.acceptanceNumber ?? null,
    secondRejectionNumber: second?.rejectionNumber ?? null,
    gap: last.rejectionNumber > last.acceptanceNumber + 1,
    acceptanceProbabilityAtLimit: outcome.accepted,
    averageSampleAtLimitPieces: outcome.averageSamplePieces,
    averageSampleCurtailedAtLimitPieces: outcome.averageSampleCurtailedPieces,
    singleSampleSizePieces: Math.min(single.sampleSizePieces, lotSizePieces),
    words: wordsOf(plan, input, every, outcome.averageSamplePieces),
  };
}

function wordsOf(
  plan: SamplingPlan,
  input: AttributePlanInput,
  every: boolean,
  averagePieces: number,
): string {
  const { first, second } = plan;
  if (!second) return describeSingle(plan, input, every);
  const mean = roundNumberText(averagePieces, 1, 'half-even');
  return `${describeDouble({ first, second }, input)} Lots at the limit take ${mean} pieces in the mean.`;
}

function planOfOutput(output: DoubleAttributePlanOutput): SamplingPlan {
  const first = {
    sampleSizePieces: output.firstSampleSizePieces,
    acceptanceNumber: output.firstAcceptanceNumber,
    rejectionNumber: output.firstRejectionNumber,
  };
  const { secondSampleSizePieces, secondAcceptanceNumber, secondRejectionNumber } = output;
  if (secondSampleSizePieces === null) return { first };
  return {
    first,
    second: {
      sampleSizePieces: secondSampleSizePieces,
      acceptanceNumber: secondAcceptanceNumber ?? 0,
      rejectionNumber: secondRejectionNumber ?? 0,
    },
  };
}

function drawDoublePlan(input: AttributePlanInput, output: DoubleAttributePlanOutput): Chart[] {
  const limit = input.acceptanceQualityLimitPercent;
  const basis = basisOf(limit);
  const plan = planOfOutput(output);
  const points = curveOf(plan, basis, input.lotSizePieces, 2 * limit);
  const marks = [{ x: limit, label: `limit ${limit}` }];
  const accepted: Chart = {
    kind: 'chart',
    title: 'Operating characteristic',
    xTitle: qualityTitle(basis),
    yTitle: 'Probability of acceptance',
    series: [
      curveSeries('accepted', points, (outcome) => outcome.accepted, basis),
      ...(plan.second
        ? [curveSeries('on first sample', points, (outcome) => outcome.acceptedOnFirst, basis)]
        : []),
    ],
    marks,
  };
  if (!plan.second) return [accepted];
  const levels = [{ y: output.singleSampleSizePieces, label: 'single plan' }];
  return [accepted, { ...averageSampleChart(points, basis, levels), marks }];
}

export const doubleAttributePlanCalculation = defineCalculation({
  id: 'double-attribute-plan',
  version: 1,
  topic: 'sampling',
  title: 'Double sampling plan by attributes',
  purpose:
    'How many pieces of a lot to examine first, when a second sample is needed, and with how many faulty ones the lot is accepted: normal, tightened or reduced, with the mean effort.',
  source:
    'MIL-STD-105E (1989), Tables I, III-A, III-B and III-C; average sample number by the binomial or Poisson distribution',
  input: attributePlanInput,
  output: doubleAttributePlanOutput,
  // Published for letter L at 1.5: 125 (3, 7) and 125 (8, 9).
  example: {
    lotSizePieces: 7000,
    inspectionLevel: 'II',
    acceptanceQualityLimitPercent: 1.5,
    severity: 'normal',
  },
  compute: doubleAttributePlan,
  draw: drawDoublePlan,
});
