import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { upperChiSquareProbability } from '../quantity/chi-square.ts';
import { requireDomain } from '../quantity/domain.ts';
import { compensatedSum } from '../quantity/sum.ts';
import { coverageFactor } from '../uncertainty/coverage.ts';
import { exchangeFigure } from './exchange-figure.ts';
import { correlationOf, pairedSlope } from './paired-regression.ts';
import {
  type SupplierBiasInput,
  type SupplierBiasOutput,
  supplierBiasInput,
  supplierBiasOutput,
} from './supplier-bias-schema.ts';

export {
  type SupplierBiasInput,
  type SupplierBiasOutput,
  supplierBiasInput,
  supplierBiasOutput,
} from './supplier-bias-schema.ts';

/** The mean difference with the uncertainty that more melts lessen, and its degrees of freedom. */
interface MeanDifference {
  readonly mean: number;
  readonly uncertainty: number;
  readonly degreesOfFreedom: number;
}

function equalMean(differences: readonly number[]): MeanDifference & { readonly spread: number } {
  const count = differences.length;
  const mean = compensatedSum(differences) / count;
  const square = compensatedSum(differences.map((value) => (value - mean) * (value - mean)));
  const spread = Math.sqrt(square / (count - 1));
  return { mean, spread, uncertainty: spread / Math.sqrt(count), degreesOfFreedom: count - 1 };
}

function weightedMean(differences: readonly number[], uncertainties: readonly number[]) {
  const weights = uncertainties.map((value) => 1 / (value * value));
  const total = compensatedSum(weights);
  const mean =
    compensatedSum(differences.map((value, index) => value * (weights[index] ?? 0))) / total;
  const chiSquare = compensatedSum(
    differences.map((value, index) => (value - mean) * (value - mean) * (weights[index] ?? 0)),
  );
  const freedom = differences.length - 1;
  return {
    mean,
    uncertainty: Math.sqrt(1 / total),
    chiSquare,
    birgeRatio: Math.sqrt(chiSquare / freedom),
    probability: upperChiSquareProbability(chiSquare, freedom),
  };
}

/** Every uncertainty, when every difference has one above zero. */
function statedUncertainties(input: SupplierBiasInput): number[] | null {
  const stated = input.melts.map((one) => one.differenceStandardUncertaintyPerMille);
  const all = stated.filter((value): value is number => value !== undefined && value > 0);
  const missing = stated.findIndex((value) => value === undefined || value === 0);
  requireDomain(input.weighting === 'equal' || missing < 0, {
    field: `melts.${missing}.differenceStandardUncertaintyPerMille`,
    value: stated[missing] ?? 'none',
    accepted: 'a standard uncertainty above 0 ‰ for every melt when weights go by uncertainty',
  });
  return all.length === stated.length ? all : null;
}

/** Coverage factor; the shared part has infinite degrees of freedom, the mean those of its own. */
function coverage(own: MeanDifference, combined: number, confidence: number) {
  const share = combined === 0 ? 0 : own.uncertainty / combined;
  const effective = own.degreesOfFreedom / share ** 4;
  // Beyond this many the normal distribution is the same to the last digit shown.
  const effectiveDegreesOfFreedom = effective < 1e8 ? effective : null;
  return {
    effectiveDegreesOfFreedom,
    factor: coverageFactor(confidence, effectiveDegreesOfFreedom),
  };
}

function biasWords(output: Omit<SupplierBiasOutput, 'words'>, input: SupplierBiasInput): string {
  const { meanDifferencePerMille: mean } = output;
  const side = mean >= 0 ? 'higher' : 'lower';
  const interval = `${exchangeFigure(output.lowerPerMille)} to ${exchangeFigure(output.upperPerMille)} ‰ at ${exchangeFigure(100 * input.confidence)} %`;
  const bias = output.biasShown
    ? `The supplier reports ${exchangeFigure(Math.abs(mean))} ‰ ${side} than the plant over ${input.melts.length} melts (${interval}): a bias.`
    : `Over ${input.melts.length} melts the supplier reports ${exchangeFigure(Math.abs(mean))} ‰ ${side} than the plant (${interval}); that is no proof of a bias.`;
  const shared =
    input.sharedStandardUncertaintyPerMille > output.meanStandardUncertaintyPerMille
      ? ' Most of the uncertainty is shared by all melts: more melts will not decide it, an independent reference may.'
      : '';
  const level =
    output.slopeProbability !== null && output.slopeProbability < 1 - input.confidence
      ? ' The difference changes with the level: one figure does not describe it.'
      : '';
  const scatter =
    output.chiSquareProbability !== null && output.chiSquareProbability < 0.01
      ? ' The differences scatter more than their stated uncertainties allow.'
      : '';
  return `${bias}${shared}${level}${scatter}`;
}

/**
 * Bias of a supplier against the plant, over many melts, with its uncertainty.
 *
 * Formula: mean of the differences d = supplier − plant; its standard uncertainty s/√n with n − 1
 * degrees of freedom, or, by uncertainty, the weighted mean with weights 1/u² and 1/√Σ(1/u²) times the
 * larger of 1 and the Birge ratio √(χ²/(n − 1)). Combined with the shared uncertainty in squares: it is
 * not divided by the number of melts. Interval with Student's factor at the effective degrees of
 * freedom, the shared part counting as infinite; weighted, with the normal factor, and Student's at
 * n − 1 where the scatter enlarged it. Dependence on the level: see `pairedSlope`.
 *
 * @param input 2 to 10 000 melts, finenesses from 0 to 1000 ‰, uncertainties from 0 to 100 ‰; weighting;
 *   confidence from 0.5 to 0.9999
 * @returns bias, uncertainties and interval in ‰, checks of scatter and level; nothing rounded but the
 *   words
 * @throws DomainError when weights go by uncertainty and a melt has none above 0 ‰
 * Validity: melts independent of one another apart from what is shared; differences near to normal.
 * Coverage simulated in laws/exchange; figures in reference/paired-results.
 * Source: JCGM 100:2008, 4.2, 5.1.2 and G.4.1; R. T. Birge (1932), Physical Review 40, 207-227; J. M.
 * Bland and D. G. Altman (1986), The Lancet 327, 307-310
 * @example supplierBias({ melts: [{ melt: 'A', supplierFinenessPerMille: 916.8, plantFinenessPerMille: 916.6 },
 *   { melt: 'B', supplierFinenessPerMille: 916.9, plantFinenessPerMille: 916.5 }], weighting: 'equal',
 *   sharedStandardUncertaintyPerMille: 0, confidence: 0.95 }).meanDifferencePerMille // 0.3
 */
