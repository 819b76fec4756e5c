import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';

const percent = 'a percentage above 0 and below 100';
const risk = 'a number from 0.0001 to 0.4999';
const most = 'a whole number of pieces from 1 to 2000';
const quality = 'a percentage from 0 to 100';

const inPercent = (title: string, description: string) =>
  z.number(percent).gt(0, percent).lt(100, percent).meta({ title, description, unit: '%' });
const risked = (title: string) =>
  z.number(risk).min(0.0001, risk).max(0.4999, risk).meta({ title });

export const sequentialPlanInput = z.strictObject({
  producersQualityPercent: inPercent('Quality of the producer', 'Lots so good should be accepted'),
  producersRisk: risked("Producer's risk"),
  consumersQualityPercent: inPercent('Quality of the consumer', 'Lots so bad should be rejected'),
  consumersRisk: risked("Consumer's risk"),
  greatestSamplePieces: z.int(most).min(1, most).max(2000, most).meta({
    title: 'Pieces at which to end',
    description: 'Where no decision has come before; 1.5 times the single plan is usual',
    unit: 'pieces',
  }),
  qualitiesPercent: z
    .array(
      z.number(quality).min(0, quality).max(100, quality).meta({ title: 'Quality', unit: '%' }),
      'a list of qualities',
    )
    .min(1, 'at least one quality')
    .max(50, 'at most 50 qualities')
    .meta({ title: 'Qualities', description: 'Those for which the figures are wanted' }),
});

export type SequentialPlanInput = z.infer<typeof sequentialPlanInput>;

const line = (title: string, description: string) => z.number().meta({ title, description });

export const sequentialPlanOutput = z.strictObject({
  acceptIntercept: line('Intercept of the acceptance line', 'Subtracted from slope × pieces'),
  rejectIntercept: line('Intercept of the rejection line', 'Added to slope × pieces'),
  slope: line('Slope of both lines', 'Nonconforming for each piece examined'),
  rows: z
    .array(
      z.strictObject({
        samplePieces: z.int().meta({ title: 'Pieces examined', unit: 'pieces' }),
        acceptanceNumber: z.int().nullable().meta({
          title: 'Accept with at most',
          description: 'Nothing where acceptance is not possible yet',
        }),
        rejectionNumber: z.int().nullable().meta({
          title: 'Reject with at least',
          description: 'Nothing where rejection is not possible yet',
        }),
      }),
    )
    .meta({ title: 'Numbers after each piece' }),
  points: z
    .array(
      z.strictObject({
        qualityPercent: z.number().meta({ title: 'Quality', unit: '%' }),
        acceptanceProbability: z.number().meta({ title: 'Probability of acceptance' }),
        averageSamplePieces: z.number().meta({ title: 'Average sample number', unit: 'pieces' }),
        undecidedProbability: z.number().meta({ title: 'Chance that the end decides' }),
      }),
    )
    .meta({ title: 'Figures at the qualities' }),
  words: z.string().meta({ title: 'In words' }),
});

export type SequentialPlanOutput = z.infer<typeof sequentialPlanOutput>;

/** The two lines between which one more piece is examined. */
interface Lines {
  readonly acceptIntercept: number;
  readonly rejectIntercept: number;
  readonly slope: number;
}

function linesOf(input: SequentialPlanInput): Lines {
  const [good, bad] = [input.producersQualityPercent / 100, input.consumersQualityPercent / 100];
  requireDomain(bad > good, {
    field: 'consumersQualityPercent',
    value: input.consumersQualityPercent,
    accepted: `a quality worse than the ${input.producersQualityPercent} % of the producer`,
  });
  const better = Math.log1p(-good) - Math.log1p(-bad);
  const odds = Math.log(bad) - Math.log(good) + better;
  const { producersRisk: alpha, consumersRisk: beta } = input;
  return {
    acceptIntercept: Math.log((1 - alpha) / beta) / odds,
    rejectIntercept: Math.log((1 - beta) / alpha) / odds,
    slope: better / odds,
  };
}

type Row = SequentialPlanOutput['rows'][number];

function rowOf(lines: Lines, samplePieces: number, greatest: number): Row {
  const middle = lines.slope * samplePieces;
  // At the end the line midway between the two decides, so that no lot stays open.
  if (samplePieces === greatest) {
    const half = middle + (lines.rejectIntercept - lines.acceptIntercept) / 2;
    const rejectionNumber = Math.max(0, Math.floor(half) + 1);
    const acceptanceNumber = rejectionNumber === 0 ? null : rejectionNumber - 1;
    return { samplePieces, acceptanceNumber, rejectionNumber };
  }
  const accept = Math.floor(middle - lines.acceptIntercept);
  const reject = Math.ceil(middle + lines.rejectIntercept);
  return {
    samplePieces,
    acceptanceNumber: accept < 0 ? null : accept,
    rejectionNumber: reject > samplePieces ? null : reject,
  };
}

type Point = SequentialPlanOutput['points'][number];

