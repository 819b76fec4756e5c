import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countByWeight, countByWeightCalculation } from '../src/counting/count-by-weight.ts';
import { countPosterior, countPrior } from '../src/counting/count-posterior.ts';
import {
  largestProvableCount,
  misclassificationProbability,
  type NetMassModel,
  netStandardUncertainty,
} from '../src/counting/net-mass-uncertainty.ts';
import { repeatedRoundedLogProbability } from '../src/counting/reading-likelihood.ts';
import { seededNormals } from './simulated-readings.ts';

const seed = 622;
const tube = countByWeightCalculation.example;

const models: fc.Arbitrary<NetMassModel> = fc.record({
  pieceMassGrams: fc.double({ min: 1, max: 1000, noNaN: true }),
  pieceStandardDeviationGrams: fc.double({ min: 0.001, max: 0.1, noNaN: true }),
  lotStandardDeviationGrams: fc.double({ min: 0, max: 0.05, noNaN: true }),
  referenceMeanStandardUncertaintyGrams: fc.double({ min: 0, max: 0.02, noNaN: true }),
  gainRelative: fc.double({ min: 0, max: 1e-3, noNaN: true }),
  tareStandardDeviationGrams: fc.double({ min: 0, max: 1, noNaN: true }),
  repeatabilityGrams: fc.double({ min: 0, max: 0.5, noNaN: true }),
  divisionGrams: fc.double({ min: 0.001, max: 1, noNaN: true }),
  readingsTaken: fc.constantFrom(1 as const, 2 as const),
});

describe('the largest provable count', () => {
  it('is the root of the quadratic equation of the variances, rounded down', () => {
    fc.assert(
      fc.property(models, (model) => {
        const z = 3.2905267314918945;
        const gain = model.pieceMassGrams * model.gainRelative;
        const a =
          model.lotStandardDeviationGrams ** 2 +
          model.referenceMeanStandardUncertaintyGrams ** 2 +
          gain ** 2;
        const b = model.pieceStandardDeviationGrams ** 2;
        const c =
          model.tareStandardDeviationGrams ** 2 +
          model.repeatabilityGrams ** 2 +
          (model.readingsTaken * model.divisionGrams ** 2) / 12 -
          (model.pieceMassGrams / (2 * z)) ** 2;
        const root = c >= 0 ? 0 : (-2 * c) / (b + Math.sqrt(b * b - 4 * a * c));
        const found = largestProvableCount(model, 1e-3);
        // A root next to a whole number may fall to either side by rounding.
        expect(Math.abs(found - Math.floor(root))).toBeLessThanOrEqual(
          Math.abs(root - Math.round(root)) < 1e-6 * root ? 1 : 0,
        );
      }),
      { seed, numRuns: 500 },
    );
  });

  it('is exactly where the risk of a wrong count passes the stated one', () => {
    fc.assert(
      fc.property(models, (model) => {
        const most = largestProvableCount(model, 1e-3);
        const risk = (pieces: number) =>
          misclassificationProbability(model.pieceMassGrams, netStandardUncertainty(model, pieces));
        if (most > 0) expect(risk(most)).toBeLessThanOrEqual(1e-3 * (1 + 1e-9));
        expect(risk(most + 1)).toBeGreaterThan(1e-3 * (1 - 1e-9));
      }),
      { seed, numRuns: 300 },
    );
  });
});

describe('the posterior of the count', () => {
  const readings = fc.array(fc.double({ min: 500, max: 750, noNaN: true }), {
    minLength: 1,
    maxLength: 4,
  });

  it('sums to one and does not depend on the order of the readings', () => {
    fc.assert(
      fc.property(readings, (netReadingsGrams) => {
        const forward = countByWeight({ ...tube, netReadingsGrams });
        const backward = countByWeight({
          ...tube,
          netReadingsGrams: [...netReadingsGrams].reverse(),
        });
        const sum = forward.posterior.reduce((total, entry) => total + entry.probability, 0);
        expect(Math.abs(sum - 1)).toBeLessThan(1e-5);
        expect(forward.probabilityBadWeighing).toBeGreaterThanOrEqual(0);
        expect(forward.probabilityBadWeighing).toBeLessThanOrEqual(1 + 1e-12);
        for (const [index, entry] of forward.posterior.entries()) {
          const other = backward.posterior[index]?.probability ?? Number.NaN;
          expect(Math.abs(entry.probability - other)).toBeLessThan(1e-9);
        }
      }),
      { seed, numRuns: 200 },
    );
  });

  it('is mirrored when the reading is mirrored about the expected mass', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 40, noNaN: true }), (off) => {
        const light = countByWeight({ ...tube, netReadingsGrams: [622 - off] }).posterior;
        const heavy = countByWeight({ ...tube, netReadingsGrams: [622 + off] }).posterior;
        expect(light).toHaveLength(3);
        expect(Math.abs((light[0]?.probability ?? 0) - (heavy[2]?.probability ?? 1))).toBeLessThan(
          1e-9,
        );
      }),
      { seed, numRuns: 200 },
    );
  });

  it('a second weighing that agrees makes the count surer, never less sure', () => {
    for (const reading of [590.8, 591.2, 622, 622.9]) {
      const best = (netReadingsGrams: number[]) =>
        Math.max(
          ...countByWeight({ ...tube, netReadingsGrams }).posterior.map((e) => e.probability),
        );
      expect(best([reading, reading])).toBeGreaterThanOrEqual(best([reading]));
    }
  });
});