export function supplierBias(input: SupplierBiasInput): SupplierBiasOutput {
  const supplier = input.melts.map((one) => one.supplierFinenessPerMille);
  const plant = input.melts.map((one) => one.plantFinenessPerMille);
  const differences = supplier.map((value, index) => value - (plant[index] ?? 0));
  const stated = statedUncertainties(input);
  const equal = equalMean(differences);
  const weighted = stated === null ? null : weightedMean(differences, stated);
  const own = input.weighting === 'equal' || !weighted ? equal : ownOfWeighted(weighted, equal);
  const combined = Math.hypot(own.uncertainty, input.sharedStandardUncertaintyPerMille);
  const { effectiveDegreesOfFreedom, factor } = coverage(own, combined, input.confidence);
  const slope = pairedSlope(supplier, plant);
  const output = {
    meanDifferencePerMille: own.mean,
    standardDeviationPerMille: equal.spread,
    meanStandardUncertaintyPerMille: own.uncertainty,
    combinedStandardUncertaintyPerMille: combined,
    effectiveDegreesOfFreedom,
    lowerPerMille: own.mean - factor * combined,
    upperPerMille: own.mean + factor * combined,
    biasShown: Math.abs(own.mean) > factor * combined,
    studentRatio: equal.uncertainty === 0 ? null : equal.mean / equal.uncertainty,
    chiSquare: weighted?.chiSquare ?? null,
    chiSquareProbability: weighted?.probability ?? null,
    birgeRatio: weighted?.birgeRatio ?? null,
    slope: slope?.slope ?? null,
    slopeStandardError: slope?.slopeStandardError ?? null,
    slopeProbability: slope?.slopeProbability ?? null,
    correlation: correlationOf(supplier, plant),
  };
  return { ...output, words: biasWords(output, input) };
}

/** Weighted mean: stated uncertainties count as known, unless the scatter had to enlarge them. */
function ownOfWeighted(
  weighted: ReturnType<typeof weightedMean>,
  equal: MeanDifference,
): MeanDifference {
  const isEnlarged = weighted.birgeRatio > 1;
  return {
    mean: weighted.mean,
    uncertainty: weighted.uncertainty * Math.max(1, weighted.birgeRatio),
    degreesOfFreedom: isEnlarged ? equal.degreesOfFreedom : Number.POSITIVE_INFINITY,
  };
}

/** So many points at most: beyond, every n-th melt is drawn. */
const greatestPoints = 1000;

function drawSupplierBias(input: SupplierBiasInput, output: SupplierBiasOutput): Chart[] {
  const every = Math.ceil(input.melts.length / greatestPoints);
  const shown = input.melts
    .map((one, index) => ({ ...one, place: index + 1 }))
    .filter((_, index) => index % every === 0);
  return [
    {
      kind: 'chart',
      title: 'Supplier less plant, melt by melt',
      xTitle: 'Melt',
      yTitle: 'Difference, ‰',
      series: [
        {
          label: 'melts',
          kind: 'points',
          x: shown.map((one) => one.place),
          y: shown.map((one) => one.supplierFinenessPerMille - one.plantFinenessPerMille),
        },
      ],
      levels: [
        { y: 0, label: 'no bias' },
        { y: output.meanDifferencePerMille, label: 'bias' },
        { y: output.lowerPerMille, label: 'lower' },
        { y: output.upperPerMille, label: 'upper' },
      ],
    },
  ];
}

export const supplierBiasCalculation = defineCalculation<SupplierBiasInput, SupplierBiasOutput>({
  id: 'supplier-bias',
  version: 1,
  topic: 'exchange',
  title: 'Bias of a supplier',
  purpose:
    'Says whether a supplier reports higher or lower than the plant over many melts, with an uncertainty in which what is shared by all melts does not average out.',
  source:
    'JCGM 100:2008, 4.2, 5.1.2 and G.4.1; R. T. Birge (1932), Physical Review 40, 207-227; J. M. Bland and D. G. Altman (1986), The Lancet 327, 307-310',
  input: supplierBiasInput,
  output: supplierBiasOutput,
  // Chosen figures.
  example: {
    melts: [
      ['M-1', 916.82, 916.61],
      ['M-2', 916.95, 916.78],
      ['M-3', 916.71, 916.66],
      ['M-4', 917.04, 916.8],
      ['M-5', 916.88, 916.74],
      ['M-6', 916.79, 916.55],
    ].map(([melt, supplier, plant]) => ({
      melt: String(melt),
      supplierFinenessPerMille: Number(supplier),
      plantFinenessPerMille: Number(plant),
      differenceStandardUncertaintyPerMille: 0.08,
    })),
    weighting: 'equal',
    sharedStandardUncertaintyPerMille: 0.03,
    confidence: 0.95,
  },
  compute: supplierBias,
  draw: drawSupplierBias,
});
