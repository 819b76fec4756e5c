import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CupellationInput, cupellation } from '../src/assay/cupellation.ts';
import { seededNormal, standardDeviation } from './simulation.ts';

const trials = 40_000;
// Four standard errors of a standard deviation from that many normal values: 4/√(2·40000) = 1.4 %.
const tolerance = 4 / Math.sqrt(2 * trials);

const weighing = 0.02;
const repeatability = 0.15;
const purity = 0.05;
const goldTaken = [229.2, 229.35, 229.1];
const samples = [
  { label: 'A', sampleMassMilligrams: 250.12, trueFineness: 916.9 },
  { label: 'B', sampleMassMilligrams: 249.8, trueFineness: 916.9 },
];
const meanMass = (250.12 + 249.8) / 2;

function inputFor(correction: CupellationInput['correction']): CupellationInput {
  return {
    correction,
    proofs: goldTaken.map((taken, index) => ({
      label: `P${index}`,
      goldTakenMilligrams: taken,
      cornetMassMilligrams: taken + 0.115,
    })),
    samples: samples.map(({ label, sampleMassMilligrams, trueFineness }) => ({
      label,
      sampleMassMilligrams,
      cornetMassMilligrams: (sampleMassMilligrams * trueFineness) / 1000 + 0.115,
    })),
    weighingStandardUncertaintyMilligrams: weighing,
    proofGoldStandardUncertaintyPerMille: purity,
    repeatabilityStandardDeviationPerMille: repeatability,
  };
}

/** One run of the laboratory with every error drawn; mean fineness by the plain equations. */
function simulatedMean(input: CupellationInput, normal: () => number): number {
  const read = (mass: number) => mass + weighing * normal();
  const impurity = (purity / 1000) * normal();
  const proofScatter = (repeatability * meanMass) / 1000;
  const proofs = input.proofs.map((proof) => {
    const gold = proof.goldTakenMilligrams * (1 - impurity);
    const cornet =
      gold + proof.cornetMassMilligrams - proof.goldTakenMilligrams + proofScatter * normal();
    return { taken: read(proof.goldTakenMilligrams), cornet: read(cornet) };
  });
  const loss = proofs.reduce((sum, one) => sum + one.taken - one.cornet, 0) / proofs.length;
  const recovery = proofs.reduce((sum, one) => sum + one.cornet / one.taken, 0) / proofs.length;
  const finenesses = input.samples.map((sample) => {
    const scatter = (repeatability * sample.sampleMassMilligrams) / 1000;
    const cornet = read(sample.cornetMassMilligrams + scatter * normal());
    const mass = read(sample.sampleMassMilligrams);
    return input.correction === 'absolute'
      ? ((cornet + loss) / mass) * 1000
      : (cornet / (recovery * mass)) * 1000;
  });
  return finenesses.reduce((sum, one) => sum + one, 0) / finenesses.length;
}

describe('standard uncertainty of cupellation', () => {
  for (const correction of ['absolute', 'proportional'] as const) {
    it(`is the spread of simulated runs with the ${correction} correction, seed 20`, () => {
      const input = inputFor(correction);
      const normal = seededNormal(20);
      const means = Array.from({ length: trials }, () => simulatedMean(input, normal));
      const claimed = cupellation(input).standardUncertaintyPerMille;
      expect(Math.abs(standardDeviation(means) / claimed - 1)).toBeLessThan(tolerance);
    });
  }

  it('would be claimed too small if the proof correction were averaged over the samples', () => {
    const output = cupellation(inputFor('absolute'));
    const averaged = Math.hypot(
      ...output.determinations.map((one) => one.standardUncertaintyPerMille / 2),
    );
    expect(averaged / output.standardUncertaintyPerMille).toBeLessThan(1 - 2 * tolerance);
  });
});

const mass = fc.double({ min: 100, max: 300, noNaN: true });
const proof = fc.tuple(mass, fc.double({ min: -0.2, max: 0.2, noNaN: true }));
const run = fc
  .tuple(
    fc.constantFrom('absolute' as const, 'proportional' as const),
    fc.array(proof, { minLength: 2, maxLength: 5 }),
    fc.array(fc.tuple(mass, fc.double({ min: 0.3, max: 0.95, noNaN: true })), {
      minLength: 1,
      maxLength: 5,
    }),
  )
  .map(
    ([correction, proofs, portions]): CupellationInput => ({
      correction,
      proofs: proofs.map(([taken, gain], index) => ({
        label: `P${index}`,
        goldTakenMilligrams: taken,
        cornetMassMilligrams: taken + gain,
      })),
      samples: portions.map(([sample, share], index) => ({
        label: `S${index}`,
        sampleMassMilligrams: sample,
        cornetMassMilligrams: sample * share,
      })),
      weighingStandardUncertaintyMilligrams: 0.01,
    }),
  );

describe('laws of cupellation', () => {
  it('does not depend on the order of proofs and samples', () => {
    fc.assert(
      fc.property(run, (input) => {
        const forward = cupellation(input);
        const backward = cupellation({
          ...input,
          proofs: input.proofs.toReversed(),
          samples: input.samples.toReversed(),
        });
        expect(backward.meanFinenessPerMille).toBeCloseTo(forward.meanFinenessPerMille, 9);
        expect(backward.standardUncertaintyPerMille).toBeCloseTo(
          forward.standardUncertaintyPerMille,
          9,
        );
      }),
      { seed: 21, numRuns: 200 },
    );
  });

  it('does not depend on the unit of mass', () => {
    fc.assert(
      fc.property(run, fc.double({ min: 0.1, max: 10, noNaN: true }), (input, factor) => {
        const scaled = cupellation({
          ...input,
          proofs: input.proofs.map((one) => ({
            ...one,
            goldTakenMilligrams: one.goldTakenMilligrams * factor,
            cornetMassMilligrams: one.cornetMassMilligrams * factor,
          })),
          samples: input.samples.map((one) => ({
            ...one,
            sampleMassMilligrams: one.sampleMassMilligrams * factor,
            cornetMassMilligrams: one.cornetMassMilligrams * factor,
          })),
          weighingStandardUncertaintyMilligrams: 0.01 * factor,
        });
        const plain = cupellation(input);
        expect(scaled.meanFinenessPerMille).toBeCloseTo(plain.meanFinenessPerMille, 8);
        expect(scaled.standardUncertaintyPerMille).toBeCloseTo(
          plain.standardUncertaintyPerMille,
          8,
        );
      }),
      { seed: 22, numRuns: 200 },
    );
  });

  it('gives each sample at least the uncertainty of the mean, and shares that add to 100 %', () => {
    fc.assert(
      fc.property(run, (input) => {
        const output = cupellation(input);
        const largest = Math.max(
          ...output.determinations.map((one) => one.standardUncertaintyPerMille),
        );
        expect(output.standardUncertaintyPerMille).toBeLessThanOrEqual(largest * (1 + 1e-12));
        const total = output.budget.reduce((sum, line) => sum + line.sharePercent, 0);
        expect(total).toBeCloseTo(100, 9);
      }),
      { seed: 23, numRuns: 200 },
    );
  });
});
