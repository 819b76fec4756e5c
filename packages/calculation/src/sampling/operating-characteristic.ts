import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import {
  type OperatingCharacteristicInput,
  type OperatingCharacteristicOutput,
  operatingCharacteristicInput,
  operatingCharacteristicOutput,
} from './operating-characteristic-schema.ts';
import {
  outgoingLimit,
  outgoingPercent,
  type PlanAtWork,
  totalInspectionPieces,
} from './outgoing-quality.ts';
import {
  averageSampleChart,
  type CurvePoint,
  curveOf,
  pointSeries,
  qualityTitle,
} from './plan-charts.ts';
import { percentAtAcceptance, qualityOfPercent } from './plan-curve.ts';
import { planOutcome } from './plan-outcome.ts';
import { allSamplesPieces, stagesOf } from './sampling-plan.ts';

/** The probabilities of Table X. */
const tableXProbabilities = [0.99, 0.95, 0.9, 0.75, 0.5, 0.25, 0.1, 0.05, 0.01];

function requirePercents(input: OperatingCharacteristicInput): void {
  if (input.basis === 'poisson') return;
  const given: readonly (readonly [string, number | undefined])[] = [
    ...input.qualitiesPercent.map((value, at) => [`qualitiesPercent.${at}`, value] as const),
    ['producersQualityPercent', input.producersQualityPercent],
    ['consumersQualityPercent', input.consumersQualityPercent],
  ];
  for (const [field, value] of given) {
    const accepted = 'a percentage from 0 to 100; more than that for the Poisson distribution only';
    requireDomain(value === undefined || value <= 100, { field, value, accepted });
  }
}

function planAtWork(input: OperatingCharacteristicInput): PlanAtWork {
  requirePercents(input);
  const plan = stagesOf(input.plan);
  const lotSizePieces = input.lotSizePieces ?? null;
  const all = allSamplesPieces(plan);
  requireDomain(input.basis !== 'hypergeometric' || lotSizePieces !== null, {
    field: 'lotSizePieces',
    value: input.lotSizePieces,
    accepted: 'the pieces of the lot, which the hypergeometric distribution needs',
  });
  requireDomain(lotSizePieces === null || lotSizePieces >= all, {
    field: 'lotSizePieces',
    value: lotSizePieces,
    accepted: `at least the ${all} pieces of the samples`,
  });
  return { plan, basis: input.basis, lotSizePieces };
}

function pointAt(
  work: PlanAtWork,
  percent: number,
): OperatingCharacteristicOutput['points'][number] {
  const quality = qualityOfPercent(work.basis, percent, work.lotSizePieces ?? 1);
  const outcome = planOutcome(work.plan, quality);
  const bad = quality.basis === 'hypergeometric' ? quality.nonconformingPieces : null;
  const qualityPercent =
    quality.basis === 'hypergeometric'
      ? (100 * quality.nonconformingPieces) / quality.lotSizePieces
      : percent;
  return {
    qualityPercent,
    nonconformingPieces: bad,
    acceptanceProbability: outcome.accepted,
    acceptedOnFirst: outcome.acceptedOnFirst,
    rejectedOnFirst: outcome.rejectedOnFirst,
    averageSamplePieces: outcome.averageSamplePieces,
    averageSampleCurtailedPieces: outcome.averageSampleCurtailedPieces,
    averageOutgoingPercent: outgoingPercent(work, qualityPercent, outcome),
    averageTotalInspectionPieces: totalInspectionPieces(work, outcome),
  };
}

const print = (value: number, places: number): string =>
  roundNumberText(value, places, 'half-even');

function wordsOf(
  input: OperatingCharacteristicInput,
  output: Omit<OperatingCharacteristicOutput, 'words'>,
): string {
  const unit = input.basis === 'poisson' ? 'nonconformities per hundred pieces' : '% nonconforming';
  const said = [];
  const { producersQualityPercent: good, consumersQualityPercent: bad } = input;
  if (good !== undefined && output.producersRisk !== null) {
    said.push(
      `Lots with ${good} ${unit} are rejected ${print(100 * output.producersRisk, 2)} times in a hundred.`,
    );
  }
  if (bad !== undefined && output.consumersRisk !== null) {
    said.push(
      `Lots with ${bad} ${unit} are accepted ${print(100 * output.consumersRisk, 2)} times in a hundred.`,
    );
  }
  const half = output.qualities.find(({ acceptanceProbability }) => acceptanceProbability === 0.5);
  if (half && half.qualityPercent !== null) {
    said.push(`Half of all lots pass at ${print(half.qualityPercent, 3)} ${unit}.`);
  }
  said.push(
    `When rejected lots are screened, at most ${print(output.averageOutgoingLimitPercent, 3)} ${unit} go out in the mean, with lots of ${print(output.averageOutgoingLimitAtPercent, 2)} coming in.`,
  );
  return said.join(' ');
}

