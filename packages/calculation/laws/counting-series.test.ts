import t from '@stdlib/stats-base-dists-t';
import { describe, expect, it } from 'vitest';
import { meanMassDrift, meanMassDriftCalculation } from '../src/counting/mean-mass-drift.ts';
import {
  type SeriesModel,
  type SeriesTube,
  sharedVariance,
  tubeEvidence,
} from '../src/counting/series-model.ts';
import { seriesPosterior } from '../src/counting/series-posterior.ts';
import { normalLogDensity } from '../src/quantity/normal.ts';
import { seededNormals } from './simulated-readings.ts';

const model: SeriesModel = {
  referenceMeanGrams: 31.1,
  referenceMeanStandardUncertaintyGrams: 0.01,
  lotStandardDeviationGrams: 0.02,
  gainRelative: 1e-4,
  pieceStandardDeviationGrams: 0.05,
  driftPerTubeGrams: 0.003,
  storedTareGrams: 18,
  tareStandardDeviationGrams: 0.15,
  tareMeanStandardUncertaintyGrams: 0.03,
  repeatabilityGrams: 0.05,
  divisionGrams: 0.1,
  priorMiscountProbability: 2e-4,
  badWeighingProbability: 1e-3,
  badWeighingSpreadGrams: 20,
};

const readings = [640.5, 640.1, 609.3, 640.6, 625.2, 640.9, 640.4];
const tubes: SeriesTube[] = readings.map((gross, index) => ({
  bookedPieces: 20,
  grossReadingsGrams: index === 2 ? [gross, gross + 0.1] : [gross],
}));

/** One sequence of counts with the normal distribution of the mean that follows from it. */
interface Branch {
  readonly log: number;
  readonly mean: number;
  readonly variance: number;
  readonly pieces: readonly (number | null)[];
}

/**
 * The second road: every sequence of counts and bad weighings, each with a closed normal recursion of the
 * mean piece mass (conjugate updating), summed by their weights.
 */
function byBranches(series: readonly SeriesTube[], known: SeriesModel) {
  let branches: Branch[] = [
    { log: 0, mean: known.referenceMeanGrams, variance: sharedVariance(known, 20), pieces: [] },
  ];
  for (const [index, tube] of series.entries()) {
    const evidence = tubeEvidence(tube, known, 20);
    branches = branches.flatMap((branch) => {
      const variance = branch.variance + (index === 0 ? 0 : known.driftPerTubeGrams ** 2);
      const bad = evidence.hypotheses.map(({ pieces, logPrior }) => ({
        ...branch,
        variance,
        log: branch.log + logPrior + evidence.badLogWeight,
        pieces: [...branch.pieces, pieces],
      }));
      const good = evidence.hypotheses.flatMap(({ pieces, logPrior, terms }) =>
        terms.map((term) => {
          const total = term.variance + pieces ** 2 * variance;
          const gain = (pieces * variance) / total;
          const left = term.netGrams - pieces * branch.mean;
          return {
            log:
              branch.log + logPrior + term.logWeight + normalLogDensity(left, 0, Math.sqrt(total)),
            mean: branch.mean + gain * left,
            variance: variance * (1 - gain * pieces),
            pieces: [...branch.pieces, pieces],
          };
        }),
      );
      return [...bad, ...good];
    });
    // Branches without weight are dropped, or there would be millions.
    const top = Math.max(...branches.map((branch) => branch.log));
    branches = branches.filter((branch) => branch.log > top - 60);
  }
  const top = Math.max(...branches.map((branch) => branch.log));
  const weights = branches.map((branch) => Math.exp(branch.log - top));
  const sum = weights.reduce((all, weight) => all + weight, 0);
  const share = (pick: (branch: Branch) => boolean) =>
    branches.reduce(
      (all, branch, index) => all + (pick(branch) ? (weights[index] as number) : 0),
      0,
    ) / sum;
  const mean =
    branches.reduce((all, branch, index) => all + (weights[index] as number) * branch.mean, 0) /
    sum;
  return { share, mean, logEvidence: top + Math.log(sum) };
}

