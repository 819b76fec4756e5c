import { describe, expect, it } from 'vitest';
import { boxDifferenceUncertainty } from '../../src/counting/box-against-tubes.ts';
import { countByWeight, countByWeightCalculation } from '../../src/counting/count-by-weight.ts';
import { countPosterior } from '../../src/counting/count-posterior.ts';
import {
  largestProvableCount,
  misclassificationProbability,
  type NetMassModel,
  netStandardUncertainty,
} from '../../src/counting/net-mass-uncertainty.ts';
import { roundedReadingLikelihood } from '../../src/counting/reading-likelihood.ts';
import { extendReferenceMean, snapRisk } from '../../src/counting/reference-mean.ts';
import { compareSiblings } from '../../src/counting/sibling-comparison.ts';
import values from './values.json' with { type: 'json' };

interface Case {
  readonly id: string;
  readonly kind: string;
  readonly title: string;
  // biome-ignore lint/suspicious/noExplicitAny: the cases of eight kinds have eight shapes.
  readonly inputs: any;
  // biome-ignore lint/suspicious/noExplicitAny: the same.
  readonly expected: any;
  readonly tolerance: { readonly rel?: number; readonly abs?: number; readonly exact?: boolean };
}

const cases = values as unknown as readonly Case[];

function ofKind(kind: string): readonly Case[] {
  const found = cases.filter((candidate) => candidate.kind === kind);
  if (found.length === 0) throw new Error(`no cases of kind ${kind}`);
  return found;
}

function expectNear(found: number, expected: number, tolerance: Case['tolerance']): void {
  const allowed = (tolerance.rel ?? 0) * Math.abs(expected) + (tolerance.abs ?? 0);
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(allowed);
}

function modelOf(inputs: Case['inputs']): NetMassModel {
  return {
    pieceMassGrams: inputs.mu,
    pieceStandardDeviationGrams: inputs.sp,
    lotStandardDeviationGrams: inputs.sb,
    referenceMeanStandardUncertaintyGrams: inputs.smu,
    gainRelative: inputs.gain,
    tareStandardDeviationGrams: inputs.sT,
    repeatabilityGrams: inputs.sr,
    divisionGrams: inputs.d,
    readingsTaken: inputs.q,
  };
}

describe('what a scale can prove', () => {
  it.each(ofKind('count_misclass'))('$id $title', ({ inputs, expected, tolerance }) => {
    const s = netStandardUncertainty(modelOf(inputs), inputs.n);
    expectNear(s, expected.net_sd_g, tolerance);
    expectNear(inputs.mu / (2 * s), expected.half_gap_over_sd, tolerance);
    // The far tails carry the relative error of s many times over.
    expect(misclassificationProbability(inputs.mu, s) / expected.p_wrong).toBeCloseTo(1, 5);
  });

  it.each(ofKind('count_nmax'))('$id $title', ({ inputs, expected }) => {
    expect(largestProvableCount(modelOf(inputs), inputs.alpha)).toBe(expected.n_max);
  });
});

describe('what a reading proves', () => {
  it.each(ofKind('count_interval_likelihood'))('$id $title', ({ inputs, expected, tolerance }) => {
    for (const pieces of inputs.n as number[]) {
      const found = roundedReadingLikelihood(
        { readingGrams: inputs.reading_g, divisionGrams: inputs.d },
        { expectedGrams: pieces * inputs.mu, standardUncertaintyGrams: inputs.s },
      );
      expectNear(found, expected.likelihood[pieces], tolerance);
    }
  });

  it.each(ofKind('count_posterior'))('$id $title', ({ inputs, expected, tolerance }) => {
    const found = countPosterior({
      netReadingsGrams: [inputs.net_g],
      prior: Object.entries(inputs.prior as Record<string, number>).map(
        ([pieces, probability]) => ({
          pieces: Number(pieces),
          probability,
        }),
      ),
      nominalPieces: inputs.nominal,
      pieceMassGrams: inputs.mu,
      standardUncertaintyGrams: inputs.s,
      badWeighingProbability: inputs.eps,
      badWeighingSpreadGrams: inputs.broad_g,
    });
    for (const { pieces, probability } of found.posterior) {
      expectNear(probability, expected.posterior[pieces], tolerance);
    }
    expectNear(found.probabilityBadWeighing, expected.p_bad_weighing, tolerance);
  });

  // The same cases through the public calculation, with all uncertainty put into the tare.
  it.each(ofKind('count_posterior'))('$id through the calculation', ({ inputs, expected }) => {
    const output = countByWeight({
      ...countByWeightCalculation.example,
      pieceMassGrams: inputs.mu,
      pieceStandardDeviationGrams: 1e-9,
      lotStandardDeviationGrams: 0,
      gainRelative: 0,
      tareStandardDeviationGrams: inputs.s,
      repeatabilityGrams: 0,
      divisionGrams: 1e-6,
      netReadingsGrams: [inputs.net_g],
      priorMiscountProbability: inputs.prior[19],
      badWeighingProbability: inputs.eps,
      badWeighingSpreadGrams: inputs.broad_g,
    });
    for (const { pieces, probability } of output.posterior) {
      expect(probability / expected.posterior[pieces]).toBeCloseTo(1, 4);
    }
    expect(output.probabilityBadWeighing / expected.p_bad_weighing).toBeCloseTo(1, 4);
  });
});

