import { describe, expect, it } from 'vitest';
import { boxAgainstTubes } from '../../src/counting/box-against-tubes.ts';
import { boxAgainstTubesCalculation } from '../../src/counting/box-against-tubes-entry.ts';
import { provableCount, provableCountCalculation } from '../../src/counting/provable-count.ts';
import { type SeriesModel, tubeEvidence } from '../../src/counting/series-model.ts';
import { seriesPosterior } from '../../src/counting/series-posterior.ts';
import values from './values.json' with { type: 'json' };

interface Case {
  readonly id: string;
  readonly kind: string;
  readonly title: string;
  // biome-ignore lint/suspicious/noExplicitAny: the cases of eight kinds have eight shapes.
  readonly inputs: any;
  // biome-ignore lint/suspicious/noExplicitAny: the same.
  readonly expected: any;
}

const ofKind = (kind: string) =>
  (values as unknown as readonly Case[]).filter((candidate) => candidate.kind === kind);

/** One tube whose whole uncertainty is its own: the mean piece mass is all but known. */
function modelOf(inputs: Case['inputs'], divisionGrams: number): SeriesModel {
  return {
    referenceMeanGrams: inputs.mu,
    referenceMeanStandardUncertaintyGrams: 1e-7,
    lotStandardDeviationGrams: 0,
    gainRelative: 0,
    pieceStandardDeviationGrams: 1e-9,
    driftPerTubeGrams: 0,
    storedTareGrams: 18,
    tareStandardDeviationGrams: inputs.s,
    tareMeanStandardUncertaintyGrams: 0,
    repeatabilityGrams: 0,
    divisionGrams,
    priorMiscountProbability: inputs.prior?.[19] ?? 1e-3,
    badWeighingProbability: inputs.eps ?? 1e-9,
    badWeighingSpreadGrams: inputs.broad_g ?? 20,
  };
}

describe('a series of one tube', () => {
  it.each(ofKind('count_posterior'))('$id $title', ({ inputs, expected }) => {
    const found = seriesPosterior(
      [{ bookedPieces: inputs.nominal, grossReadingsGrams: [inputs.net_g + 18] }],
      modelOf(inputs, 1e-6),
    );
    for (const [place, pieces] of (found.pieces[0] ?? []).entries()) {
      const probability = found.afterwards[0]?.counts[place] ?? Number.NaN;
      expect(probability / expected.posterior[pieces]).toBeCloseTo(1, 4);
    }
    expect((found.afterwards[0]?.bad ?? 0) / expected.p_bad_weighing).toBeCloseTo(1, 4);
  });

  it.each(ofKind('count_interval_likelihood'))('$id $title', ({ inputs, expected }) => {
    for (const pieces of inputs.n as number[]) {
      // Counted tubes have one count only: the evidence is then the probability of the reading.
      const model = modelOf(inputs, inputs.d);
      const tube = {
        bookedPieces: pieces,
        countedPieces: pieces,
        grossReadingsGrams: [inputs.reading_g + 18],
      };
      const rounded = tubeEvidence(tube, model, pieces).roundedToGrams !== null;
      if (!rounded) continue;
      const found = seriesPosterior([tube], model);
      const likelihood = Math.exp(found.logEvidence[0] ?? Number.NaN);
      const bad = 1e-9;
      expect(Math.abs(likelihood - expected.likelihood[pieces])).toBeLessThan(
        1e-5 * expected.likelihood[pieces] + 2 * bad,
      );
    }
  });
});

describe('largest provable count through the catalogue', () => {
  it.each(ofKind('count_nmax'))('$id $title', ({ inputs, expected }) => {
    // The cases state the uncertainty of the mean, to ten figures; the entry takes pieces of the reference.
    const referencePieces = Math.round((inputs.sp / inputs.smu) ** 2);
    expect(inputs.sp / Math.sqrt(referencePieces)).toBeCloseTo(inputs.smu, 9);
    const result = provableCount({
      ...provableCountCalculation.example,
      pieceMassGrams: inputs.mu,
      pieceStandardDeviationGrams: inputs.sp,
      lotStandardDeviationGrams: inputs.sb,
      referencePieces,
      gainRelative: inputs.gain,
      tareStandardDeviationGrams: inputs.sT,
      repeatabilityGrams: inputs.sr,
      divisionGrams: inputs.d,
      readingsTaken: inputs.q,
      acceptedRisk: inputs.alpha,
    });
    expect(result.largestPieces).toBe(expected.n_max);
  });
});

describe('box against its tubes through the catalogue', () => {
  it.each(ofKind('box_difference'))('$id $title', ({ inputs, expected }) => {
    const input = {
      tubeGrossGrams: new Array<number>(inputs.tubes).fill(inputs.net_g / inputs.tubes),
      boxGrossGrams: inputs.net_g + 400,
      boxTareGrams: 400,
      pieceMassGrams: inputs.mu,
      weighing: {
        tubeRepeatabilityGrams: inputs.tube_sr,
        tubeDivisionGrams: inputs.tube_d,
        boxTareStandardDeviationGrams: inputs.box_tare_sd,
        boxRepeatabilityGrams: inputs.box_sr,
        boxDivisionGrams: inputs.box_d,
        gainRelativeEachScale: inputs.gain_u_each_scale,
      },
    };
    const output = boxAgainstTubesCalculation.compute(input);
    expect(output).toEqual(boxAgainstTubes(input));
    expect(output.standardUncertaintyGrams / expected.sd_g).toBeCloseTo(1, 6);
    expect(output.misclassificationProbability / expected.p_wrong).toBeCloseTo(1, 4);
  });
});