describe('a series of tubes', () => {
  it('has by quadrature the probabilities of all sequences of counts, by closed normal recursion', () => {
    const grid = seriesPosterior(tubes, model);
    const exact = byBranches(tubes, model);
    for (const [index, pieces] of grid.pieces.entries()) {
      for (const [place, count] of pieces.entries()) {
        const stated = grid.afterwards[index]?.counts[place] as number;
        const expected = exact.share((branch) => branch.pieces[index] === count);
        expect(Math.abs(stated - expected)).toBeLessThan(1e-9 + 1e-6 * expected);
      }
    }
    expect(grid.after[tubes.length - 1]?.mean).toBeCloseTo(exact.mean, 9);
    expect(grid.logEvidence[tubes.length - 1]).toBeCloseTo(exact.logEvidence, 7);
    const asBooked = exact.share((branch) => branch.pieces.every((pieces) => pieces === 20));
    expect(Math.abs(grid.allAsBooked / asBooked - 1)).toBeLessThan(1e-6);
  });

  it('without drift does not depend on the order of its tubes', () => {
    const steady = { ...model, driftPerTubeGrams: 0 };
    const forth = seriesPosterior(tubes, steady);
    const back = seriesPosterior([...tubes].reverse(), steady);
    for (const [index, one] of forth.afterwards.entries()) {
      const other = back.afterwards[tubes.length - 1 - index];
      for (const [place, value] of one.counts.entries()) {
        expect(Math.abs(value - (other?.counts[place] ?? Number.NaN))).toBeLessThan(1e-10);
      }
    }
    expect(forth.logEvidence[6]).toBeCloseTo(back.logEvidence[6] as number, 8);
  });

  it('of one tube with an estimated spread has the density of the t distribution', () => {
    // All uncertainty in the pieces, none else: net − 20·31.1 over √20·0.05 is t with ν degrees of freedom.
    const bare = {
      ...model,
      driftPerTubeGrams: 0,
      referenceMeanStandardUncertaintyGrams: 1e-6,
      lotStandardDeviationGrams: 0,
      gainRelative: 0,
      tareStandardDeviationGrams: 1e-7,
      tareMeanStandardUncertaintyGrams: 0,
      repeatabilityGrams: 0,
      divisionGrams: 1e-6,
      badWeighingProbability: 1e-12,
      priorMiscountProbability: 1e-12,
    };
    const scale = Math.sqrt(20) * 0.05;
    for (const degrees of [3, 9, 49]) {
      for (const off of [0, 0.3, 0.9]) {
        const tube = { bookedPieces: 20, grossReadingsGrams: [640 + off] };
        const found = seriesPosterior([tube], bare, degrees);
        const expected = Math.log(t.pdf(off / scale, degrees) / scale);
        expect(Math.abs((found.logEvidence[0] as number) - expected)).toBeLessThan(2e-5);
      }
    }
  });

  it('with a rounded reading that is fine has the probability of the normal one', () => {
    // Just below and just above the quarter of a division where the exact interval takes over.
    const at = (tareStandardDeviationGrams: number) =>
      seriesPosterior([{ bookedPieces: 20, grossReadingsGrams: [625] }], {
        ...model,
        divisionGrams: 1,
        repeatabilityGrams: 0,
        pieceStandardDeviationGrams: 1e-6,
        tareStandardDeviationGrams,
        badWeighingProbability: 1e-9,
        badWeighingSpreadGrams: 200,
        lotStandardDeviationGrams: 0.1,
        priorMiscountProbability: 0.2,
      });
    const exact = at(0.2499);
    const normal = at(0.2501);
    // The normal form is an approximation, good to about 1e-3 at this border.
    const [left, right] = [exact, normal].map(
      (found) => found.afterwards[0]?.counts[0] ?? Number.NaN,
    );
    expect(Math.abs((left as number) - (right as number))).toBeLessThan(2e-3);
    expect(exact.after[0]?.mean).toBeCloseTo(normal.after[0]?.mean ?? 0, 2);
  });
});

