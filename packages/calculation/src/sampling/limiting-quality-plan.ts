import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { decimalOfNumber } from '../quantity/decimal.ts';
import { divideRounded, roundNumberText } from '../quantity/rounding.ts';
import { hypergeometricAcceptance } from './acceptance-probability.ts';
import { acceptsAtMost, rejectsAtMost } from './decided-risk.ts';
import { curveOf, curveSeries } from './plan-charts.ts';
import { leastWhole } from './plan-search.ts';
import { type SamplingPlan, stagesOf } from './sampling-plan.ts';

const lot = 'a whole number of pieces from 2 to 1000000';
const quality = 'a percentage above 0, at most 100';
const risk = 'a number from 0.0001 to 0.5';
const most = 'a whole number from 0 to 30';

export const limitingQualityPlanInput = z.strictObject({
  lotSizePieces: z
    .int(lot)
    .min(2, lot)
    .max(1_000_000, lot)
    .meta({ title: 'Lot size', unit: 'pieces' }),
  limitingQualityPercent: z.number(quality).gt(0, quality).max(100, quality).meta({
    title: 'Limiting quality',
    description: 'A lot as bad as this is to be accepted rarely; percent nonconforming',
    unit: '%',
  }),
  consumersRisk: z.number(risk).min(0.0001, risk).max(0.5, risk).meta({
    title: "Consumer's risk",
    description: 'How often such a lot may be accepted at most; 0.1 is usual',
  }),
  greatestAcceptanceNumber: z.int(most).min(0, most).max(30, most).meta({
    title: 'Greatest acceptance number',
    description: 'Plans are given for 0 up to this number',
  }),
});

export type LimitingQualityPlanInput = z.infer<typeof limitingQualityPlanInput>;

export const limitingQualityPlanOutput = z.strictObject({
  limitingPieces: z.int().meta({
    title: 'Nonconforming pieces at the limiting quality',
    description: 'Rounded up to whole pieces',
    unit: 'pieces',
  }),
  plans: z
    .array(
      z.strictObject({
        acceptanceNumber: z.int().meta({ title: 'Acceptance number' }),
        sampleSizePieces: z.int().meta({ title: 'Sample size', unit: 'pieces' }),
        consumersRisk: z.number().meta({ title: 'Probability of accepting the limiting quality' }),
        goodPieces: z.int().meta({
          title: 'Nonconforming pieces of a good lot',
          description: 'The most with which the lot is still accepted 95 times in a hundred',
          unit: 'pieces',
        }),
      }),
    )
    .meta({ title: 'Smallest plan for each acceptance number' }),
  words: z.string().meta({ title: 'In words' }),
});

export type LimitingQualityPlanOutput = z.infer<typeof limitingQualityPlanOutput>;

/** A lot is called good while it is rejected at most so often. */
const goodRejection = 0.05;

type Plan = LimitingQualityPlanOutput['plans'][number];

function smallestPlan(
  input: LimitingQualityPlanInput,
  limitingPieces: number,
  acceptanceNumber: number,
): Plan | null {
  const { lotSizePieces, consumersRisk } = input;
  const basis = 'hypergeometric';
  const limiting = { basis, lotSizePieces, nonconformingPieces: limitingPieces } as const;
  const sampleSizePieces = leastWhole(acceptanceNumber + 1, lotSizePieces, (sampleSizePieces) =>
    acceptsAtMost({ sampleSizePieces, acceptanceNumber }, limiting, consumersRisk),
  );
  if (sampleSizePieces === null) return null;
  const firstBad = leastWhole(1, lotSizePieces, (nonconformingPieces) => {
    const bad = { basis, lotSizePieces, nonconformingPieces } as const;
    return !rejectsAtMost({ sampleSizePieces, acceptanceNumber }, bad, goodRejection);
  });
  return {
    acceptanceNumber,
    sampleSizePieces,
    consumersRisk: hypergeometricAcceptance({ sampleSizePieces, acceptanceNumber }, limiting),
    goodPieces: (firstBad ?? lotSizePieces) - 1,
  };
}