/**
 * What a given single or double plan does: probability of acceptance, sample number, outgoing quality
 * and total inspection at any quality, and the qualities at which it accepts with given
 * probabilities. It serves to choose a plan, and to tell a supplier what a plan will do to him.
 *
 * Formula: acceptance by the binomial (series of lots), Poisson (nonconformities) or hypergeometric
 * distribution (one lot), see `planOutcome`; outgoing quality and total inspection with rejected
 * lots screened and nonconforming pieces replaced, see `outgoing-quality`; quality at a probability
 * by inversion, for one lot the least quality that is accepted no more often. Producer's risk =
 * 1 − Pa at his quality, consumer's risk = Pa at hers.
 *
 * @param input plan with samples of 1 to 1 000 000 pieces, numbers up to 10 000 for a single and 300
 * for a double plan; lot size where needed; one to 200 qualities in percent or per hundred pieces; probabilities between 0 and 1
 * @returns the figures at each quality in the order given, qualities at the probabilities, outgoing
 * limit, risks; nothing rounded but the words
 * @throws DomainError for numbers of a plan that contradict each other, samples above the lot, a
 * percentage above 100, or the hypergeometric distribution without a lot size
 * Validity: random samples; relative accuracy about 1e-11. Shown in
 * reference/operating-characteristics; laws/sampling-plans holds enumeration and simulation.
 * Source: MIL-STD-105E (1989), 4.11 to 4.13, Tables IX and X; H. F. Dodge and H. G. Romig (1959),
 * Sampling Inspection Tables, 2nd edition
 * @example operatingCharacteristic({ basis: 'binomial', qualitiesPercent: [1],
 *   plan: { kind: 'single', sampleSizePieces: 89, acceptanceNumber: 2 }, lotSizePieces: 10000,
 * }).points[0].averageTotalInspectionPieces // 686.7
 */
export function operatingCharacteristic(
  input: OperatingCharacteristicInput,
): OperatingCharacteristicOutput {
  const work = planAtWork(input);
  const { plan, basis, lotSizePieces } = work;
  const riskQuality = (percent: number | undefined) =>
    percent === undefined ? null : pointAt(work, percent).acceptanceProbability;
  const good = riskQuality(input.producersQualityPercent);
  const limit = outgoingLimit(work);
  const output = {
    points: input.qualitiesPercent.map((percent) => pointAt(work, percent)),
    qualities: (input.acceptanceProbabilities ?? tableXProbabilities).map((probability) => ({
      acceptanceProbability: probability,
      qualityPercent: percentAtAcceptance(plan, probability, basis, lotSizePieces ?? 1),
    })),
    averageOutgoingLimitPercent: limit.outgoingPercent,
    averageOutgoingLimitAtPercent: limit.incomingPercent,
    producersRisk: good === null ? null : 1 - good,
    consumersRisk: riskQuality(input.consumersQualityPercent),
  };
  return { ...output, words: wordsOf(input, output) };
}

function marksOf(input: OperatingCharacteristicInput): NonNullable<Chart['marks']> {
  return [
    { x: input.producersQualityPercent, label: "producer's" },
    { x: input.consumersQualityPercent, label: "consumer's" },
  ].flatMap(({ x, label }) => (x === undefined ? [] : [{ x, label }]));
}

function drawCharacteristic(
  input: OperatingCharacteristicInput,
  output: OperatingCharacteristicOutput,
): Chart[] {
  const work = planAtWork(input);
  const { plan, basis, lotSizePieces } = work;
  const asked = [input.producersQualityPercent ?? 0, input.consumersQualityPercent ?? 0];
  const points = curveOf(plan, basis, lotSizePieces ?? 1, Math.max(...asked));
  const marks = marksOf(input);
  const chart = (
    title: string,
    yTitle: string,
    label: string,
    figure: (point: CurvePoint) => number,
  ): Chart => ({
    kind: 'chart',
    title,
    xTitle: qualityTitle(basis),
    yTitle,
    series: [pointSeries(label, points, figure, basis)],
    marks,
  });
  const outgoing = chart(
    'Average outgoing quality, rejected lots screened',
    `Outgoing: ${qualityTitle(basis)}`,
    'outgoing',
    ({ percent, outcome }) => outgoingPercent(work, percent, outcome),
  );
  return [
    chart(
      'Operating characteristic',
      'Probability of acceptance',
      'accepted',
      ({ outcome }) => outcome.accepted,
    ),
    { ...outgoing, levels: [{ y: output.averageOutgoingLimitPercent, label: 'limit' }] },
    ...(plan.second ? [{ ...averageSampleChart(points, basis, []), marks }] : []),
    ...(lotSizePieces === null
      ? []
      : [
          chart(
            'Average total inspection, rejected lots screened',
            'Pieces examined in the mean',
            'examined',
            ({ outcome }) => totalInspectionPieces(work, outcome) ?? 0,
          ),
        ]),
  ];
}

export const operatingCharacteristicCalculation = defineCalculation({
  id: 'operating-characteristic',
  version: 1,
  topic: 'sampling',
  title: 'Operating characteristic of a plan',
  purpose:
    'What a given single or double plan does at any quality: how often it accepts, how much it examines, what goes out, and at which quality it accepts with a given probability.',
  source:
    'MIL-STD-105E (1989), 4.11 to 4.13 and Tables IX and X; H. F. Dodge and H. G. Romig (1959), Sampling Inspection Tables, 2nd edition',
  input: operatingCharacteristicInput,
  output: operatingCharacteristicOutput,
  // NIST/SEMATECH e-Handbook of Statistical Methods, 6.2.3.2: outgoing limit near 0.0372.
  example: {
    plan: { kind: 'single', sampleSizePieces: 52, acceptanceNumber: 3 },
    basis: 'binomial',
    lotSizePieces: 10_000,
    qualitiesPercent: [1, 2, 3, 4, 5, 6, 8, 10, 12],
    producersQualityPercent: 2.5,
    consumersQualityPercent: 12.5,
  },
  compute: operatingCharacteristic,
  draw: drawCharacteristic,
});