describe('reference mean', () => {
  it.each(ofKind('ref_mean_update'))('$id $title', ({ inputs, expected, tolerance }) => {
    const extended = extendReferenceMean(
      {
        referencePieces: inputs.N,
        meanGrams: inputs.mean_g,
        meanStandardUncertaintyGrams: inputs.u_mean_g,
      },
      {
        pieces: inputs.count,
        netGrams: inputs.net_g,
        netStandardUncertaintyGrams: inputs.u_net_g,
        pieceStandardDeviationGrams: inputs.sp,
      },
    );
    expectNear(extended.meanGrams, expected.mean_g, tolerance);
    expectNear(extended.meanStandardUncertaintyGrams, expected.u_mean_g, tolerance);
    expect(extended.referencePieces).toBe(inputs.N + inputs.count);
  });

  it.each(ofKind('snap_risk'))('$id $title', ({ inputs, expected, tolerance }) => {
    const risk = snapRisk({
      pieces: inputs.n,
      referencePieces: inputs.N,
      pieceMassGrams: inputs.mu,
      pieceStandardDeviationGrams: inputs.sp,
    });
    expectNear(risk.standardUncertaintyGrams, expected.sd_g, tolerance);
    expectNear(risk.probability, expected.p_wrong, tolerance);
  });
});

describe('containers against each other', () => {
  it.each(ofKind('box_difference'))('$id $title', ({ inputs, expected, tolerance }) => {
    const s = boxDifferenceUncertainty({
      tubes: inputs.tubes,
      tubeRepeatabilityGrams: inputs.tube_sr,
      tubeDivisionGrams: inputs.tube_d,
      boxTareStandardDeviationGrams: inputs.box_tare_sd,
      boxRepeatabilityGrams: inputs.box_sr,
      boxDivisionGrams: inputs.box_d,
      massGrams: inputs.net_g,
      gainRelativeEachScale: inputs.gain_u_each_scale,
    });
    expectNear(s, expected.sd_g, tolerance);
    expectNear(inputs.mu / (2 * s), expected.half_gap_over_sd, tolerance);
    expectNear(misclassificationProbability(inputs.mu, s), expected.p_wrong, tolerance);
  });

  it.each(ofKind('sibling_compare'))('$id $title', ({ inputs, expected, tolerance }) => {
    const found = compareSiblings(
      (inputs.dev_g as number[]).map((deviationGrams, index) => ({
        deviationGrams,
        pieces: inputs.n[index],
        standardUncertaintyGrams: inputs.s_g[index],
      })),
      { sharedPerPieceGrams: inputs.sb_g },
    );
    for (const [index, { pred_g, sd_g, z }] of expected.loo.entries()) {
      const prediction = found[index];
      expect(Math.abs((prediction?.predictedGrams ?? Number.NaN) - pred_g)).toBeLessThan(1e-6);
      expectNear(prediction?.standardUncertaintyGrams ?? Number.NaN, sd_g, tolerance);
      expectNear(prediction?.standardizedResidual ?? Number.NaN, z, tolerance);
    }
  });
});
