import { z } from 'zod';
import { requireDomain } from '../quantity/domain.ts';

/** One sample of a plan; the numbers of a second sample count both samples together. */
export interface SampleStage {
  readonly sampleSizePieces: number;
  readonly acceptanceNumber: number;
  readonly rejectionNumber: number;
}

/** A single plan has one stage, a double plan two. */
export interface SamplingPlan {
  readonly first: SampleStage;
  readonly second?: SampleStage;
}

const greatestSample = 1_000_000;
const size = `a whole number of pieces from 1 to ${greatestSample}`;
const greatestOfSingle = 10_000;
/** Every count between the numbers of a first sample costs a distribution of its own. */
const greatestOfDouble = 300;

const samplePieces = (title: string) =>
  z.int(size).min(1, size).max(greatestSample, size).meta({ title, unit: 'pieces' });
const acceptance = (title: string, greatest: number) => {
  const count = `a whole number from 0 to ${greatest}`;
  return z.int(count).min(0, count).max(greatest, count).meta({ title });
};
const rejecting = (title: string, description: string, greatest: number) => {
  const count = `a whole number above the acceptance number, at most ${greatest + 1}`;
  return z
    .int(count)
    .min(1, count)
    .max(greatest + 1, count)
    .meta({ title, description });
};

const singlePlanInput = z.strictObject({
  kind: z.literal('single').meta({ title: 'Kind of plan' }),
  sampleSizePieces: samplePieces('Sample size'),
  acceptanceNumber: acceptance('Acceptance number', greatestOfSingle),
  rejectionNumber: rejecting(
    'Rejection number',
    'Absent for acceptance number + 1; a count between the two accepts the lot',
    greatestOfSingle,
  ).optional(),
});

const doublePlanInput = z.strictObject({
  kind: z.literal('double').meta({ title: 'Kind of plan' }),
  firstSampleSizePieces: samplePieces('First sample'),
  firstAcceptanceNumber: acceptance('Acceptance number of the first sample', greatestOfDouble),
  firstRejectionNumber: rejecting(
    'Rejection number of the first sample',
    'Counts between the two numbers lead to the second sample',
    greatestOfDouble,
  ),
  secondSampleSizePieces: samplePieces('Second sample'),
  secondAcceptanceNumber: acceptance(
    'Acceptance number of both samples together',
    greatestOfDouble,
  ),
  secondRejectionNumber: rejecting(
    'Rejection number of both samples together',
    'Absent for acceptance number + 1; a count between the two accepts the lot',
    greatestOfDouble,
  ).optional(),
});

/** A plan as a person gives it. */
export const samplingPlanInput = z
  .discriminatedUnion('kind', [singlePlanInput, doublePlanInput], 'a single or a double plan')
  .meta({ title: 'Plan' });

export type SamplingPlanInput = z.infer<typeof samplingPlanInput>;

function requireAbove(field: string, rejectionNumber: number, acceptanceNumber: number): void {
  requireDomain(rejectionNumber > acceptanceNumber, {
    field,
    value: rejectionNumber,
    accepted: `a whole number above the acceptance number ${acceptanceNumber}`,
  });
}

function stagesOfDouble(
  plan: Extract<SamplingPlanInput, { kind: 'double' }>,
  at: string,
): SamplingPlan {
  const { firstAcceptanceNumber, firstRejectionNumber, secondAcceptanceNumber } = plan;
  const secondRejectionNumber = plan.secondRejectionNumber ?? secondAcceptanceNumber + 1;
  requireAbove(`${at}.firstRejectionNumber`, firstRejectionNumber, firstAcceptanceNumber);
  requireDomain(firstRejectionNumber > firstAcceptanceNumber + 1, {
    field: `${at}.firstRejectionNumber`,
    value: firstRejectionNumber,
    accepted: 'at least two above the first acceptance number, else no second sample is ever drawn',
  });
  requireAbove(`${at}.secondRejectionNumber`, secondRejectionNumber, secondAcceptanceNumber);
  requireDomain(secondRejectionNumber > firstAcceptanceNumber + 1, {
    field: `${at}.secondAcceptanceNumber`,
    value: secondAcceptanceNumber,
    accepted: `a number that can accept a lot with more than the first acceptance number ${firstAcceptanceNumber}`,
  });
  return {
    first: {
      sampleSizePieces: plan.firstSampleSizePieces,
      acceptanceNumber: firstAcceptanceNumber,
      rejectionNumber: firstRejectionNumber,
    },
    second: {
      sampleSizePieces: plan.secondSampleSizePieces,
      acceptanceNumber: secondAcceptanceNumber,
      rejectionNumber: secondRejectionNumber,
    },
  };
}

/** The stages of a plan as given, checked against each other; refusals name the field it stands in. */
export function stagesOf(plan: SamplingPlanInput, at = 'plan'): SamplingPlan {
  if (plan.kind === 'double') return stagesOfDouble(plan, at);
  const { sampleSizePieces, acceptanceNumber } = plan;
  const rejectionNumber = plan.rejectionNumber ?? acceptanceNumber + 1;
  requireAbove(`${at}.rejectionNumber`, rejectionNumber, acceptanceNumber);
  return { first: { sampleSizePieces, acceptanceNumber, rejectionNumber } };
}

/** Pieces of all samples of a plan together. */
export function allSamplesPieces({ first, second }: SamplingPlan): number {
  return first.sampleSizePieces + (second?.sampleSizePieces ?? 0);
}