// One simulated weighing line: counts wrong now and then, weighings wrong now and then.
describe('stated probabilities come true', () => {
  it('for one and for two weighings of small gold pieces', () => {
    const { uniform, normal } = seededNormals('00000000000000000000000000003110');
    const setup = { nominal: 20, mu: 3.11, shared: 0.6, noise: 0.3, p: 0.05, eps: 0.05, broad: 4 };
    const prior = countPrior(setup.nominal, setup.p, { below: 1, above: 1 });
    const total = Math.hypot(setup.shared, setup.noise);
    for (const weighings of [1, 2]) {
      const bins = Array.from({ length: 10 }, () => ({ stated: 0, found: 0, number: 0 }));
      for (let tubes = 0; tubes < 20_000; tubes += 1) {
        const draw = uniform();
        const pieces = draw < setup.p ? 19 : draw > 1 - setup.p ? 21 : 20;
        const sharedError = setup.shared * normal();
        const netReadingsGrams = Array.from({ length: weighings }, () =>
          uniform() < setup.eps
            ? setup.nominal * setup.mu + Math.hypot(setup.broad, total) * normal()
            : pieces * setup.mu + sharedError + setup.noise * normal(),
        );
        const { posterior } = countPosterior({
          netReadingsGrams,
          prior,
          nominalPieces: setup.nominal,
          pieceMassGrams: setup.mu,
          standardUncertaintyGrams: total,
          noiseStandardUncertaintyGrams: setup.noise,
          badWeighingProbability: setup.eps,
          badWeighingSpreadGrams: setup.broad,
        });
        const stated = posterior.find((entry) => entry.pieces === 19)?.probability ?? 0;
        const bin = bins[Math.min(9, Math.floor(stated * 10))];
        if (!bin) continue;
        bin.stated += stated;
        bin.found += pieces === 19 ? 1 : 0;
        bin.number += 1;
      }
      for (const bin of bins.filter((candidate) => candidate.number >= 20)) {
        const stated = bin.stated / bin.number;
        const standardError = Math.sqrt((stated * (1 - stated)) / bin.number);
        expect(Math.abs(bin.found / bin.number - stated)).toBeLessThan(4 * standardError + 1e-4);
      }
    }
  });

  it('the joint probability of two rounded readings is that of a simulation', () => {
    const { normal } = seededNormals('00000000000000000000000000000062');
    const weighing = {
      sharedStandardUncertaintyGrams: 0.2,
      noiseStandardUncertaintyGrams: 0.1,
      divisionGrams: 1,
    };
    const counts = new Map<string, number>();
    const runs = 200_000;
    for (let run = 0; run < runs; run += 1) {
      const mass = 62.3 + weighing.sharedStandardUncertaintyGrams * normal();
      const read = () => Math.round(mass + weighing.noiseStandardUncertaintyGrams * normal());
      const key = `${read()} ${read()}`;
      counts.set(key, (counts.get(key) ?? 0) + 1);
    }
    for (const pair of [
      [62, 62],
      [62, 63],
      [63, 63],
    ]) {
      const stated = Math.exp(repeatedRoundedLogProbability(pair, 62.3, weighing));
      const found = (counts.get(pair.join(' ')) ?? 0) / runs;
      expect(Math.abs(found - stated)).toBeLessThan(4 * Math.sqrt((stated * (1 - stated)) / runs));
    }
  });

  it('two rounded readings integrate to the same as one, summed over the other', () => {
    const weighing = {
      sharedStandardUncertaintyGrams: 0.21,
      noiseStandardUncertaintyGrams: 0.08,
      divisionGrams: 1,
    };
    const single = Math.exp(repeatedRoundedLogProbability([62], 62.17, weighing));
    let sum = 0;
    for (let other = 58; other <= 66; other += 1) {
      sum += Math.exp(repeatedRoundedLogProbability([62, other], 62.17, weighing));
    }
    expect(Math.abs(sum / single - 1)).toBeLessThan(1e-6);
  });
});

describe('the standard uncertainty of a net reading', () => {
  it('is the spread of simulated tubes', () => {
    const { uniform, normal } = seededNormals('00000000000000000000000000000020');
    const model = {
      ...tube,
      referenceMeanStandardUncertaintyGrams: tube.pieceStandardDeviationGrams / Math.sqrt(50),
    };
    const runs = 20_000;
    let squares = 0;
    for (let run = 0; run < runs; run += 1) {
      const perPiece =
        model.lotStandardDeviationGrams * normal() +
        model.referenceMeanStandardUncertaintyGrams * normal();
      let error = 20 * perPiece + 20 * model.pieceMassGrams * model.gainRelative * normal();
      for (let piece = 0; piece < 20; piece += 1)
        error += model.pieceStandardDeviationGrams * normal();
      error += model.tareStandardDeviationGrams * normal() + model.repeatabilityGrams * normal();
      for (let reading = 0; reading < model.readingsTaken; reading += 1) {
        error += model.divisionGrams * (uniform() - 0.5);
      }
      squares += error ** 2;
    }
    const simulated = Math.sqrt(squares / runs);
    const stated = netStandardUncertainty(model, 20);
    // The standard error of a simulated standard deviation is 1/√(2·runs) of it.
    expect(Math.abs(simulated / stated - 1)).toBeLessThan(4 / Math.sqrt(2 * runs));
  });
});
