import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { decimalOfNumber } from '../quantity/decimal.ts';
import { requireDomain } from '../quantity/domain.ts';
import { divideRounded, roundNumberText } from '../quantity/rounding.ts';
import {
  type AttributePlanSearchInput,
  type AttributePlanSearchOutput,
  attributePlanSearchInput,
  attributePlanSearchOutput,
} from './attribute-plan-search-schema.ts';
import type { LotQuality } from './count-distribution.ts';
import { curveOf, curveSeries, qualityTitle } from './plan-charts.ts';
import { planOutcome } from './plan-outcome.ts';
import { leastEffortDoublePlan, smallestSinglePlan, type TwoPoints } from './plan-search.ts';
import { type SamplingPlan, stagesOf } from './sampling-plan.ts';

/** Samples beyond this are refused, whatever the two points. */
const greatestSample = 1_000_000;

/** Nonconforming pieces that are a percentage of a lot, the fraction of a piece cut or filled up. */
function piecesOfPercent(percent: number, lotSizePieces: number, rule: 'down' | 'up'): number {
  const { coefficient, places } = decimalOfNumber(percent);
  return Number(
    divideRounded(coefficient * BigInt(lotSizePieces), 100n * 10n ** BigInt(places), rule),
  );
}

function qualityOf(
  input: AttributePlanSearchInput,
  percent: number,
  rule: 'down' | 'up',
): LotQuality {
  if (input.basis === 'poisson')
    return { basis: 'poisson', nonconformitiesPerPiece: percent / 100 };
  if (input.basis === 'binomial') {
    return { basis: 'binomial', fractionNonconforming: percent / 100 };
  }
  const lotSizePieces = input.lotSizePieces ?? 0;
  const nonconformingPieces = piecesOfPercent(percent, lotSizePieces, rule);
  return { basis: 'hypergeometric', lotSizePieces, nonconformingPieces };
}

function checkInput(input: AttributePlanSearchInput): void {
  const { basis, producersQualityPercent: good, consumersQualityPercent: bad } = input;
  requireDomain(basis !== 'hypergeometric' || input.lotSizePieces !== undefined, {
    field: 'lotSizePieces',
    value: input.lotSizePieces,
    accepted: 'the pieces of the lot, which the hypergeometric distribution needs',
  });
  requireDomain(bad > good, {
    field: 'consumersQualityPercent',
    value: bad,
    accepted: `a quality worse than the ${good} of the producer`,
  });
  requireDomain(basis === 'poisson' || bad <= 100, {
    field: 'consumersQualityPercent',
    value: bad,
    accepted: 'a percentage up to 100; more than that for the Poisson distribution only',
  });
}

function twoPoints(input: AttributePlanSearchInput): TwoPoints {
  checkInput(input);
  return {
    good: qualityOf(input, input.producersQualityPercent, 'down'),
    producersRisk: input.producersRisk,
    bad: qualityOf(input, input.consumersQualityPercent, 'up'),
    consumersRisk: input.consumersRisk,
    greatestSamplePieces: Math.min(greatestSample, input.lotSizePieces ?? greatestSample),
  };
}

function risksOf(plan: SamplingPlan, points: TwoPoints) {
  const good = planOutcome(plan, points.good);
  const bad = planOutcome(plan, points.bad);
  return { good, bad, producersRisk: 1 - good.accepted, consumersRisk: bad.accepted };
}

function doubleOutput(
  plan: Required<SamplingPlan>,
  points: TwoPoints,
): NonNullable<AttributePlanSearchOutput['double']> {
  const { good, bad, producersRisk, consumersRisk } = risksOf(plan, points);
  return {
    firstSampleSizePieces: plan.first.sampleSizePieces,
    firstAcceptanceNumber: plan.first.acceptanceNumber,
    firstRejectionNumber: plan.first.rejectionNumber,
    secondSampleSizePieces: plan.second.sampleSizePieces,
    secondAcceptanceNumber: plan.second.acceptanceNumber,
    secondRejectionNumber: plan.second.rejectionNumber,
    producersRisk,
    consumersRisk,
    averageSampleOfGoodPieces: good.averageSamplePieces,
    averageSampleOfBadPieces: bad.averageSamplePieces,
  };
}

function wordsOf(output: Omit<AttributePlanSearchOutput, 'words'>): string {
  const percent = (value: number) => roundNumberText(100 * value, 2, 'half-even');
  const { single, double } = output;
  const one = `Single plan: examine ${single.sampleSizePieces} pieces, accept with up to ${single.acceptanceNumber}. Good lots are rejected ${percent(single.producersRisk)} %, bad lots accepted ${percent(single.consumersRisk)} % of the time.`;
  if (!double) return `${one} No double plan was found for these points.`;
  const mean = roundNumberText(double.averageSampleOfGoodPieces, 1, 'half-even');
  return `${one} Double plan: examine ${double.firstSampleSizePieces}, accept with up to ${double.firstAcceptanceNumber}, reject with ${double.firstRejectionNumber} or more; between them examine ${double.secondSampleSizePieces} more and accept with up to ${double.secondAcceptanceNumber} in both. Good lots take ${mean} pieces in the mean.`;
}

