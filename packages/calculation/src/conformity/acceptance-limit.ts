import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { probabilityText } from '../quantity/probability-text.ts';
import { significantText } from '../uncertainty/figures.ts';
import { conformanceProbability } from './conformance-probability.ts';
import { processField } from './decision-risks-schema.ts';
import type { ProcessDistribution } from './global-risk.ts';
import { risingRoot } from './guarded-value.ts';
import {
  limitFields,
  limitWords,
  movedLimits,
  openProbability,
  probabilityFigure,
  requireLimits,
  standardUncertaintyField,
  unitField,
} from './limits-schema.ts';
import { itemConformance, processRisk } from './process-risk.ts';

const kind = <Kind extends string>(name: Kind) =>
  z.literal(name).meta({ title: 'What is required' });

export const acceptanceLimitInput = z.strictObject({
  unit: unitField(),
  measuringStandardUncertainty: standardUncertaintyField(),
  ...limitFields,
  process: processField().nullable().meta({ title: 'Process', description: 'None if not known' }),
  requirement: z.discriminatedUnion(
    'kind',
    [
      z.strictObject({
        kind: kind('conformance of each accepted item'),
        probability: openProbability().meta({
          title: 'Least probability of conformity',
          description: 'Of an item measured just at the acceptance limit',
        }),
      }),
      z.strictObject({
        kind: kind('global consumer risk'),
        probability: openProbability().meta({
          title: "Greatest global consumer's risk",
          description: 'Share of all items that do not conform and are accepted',
        }),
      }),
      z.strictObject({
        kind: kind('nonconforming share of the accepted'),
        probability: openProbability().meta({
          title: 'Greatest nonconforming share',
          description: 'Of what is accepted',
        }),
      }),
    ],
    {
      error:
        'a requirement of kind conformance of each accepted item, global consumer risk or nonconforming share of the accepted',
    },
  ),
});

export type AcceptanceLimitInput = z.infer<typeof acceptanceLimitInput>;

const limitOf = (title: string) =>
  z
    .number()
    .nullable()
    .meta({ title, description: 'None where there is no limit or none is needed' });
const shareOf = (title: string) =>
  z.number().min(0).max(1).nullable().meta({ title, description: 'None without a process' });

export const acceptanceLimitOutput = z.strictObject({
  isNeeded: z.boolean().meta({
    title: 'A limit is needed',
    description: 'False where the process keeps the requirement although everything is accepted',
  }),
  guardBand: z.number().nullable().meta({
    title: 'Guard band',
    description: 'Below 0 where acceptance may reach beyond the limits; none where none is needed',
  }),
  acceptanceLower: limitOf('Lower acceptance limit'),
  acceptanceUpper: limitOf('Upper acceptance limit'),
  edgeConformanceProbability: probabilityFigure(
    'Probability of conformity at the acceptance limit',
    'The smaller one of two; 1 where no limit is needed',
  ),
  acceptedShare: shareOf('Accepted share of the process'),
  consumerRisk: shareOf("Global consumer's risk"),
  producerRisk: shareOf("Global producer's risk"),
  words: z.string().meta({ title: 'In words' }),
});

export type AcceptanceLimitOutput = z.infer<typeof acceptanceLimitOutput>;

type Limits = ReturnType<typeof requireLimits>;

function conformanceOfValue(input: AcceptanceLimitInput, limits: Limits, value: number): number {
  const u = input.measuringStandardUncertainty;
  if (input.process !== null) {
    return itemConformance(input.process, value, u, movedLimits(limits, 0)) ?? 0;
  }
  return conformanceProbability({
    value,
    standardUncertainty: u,
    lowerLimit: limits.lower ?? undefined,
    upperLimit: limits.upper ?? undefined,
  });
}

/** The smaller probability of conformity of values on the acceptance limits. */
function edgeConformance(input: AcceptanceLimitInput, limits: Limits, guardBand: number): number {
  const { lower, upper } = movedLimits(limits, guardBand);
  return Math.min(
    ...[lower, upper].flatMap((edge) =>
      edge === undefined ? [] : conformanceOfValue(input, limits, edge),
    ),
  );
}