describe('stated probabilities come true', () => {
  // Small pieces on a coarse line, so that counts are really in doubt.
  const hard: SeriesModel = {
    ...model,
    referenceMeanGrams: 3.11,
    referenceMeanStandardUncertaintyGrams: 0.03,
    lotStandardDeviationGrams: 0.03,
    pieceStandardDeviationGrams: 0.08,
    tareStandardDeviationGrams: 0.6,
    tareMeanStandardUncertaintyGrams: 0.2,
    driftPerTubeGrams: 0.01,
    repeatabilityGrams: 0.2,
    priorMiscountProbability: 0.05,
    badWeighingProbability: 0.05,
    badWeighingSpreadGrams: 4,
  };

  it('for the counts, when weighed and after the whole series, and for all as booked', () => {
    const { uniform, normal } = seededNormals('00000000000000000000000000002006');
    const size = 8;
    const bins = Array.from({ length: 10 }, () => ({ stated: 0, found: 0, number: 0 }));
    const joint = { stated: 0, found: 0, variance: 0 };
    let [liveScore, afterScore] = [0, 0];
    for (let series = 0; series < 500; series += 1) {
      let mean =
        hard.referenceMeanGrams +
        Math.sqrt(sharedVariance({ ...hard, tareMeanStandardUncertaintyGrams: 0 }, 20)) * normal();
      const tare = hard.tareMeanStandardUncertaintyGrams * normal();
      const truth: number[] = [];
      const weighed = Array.from({ length: size }, (_, index): SeriesTube => {
        if (index > 0) mean += hard.driftPerTubeGrams * normal();
        const draw = uniform();
        const pieces = draw < 0.05 ? 19 : draw > 0.95 ? 21 : 20;
        truth.push(pieces);
        const own = Math.sqrt(pieces) * 0.08 * normal() + 0.6 * normal() + tare;
        const good = pieces * mean + own + 0.2 * normal() + 0.1 * (uniform() - 0.5);
        const total = Math.sqrt(
          16 + 20 * 0.08 ** 2 + 0.36 + 0.04 + 0.01 / 12 + 400 * sharedVariance(hard, 20),
        );
        const net = uniform() < 0.05 ? 20 * 3.11 + total * normal() : good;
        return { bookedPieces: 20, grossReadingsGrams: [18 + net] };
      });
      const found = seriesPosterior(weighed, hard);
      joint.stated += found.allAsBooked;
      joint.variance += found.allAsBooked * (1 - found.allAsBooked);
      joint.found += truth.every((pieces) => pieces === 20) ? 1 : 0;
      for (let index = 0; index < size; index += 1) {
        const place = found.pieces[index]?.indexOf(20) ?? -1;
        const stated = found.afterwards[index]?.counts[place] ?? 0;
        const right = truth[index] === 20 ? 1 : 0;
        liveScore += ((found.live[index]?.counts[place] ?? 0) - right) ** 2;
        afterScore += (stated - right) ** 2;
        const bin = bins[Math.min(9, Math.floor(stated * 10))];
        if (!bin) continue;
        bin.stated += stated;
        bin.found += right;
        bin.number += 1;
      }
    }
    for (const bin of bins.filter((candidate) => candidate.number >= 20)) {
      const stated = bin.stated / bin.number;
      const standardError = Math.sqrt((stated * (1 - stated)) / bin.number);
      expect(Math.abs(bin.found / bin.number - stated)).toBeLessThan(4 * standardError + 0.01);
    }
    expect(Math.abs(joint.found - joint.stated)).toBeLessThan(4 * Math.sqrt(joint.variance));
    // What comes after teaches too.
    expect(afterScore).toBeLessThan(liveScore);
  });

  it('for the causes of a change', () => {
    const { uniform, normal } = seededNormals('00000000000000000000000000001964');
    const base = {
      ...meanMassDriftCalculation.example,
      stepStandardDeviationGrams: 0.03,
      driftStandardDeviationGrams: 0.004,
      priorMassChangeProbability: 0.25,
      priorCountShiftProbability: 0.1,
      priorMiscountProbability: 0.01,
      badWeighingProbability: 0.01,
    };
    const size = 8;
    const bins = Array.from({ length: 5 }, () => ({ stated: 0, found: 0, number: 0 }));
    for (let run = 0; run < 400; run += 1) {
      const draw = uniform();
      const kind = draw < 0.25 ? 'step' : draw < 0.5 ? 'drift' : draw < 0.6 ? 'count' : 'none';
      const shared = 0.02 * normal();
      const change = kind === 'step' ? 0.03 * normal() : 0.004 * normal();
      const from =
        kind === 'step' ? 1 + Math.floor(uniform() * (size - 1)) : Math.floor(uniform() * size);
      const sign = uniform() < 0.5 ? -1 : 1;
      const result = meanMassDrift({
        ...base,
        tubes: Array.from({ length: size }, (_, index) => {
          const moved =
            kind === 'step' ? (index >= from ? change : 0) : kind === 'drift' ? change * index : 0;
          const odd = kind === 'none' ? uniform() : 1;
          const off =
            kind === 'count' && index >= from ? sign : odd < 0.01 ? -1 : odd < 0.02 ? 1 : 0;
          const pieces = 20 + off;
          const own = Math.sqrt(20 * 0.05 ** 2 + 0.15 ** 2 + 0.05 ** 2 + 0.01 / 12) * normal();
          const isBad = odd >= 0.02 && odd < 0.03;
          const net = pieces * (31.1 + shared + moved) + own;
          return {
            label: `${index}`,
            bookedPieces: 20,
            netGrams: isBad ? 622 + Math.hypot(20, 0.28) * normal() : net,
          };
        }),
      });
      const stated = result.probabilities
        .filter(({ cause }) => cause === 'mean-step' || cause === 'mean-drift')
        .reduce((sum, { probability }) => sum + probability, 0);
      const bin = bins[Math.min(4, Math.floor(stated * 5))];
      if (!bin) continue;
      bin.stated += stated;
      bin.found += kind === 'step' || kind === 'drift' ? 1 : 0;
      bin.number += 1;
    }
    for (const bin of bins.filter((candidate) => candidate.number >= 20)) {
      const stated = bin.stated / bin.number;
      const standardError = Math.sqrt((stated * (1 - stated)) / bin.number);
      expect(Math.abs(bin.found / bin.number - stated)).toBeLessThan(4 * standardError + 0.01);
    }
  });
});