/**
 * Plans for one isolated lot that protect its receiver: a lot as bad as the limiting quality is
 * accepted no more often than stated, whatever the supplier's other lots are like.
 *
 * Formula: for each acceptance number the least n with P(x ≤ Ac) ≤ β, the count x hypergeometric with
 * the nonconforming pieces of the limiting quality, rounded up to whole ones. Beside each plan
 * stands the most nonconforming pieces with which it still accepts with probability 0.95: larger
 * acceptance numbers cost more pieces and treat good lots better.
 *
 * @param input lot of 2 to 1 000 000 pieces; limiting quality above 0 to 100 %; risk from 0.0001 to
 * 0.5; greatest acceptance number 0 to 30
 * @returns one plan for each acceptance number below the nonconforming pieces of the limiting
 * quality; probabilities not rounded
 * Validity: pieces drawn at random; exact. Held against exact fractions in laws/sampling-isolated.
 * Source: MIL-STD-105E (1989), 4.12 (limiting quality protection for isolated lots); the plans are
 * computed, not those of a table
 * @example limitingQualityPlan({ lotSizePieces: 1000, limitingQualityPercent: 5, consumersRisk: 0.1,
 *   greatestAcceptanceNumber: 0 }).plans[0].sampleSizePieces // 44
 */
export function limitingQualityPlan(input: LimitingQualityPlanInput): LimitingQualityPlanOutput {
  const { coefficient, places } = decimalOfNumber(input.limitingQualityPercent);
  const share = coefficient * BigInt(input.lotSizePieces);
  const limitingPieces = Number(divideRounded(share, 100n * 10n ** BigInt(places), 'up'));
  const plans: Plan[] = [];
  for (let number = 0; number <= input.greatestAcceptanceNumber; number += 1) {
    const plan = smallestPlan(input, limitingPieces, number);
    if (plan) plans.push(plan);
  }
  return { limitingPieces, plans, words: wordsOf(input, limitingPieces, plans) };
}

function wordsOf(
  input: LimitingQualityPlanInput,
  limitingPieces: number,
  plans: readonly Plan[],
): string {
  const [first] = plans;
  const last = plans.at(-1);
  if (!first || !last) return 'No plan protects this lot.';
  const percent = (value: number) => roundNumberText(100 * value, 2, 'half-even');
  const said = ({ acceptanceNumber, sampleSizePieces, consumersRisk, goodPieces }: Plan) =>
    `${sampleSizePieces} pieces with up to ${acceptanceNumber} nonconforming (such a lot passes ${percent(consumersRisk)} %, a lot with ${goodPieces} still 95 % of the time)`;
  const other = last === first ? '' : `, or ${said(last)}`;
  return `The limiting quality is ${limitingPieces} nonconforming of ${input.lotSizePieces}. Examine ${said(first)}${other}.`;
}

/** More curves than this cannot be told apart. */
const greatestCurves = 4;

function drawPlans(input: LimitingQualityPlanInput, output: LimitingQualityPlanOutput): Chart[] {
  const { lotSizePieces, limitingQualityPercent } = input;
  const stages = ({ sampleSizePieces, acceptanceNumber }: Plan): SamplingPlan =>
    stagesOf({ kind: 'single', sampleSizePieces, acceptanceNumber });
  const last = output.plans.length - 1;
  const count = Math.min(greatestCurves, output.plans.length);
  const shown = new Set(
    Array.from({ length: count }, (_, at) =>
      count === 1 ? 0 : Math.round((at * last) / (count - 1)),
    ),
  );
  return [
    {
      kind: 'chart',
      title: 'Operating characteristics for this lot',
      xTitle: 'Nonconforming, %',
      yTitle: 'Probability of acceptance',
      series: [...shown].flatMap((at) => {
        const plan = output.plans[at];
        if (!plan) return [];
        const points = curveOf(
          stages(plan),
          'hypergeometric',
          lotSizePieces,
          limitingQualityPercent,
        );
        const label = `${plan.sampleSizePieces}, Ac ${plan.acceptanceNumber}`;
        return [curveSeries(label, points, (outcome) => outcome.accepted, 'hypergeometric')];
      }),
      marks: [{ x: limitingQualityPercent, label: 'limiting' }],
      levels: [{ y: input.consumersRisk, label: 'risk' }],
    },
  ];
}

export const limitingQualityPlanCalculation = defineCalculation({
  id: 'limiting-quality-plan',
  version: 1,
  topic: 'sampling',
  title: 'Plans for an isolated lot',
  purpose:
    'How many pieces of a single lot to examine so that a lot as bad as the limiting quality is hardly ever accepted, for each acceptance number, and what a good lot risks.',
  source:
    'MIL-STD-105E (1989), 4.12 (limiting quality of isolated lots); plans computed by the hypergeometric distribution, not taken from a table',
  input: limitingQualityPlanInput,
  output: limitingQualityPlanOutput,
  example: {
    lotSizePieces: 1000,
    limitingQualityPercent: 5,
    consumersRisk: 0.1,
    greatestAcceptanceNumber: 3,
  },
  compute: limitingQualityPlan,
  draw: drawPlans,
});