function risksOf(input: AcceptanceLimitInput, limits: Limits, guardBand: number) {
  const { process } = input;
  if (process === null) return null;
  return processRisk({
    process,
    measuringStandardUncertainty: input.measuringStandardUncertainty,
    limits: movedLimits(limits, 0),
    acceptance: movedLimits(limits, guardBand),
  });
}

/** How well a guard band does: rises with it, and has to reach the figure required. */
function merit(input: AcceptanceLimitInput, limits: Limits, guardBand: number): number {
  const { requirement } = input;
  if (requirement.kind === 'conformance of each accepted item') {
    return edgeConformance(input, limits, guardBand);
  }
  const risk = risksOf(input, limits, guardBand);
  requireDomain(risk !== null, {
    field: 'process',
    value: 'none',
    accepted: 'a process, which this requirement needs',
  });
  if (requirement.kind === 'global consumer risk') return -risk.consumerRisk;
  return risk.acceptedShare > 0 ? -risk.consumerRisk / risk.acceptedShare : 0;
}

function requiredMerit({ requirement }: AcceptanceLimitInput): number {
  return requirement.kind === 'conformance of each accepted item'
    ? requirement.probability
    : -requirement.probability;
}

function spreadOf(process: ProcessDistribution): { centre: number; deviation: number } {
  return process.kind === 'normal'
    ? { centre: process.mean, deviation: process.standardDeviation }
    : { centre: process.shape / process.rate, deviation: Math.sqrt(process.shape) / process.rate };
}

/** Guard bands between everything accepted and nothing (or the middle of two limits). */
function guardBandRange(input: AcceptanceLimitInput, limits: Limits): [number, number] {
  const u = input.measuringStandardUncertainty;
  const { lower, upper } = limits;
  const both = lower !== null && upper !== null;
  const process = input.process === null ? null : spreadOf(input.process);
  const distance = process
    ? Math.max(...[lower, upper].map((one) => (one === null ? 0 : Math.abs(one - process.centre))))
    : 0;
  const reach = distance + 10 * Math.hypot(process?.deviation ?? 0, u);
  return [-reach, both ? ((upper - lower) / 2) * (1 - 1e-9) : reach];
}

function acceptanceWords(
  input: AcceptanceLimitInput,
  output: Omit<AcceptanceLimitOutput, 'words'>,
): string {
  if (output.guardBand === null) {
    return 'The process keeps the requirement although everything is accepted: no acceptance limit is needed.';
  }
  const acceptance = { lower: output.acceptanceLower, upper: output.acceptanceUpper };
  const shares =
    output.acceptedShare === null
      ? ''
      : ` Of the process ${significantText(100 * output.acceptedShare, 3)} % is accepted.`;
  return `Accept a measured value ${limitWords(acceptance, input.unit)}: a guard band of ${significantText(output.guardBand, 3)} ${input.unit}. At the limit the probability of conformity is ${probabilityText(output.edgeConformanceProbability, 4)}.${shares}`;
}

/**
 * Acceptance limits that keep a required probability: of conformity for each accepted item, of the
 * global consumer's risk, or of the nonconforming share of what is accepted.
 *
 * Formula: the smallest guard band, the same at both limits, with which the requirement holds,
 * found by halving; the measures are those of `conformanceProbability` (with a known process those
 * of `itemConformance`) and `processRisk`.
 *
 * @param input measuring standard uncertainty above 0; one or two limits; process or null (needed for
 *   the two requirements about all items); requirement with a probability in (0, 1)
 * @returns guard band and acceptance limits in the unit of the limits, risks that follow; nothing
 *   rounded but the words
 * @throws DomainError for no limit, limits in the wrong order, a process that is missing, or a
 *   requirement that no guard band can keep
 * Validity: measuring error normal. With one limit and no process the closed form of
 * `guardedLimit`; compared with it in laws/conformity.
 * Source: JCGM 106:2012, 8.3.2, 9.4 and 9.5
 * @example acceptanceLimit(acceptanceLimitCalculation.example).acceptanceLower // 999.9329
 */
