import type { Chart, ChartSeries } from '../catalogue/calculation.ts';
import { type PlanBasis, percentAtAcceptance, qualityOfPercent } from './plan-curve.ts';
import { type PlanOutcome, planOutcome } from './plan-outcome.ts';
import type { SamplingPlan } from './sampling-plan.ts';

/** Up to about this many points a curve is drawn. */
const curvePoints = 80;

/** At this probability of acceptance a curve has come down far enough to end the picture. */
const drawnDownTo = 0.002;

/** One point of the curves of a plan. */
export interface CurvePoint {
  readonly percent: number;
  readonly outcome: PlanOutcome;
}

/** Percentages from zero to where the plan accepts next to nothing, whole pieces for one lot. */
function percentsOf(greatest: number, basis: PlanBasis, lotSizePieces: number): number[] {
  if (basis !== 'hypergeometric') {
    return Array.from({ length: curvePoints + 1 }, (_, index) => (greatest * index) / curvePoints);
  }
  const most = Math.min(lotSizePieces, Math.ceil((greatest / 100) * lotSizePieces));
  const step = Math.max(1, Math.floor(most / curvePoints));
  const length = Math.floor(most / step) + 1;
  return Array.from({ length }, (_, index) => (100 * index * step) / lotSizePieces);
}

/** Points along which a plan is drawn, to at least the percentage given. */
export function curveOf(
  plan: SamplingPlan,
  basis: PlanBasis,
  lotSizePieces: number,
  leastPercent: number,
): CurvePoint[] {
  const reach = percentAtAcceptance(plan, drawnDownTo, basis, lotSizePieces) ?? 100;
  const limit = basis === 'poisson' ? Number.POSITIVE_INFINITY : 100;
  const greatest = Math.min(limit, Math.max(reach, leastPercent));
  return percentsOf(greatest, basis, lotSizePieces).map((percent) => ({
    percent,
    outcome: planOutcome(plan, qualityOfPercent(basis, percent, lotSizePieces)),
  }));
}

/** Title of the quality axis. */
export function qualityTitle(basis: PlanBasis): string {
  return basis === 'poisson' ? 'Nonconformities per hundred pieces' : 'Nonconforming, %';
}

/** A series of one figure along the curve; one lot has points, a series of lots a line. */
export function pointSeries(
  label: string,
  points: readonly CurvePoint[],
  figure: (point: CurvePoint) => number,
  basis: PlanBasis,
): ChartSeries {
  const kind = basis === 'hypergeometric' ? 'points' : 'line';
  return { label, kind, x: points.map(({ percent }) => percent), y: points.map(figure) };
}

/** The same for a figure that the outcome alone gives. */
export function curveSeries(
  label: string,
  points: readonly CurvePoint[],
  figure: (outcome: PlanOutcome) => number,
  basis: PlanBasis,
): ChartSeries {
  return pointSeries(label, points, ({ outcome }) => figure(outcome), basis);
}

/** Average sample number with and without curtailment, beside the samples of the plan. */
export function averageSampleChart(
  points: readonly CurvePoint[],
  basis: PlanBasis,
  levels: NonNullable<Chart['levels']>,
): Chart {
  return {
    kind: 'chart',
    title: 'Average sample number',
    xTitle: qualityTitle(basis),
    yTitle: 'Pieces examined in the mean',
    series: [
      curveSeries('whole samples', points, (outcome) => outcome.averageSamplePieces, basis),
      curveSeries('cut short', points, (outcome) => outcome.averageSampleCurtailedPieces, basis),
    ],
    levels,
  };
}