/** The plan walked piece by piece: chances of each count among the lots still undecided. */
function pointAt(rows: readonly Row[], qualityPercent: number): Point {
  const bad = qualityPercent / 100;
  const open = new Array<number>(rows.length + 2).fill(0);
  open[0] = 1;
  let [least, most] = [0, 0];
  const point = { acceptanceProbability: 0, averageSamplePieces: 0, undecidedProbability: 0 };
  for (const { acceptanceNumber, rejectionNumber } of rows) {
    point.undecidedProbability = 0;
    for (let count = most; count >= least; count -= 1) {
      const chance = open[count] as number;
      point.undecidedProbability += chance;
      open[count + 1] = (open[count + 1] as number) + chance * bad;
      open[count] = chance * (1 - bad);
    }
    point.averageSamplePieces += point.undecidedProbability;
    most += 1;
    for (; acceptanceNumber !== null && least <= Math.min(most, acceptanceNumber); least += 1) {
      point.acceptanceProbability += open[least] as number;
      open[least] = 0;
    }
    for (; rejectionNumber !== null && most >= Math.max(least, rejectionNumber); most -= 1) {
      open[most] = 0;
    }
  }
  return { qualityPercent, ...point };
}

/**
 * Sequential plan: after each piece the lot is accepted, rejected, or one more piece is examined. It
 * examines the fewest pieces of all plans for the same two risks, and serves examinations that destroy
 * the piece.
 *
 * Formula: with g = ln(p₂/p₁) + ln((1 − p₁)/(1 − p₂)), accept when the count is at most s·n − h₁ and reject
 * when it is at least s·n + h₂; h₁ = ln((1 − α)/β)/g, h₂ = ln((1 − β)/α)/g, s = ln((1 − p₁)/(1 − p₂))/g.
 * At the last piece the line midway between the two decides. Probabilities and means are summed
 * exactly, piece by piece, with the end included.
 *
 * @param input qualities above 0 and below 100 %, risks below one half, an end of 1 to 2000 pieces, one
 * to 50 qualities for the figures
 * @returns both lines, the numbers after each piece, and exact figures at the qualities, not rounded
 * @throws DomainError for qualities in the wrong order
 * Validity: series of lots, pieces independent; the lines keep the two risks nearly, the figures say
 * how nearly. Published numbers in reference/operating-characteristics.
 * Source: A. Wald (1947), Sequential Analysis, chapter 5; NIST/SEMATECH e-Handbook of Statistical
 * Methods, 6.2.6; the end by the middle line: our own
 * @example sequentialPlan({ producersQualityPercent: 1, producersRisk: 0.05,
 *   consumersQualityPercent: 10, consumersRisk: 0.1, greatestSamplePieces: 60, qualitiesPercent: [1],
 * }).rows[23].rejectionNumber // 3
 */
export function sequentialPlan(input: SequentialPlanInput): SequentialPlanOutput {
  const lines = linesOf(input);
  const greatest = input.greatestSamplePieces;
  const rows = Array.from({ length: greatest }, (_, index) => rowOf(lines, index + 1, greatest));
  const points = input.qualitiesPercent.map((one) => pointAt(rows, one));
  return { ...lines, rows, points, words: wordsOf(rows, points) };
}

function wordsOf(rows: readonly Row[], points: readonly Point[]): string {
  const accept = rows.find(({ acceptanceNumber }) => acceptanceNumber !== null);
  const reject = rows.find(({ rejectionNumber }) => rejectionNumber !== null);
  const said = points.slice(0, 3).map((point) => {
    const accepted = roundNumberText(100 * point.acceptanceProbability, 1, 'half-even');
    const pieces = roundNumberText(point.averageSamplePieces, 1, 'half-even');
    return `At ${point.qualityPercent} % it accepts ${accepted} % of the lots with ${pieces} pieces in the mean.`;
  });
  const possible = accept ? `possible from piece ${accept.samplePieces} on` : 'never possible';
  const first = `Acceptance is ${possible}, rejection from piece ${reject?.samplePieces} on, and piece ${rows.length} ends it.`;
  return [first, ...said].join(' ');
}

function drawSequential(_input: SequentialPlanInput, output: SequentialPlanOutput): Chart[] {
  const numbers = (label: string, number: (row: Row) => number | null) => {
    const rows = output.rows.filter((row) => number(row) !== null);
    return {
      label,
      kind: 'steps' as const,
      x: rows.map(({ samplePieces }) => samplePieces),
      y: rows.map((row) => number(row) ?? 0),
    };
  };
  return [
    {
      kind: 'chart',
      title: 'Accept, go on, reject',
      xTitle: 'Pieces examined',
      yTitle: 'Nonconforming found',
      series: [
        numbers('accept', ({ acceptanceNumber }) => acceptanceNumber),
        numbers('reject', ({ rejectionNumber }) => rejectionNumber),
      ],
    },
  ];
}

export const sequentialPlanCalculation = defineCalculation({
  id: 'sequential-plan',
  version: 1,
  topic: 'sampling',
  title: 'Sequential plan by attributes',
  purpose:
    'Tells after each piece whether the lot is accepted, rejected or examined further: the fewest pieces for two agreed risks, with the exact figures of the plan.',
  source:
    'A. Wald (1947), Sequential Analysis, chapter 5; NIST/SEMATECH e-Handbook of Statistical Methods, 6.2.6; the end by the middle line: our own',
  input: sequentialPlanInput,
  output: sequentialPlanOutput,
  // NIST/SEMATECH e-Handbook, 6.2.6: after 24 pieces accept at 0, reject at 3.
  example: {
    producersQualityPercent: 1,
    producersRisk: 0.05,
    consumersQualityPercent: 10,
    consumersRisk: 0.1,
    greatestSamplePieces: 60,
    qualitiesPercent: [1, 4, 10],
  },
  compute: sequentialPlan,
  draw: drawSequential,
});