/**
 * The smallest plans that keep two given points: good lots rejected at most so often, bad lots
 * accepted at most so often. It serves where the two risks are agreed with a supplier and no table
 * is prescribed.
 *
 * Formula: see `smallestSinglePlan` and `leastEffortDoublePlan`. For one lot the nonconforming pieces
 * of the good quality are rounded down and those of the bad one up, so that both promises hold for
 * every lot at least as good, or at least as bad, as agreed.
 *
 * @param input qualities above 0 in percent or per hundred pieces, risks from 0.0001 to 0.5, lot of 2
 * to 1 000 000 pieces where needed
 * @returns both plans with the risks they really have, not rounded; no double plan where none is
 * found within the stated reach
 * @throws DomainError for qualities in the wrong order or above 100 %, one lot without a size, or
 * points that no sample of at most a million pieces keeps
 * Validity: exact search; published plans in reference/operating-characteristics.
 * Source: W. C. Guenther (1969), Journal of Quality Technology 1(2), 105-109; NIST/SEMATECH e-Handbook
 * of Statistical Methods, 6.2.3.1 and 6.2.4
 * @example attributePlanSearch({ basis: 'binomial', producersQualityPercent: 1, producersRisk: 0.05,
 *   consumersQualityPercent: 5, consumersRisk: 0.1, secondSampleRatio: 1 }).single.sampleSizePieces
 *   // 132
 */
export function attributePlanSearch(input: AttributePlanSearchInput): AttributePlanSearchOutput {
  const points = twoPoints(input);
  const plan = smallestSinglePlan(points);
  requireDomain(plan !== null, {
    field: 'consumersQualityPercent',
    value: input.consumersQualityPercent,
    accepted: `a quality further from the ${input.producersQualityPercent} of the producer, for which samples of at most ${points.greatestSamplePieces} pieces suffice`,
  });
  const { acceptanceNumber } = plan.first;
  const double = leastEffortDoublePlan(points, input.secondSampleRatio, acceptanceNumber);
  const { producersRisk, consumersRisk } = risksOf(plan, points);
  const { good, bad } = points;
  const output = {
    single: { ...plan.first, producersRisk, consumersRisk },
    double: double && doubleOutput(double, points),
    goodPieces: good.basis === 'hypergeometric' ? good.nonconformingPieces : null,
    badPieces: bad.basis === 'hypergeometric' ? bad.nonconformingPieces : null,
  };
  return { ...output, words: wordsOf(output) };
}

function drawSearch(input: AttributePlanSearchInput, output: AttributePlanSearchOutput): Chart[] {
  const { basis, lotSizePieces = 1, consumersQualityPercent: bad } = input;
  const { sampleSizePieces, acceptanceNumber } = output.single;
  const plans: [string, SamplingPlan][] = [
    ['single', stagesOf({ kind: 'single', sampleSizePieces, acceptanceNumber })],
  ];
  if (output.double) {
    const { producersRisk: _, consumersRisk: __, ...rest } = output.double;
    const { averageSampleOfGoodPieces: ___, averageSampleOfBadPieces: ____, ...numbers } = rest;
    plans.push(['double', stagesOf({ kind: 'double', ...numbers })]);
  }
  return [
    {
      kind: 'chart',
      title: 'Operating characteristics and the two points',
      xTitle: qualityTitle(basis),
      yTitle: 'Probability of acceptance',
      series: [
        ...plans.map(([label, plan]) =>
          curveSeries(
            label,
            curveOf(plan, basis, lotSizePieces, bad),
            (outcome) => outcome.accepted,
            basis,
          ),
        ),
        {
          label: 'points',
          kind: 'points' as const,
          x: [input.producersQualityPercent, bad],
          y: [1 - input.producersRisk, input.consumersRisk],
        },
      ],
      marks: [
        { x: input.producersQualityPercent, label: "producer's" },
        { x: bad, label: "consumer's" },
      ],
    },
  ];
}

export const attributePlanSearchCalculation = defineCalculation({
  id: 'attribute-plan-search',
  version: 1,
  topic: 'sampling',
  title: 'Plan for two agreed risks',
  purpose:
    'Finds the smallest single and the least laborious double plan with which good lots are rejected, and bad lots accepted, at most as often as agreed.',
  source:
    'W. C. Guenther (1969), Journal of Quality Technology 1(2), 105-109; NIST/SEMATECH e-Handbook of Statistical Methods, 6.2.3.1 and 6.2.4; choice of the double plan by its average sample number: our own',
  input: attributePlanSearchInput,
  output: attributePlanSearchOutput,
  // Published for these points: single plan of 132 pieces, acceptance number 3.
  example: {
    basis: 'binomial',
    producersQualityPercent: 1,
    producersRisk: 0.05,
    consumersQualityPercent: 5,
    consumersRisk: 0.1,
    secondSampleRatio: 1,
  },
  compute: attributePlanSearch,
  draw: drawSearch,
});