export function acceptanceLimit(input: AcceptanceLimitInput): AcceptanceLimitOutput {
  const limits = requireLimits(input);
  const required = requiredMerit(input);
  const [widest, narrowest] = guardBandRange(input, limits);
  const best = merit(input, limits, narrowest);
  requireDomain(best >= required, {
    field: 'requirement.probability',
    value: input.requirement.probability,
    accepted: `${required > 0 ? 'at most' : 'at least'} ${Math.abs(best)}, what the narrowest acceptance reaches`,
  });
  const none = {
    isNeeded: false,
    guardBand: null,
    acceptanceLower: null,
    acceptanceUpper: null,
    edgeConformanceProbability: 1,
  };
  const isNeeded = merit(input, limits, widest) < required;
  const guardBand = isNeeded
    ? risingRoot((width) => merit(input, limits, width), required, widest, narrowest)
    : widest;
  const risk = risksOf(input, limits, guardBand);
  const acceptance = movedLimits(limits, guardBand);
  const output = {
    ...(isNeeded
      ? {
          isNeeded,
          guardBand,
          acceptanceLower: acceptance.lower ?? null,
          acceptanceUpper: acceptance.upper ?? null,
          edgeConformanceProbability: edgeConformance(input, limits, guardBand),
        }
      : none),
    acceptedShare: risk?.acceptedShare ?? null,
    consumerRisk: risk?.consumerRisk ?? null,
    producerRisk: risk?.producerRisk ?? null,
  };
  return { ...output, words: acceptanceWords(input, output) };
}

function drawAcceptance(input: AcceptanceLimitInput, output: AcceptanceLimitOutput): Chart[] {
  const limits = requireLimits(input);
  const anchor = limits.lower ?? (limits.upper as number);
  const span = 4 * input.measuringStandardUncertainty;
  const last = limits.lower !== null && limits.upper !== null ? limits.upper : anchor;
  const x = Array.from(
    { length: 61 },
    (_, index) => anchor - span + ((last - anchor + 2 * span) * index) / 60,
  );
  const mark = (value: number | null, label: string) =>
    value === null ? [] : [{ x: value, label }];
  return [
    {
      kind: 'chart',
      title: 'Probability of conformity by measured value',
      xTitle: `Measured value, ${input.unit}`,
      yTitle: 'Probability',
      series: [
        {
          label: 'conforms',
          kind: 'line',
          x,
          y: x.map((value) => conformanceOfValue(input, limits, value)),
        },
      ],
      marks: [
        ...mark(limits.lower, 'limit'),
        ...mark(limits.upper, 'limit'),
        ...mark(output.acceptanceLower, 'accept from'),
        ...mark(output.acceptanceUpper, 'accept to'),
      ],
    },
  ];
}

export const acceptanceLimitCalculation = defineCalculation<
  AcceptanceLimitInput,
  AcceptanceLimitOutput
>({
  id: 'acceptance-limit',
  version: 1,
  topic: 'conformity',
  title: 'Acceptance limit for a required probability',
  purpose:
    'Finds the acceptance limits with which every accepted item conforms with a required probability, or with which the risk over the whole production stays below a stated one.',
  source: 'JCGM 106:2012, 8.3.2, 9.4 and 9.5; ISO 14253-1:2017 (0.95)',
  input: acceptanceLimitInput,
  output: acceptanceLimitOutput,
  // Chosen figures, computed in reference/conformity: 999.9 + 1.645 × 0.02.
  example: {
    unit: '‰',
    measuringStandardUncertainty: 0.02,
    lowerLimit: 999.9,
    upperLimit: null,
    process: null,
    requirement: { kind: 'conformance of each accepted item', probability: 0.95 },
  },
  compute: acceptanceLimit,
  draw: drawAcceptance,
});
