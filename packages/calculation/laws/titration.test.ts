import { describe, expect, it } from 'vitest';
import { type EndPointInput, endPoint } from '../src/assay/end-point.ts';
import { type TitrationInput, titration, titrationCalculation } from '../src/assay/titration.ts';
import { DomainError } from '../src/quantity/domain.ts';
import { seededNormal, standardDeviation } from './simulation.ts';

const endPointMillilitres = 30;
/** 2·√(solubility product)/concentration of the titrant, at 0.1 mol/L. */
const widths = {
  bromide: (2 * Math.sqrt(5e-13)) / 0.1,
  chloride: (2 * Math.sqrt(1.8e-10)) / 0.1,
  'a soft jump': 2e-3,
};

/** Potential of silver in 100 mL titrated with a halide: Nernst with the solubility product. */
const potential = (volume: number, width: number) =>
  25.69 * Math.asinh((endPointMillilitres - volume) / ((100 + volume) * width));

/** Uneven volumes: wide apart, then by a step about the end point, which lies anywhere in it. */
function volumes(step: number, shift: number): number[] {
  const before = [20, 22, 24, 26, 27, 28, 28.5, 29, 29.3, 29.5, 29.6];
  const about: number[] = [];
  for (let volume = 29.7 + shift; volume < 30.31; volume += step) about.push(volume);
  return [...before, ...about, 30.5, 30.8, 31.2, 32, 33, 34.5];
}

interface Tally {
  readonly found: number;
  readonly covered: number;
  readonly rootMeanSquare: number;
}

/** Simulated curves of known end point: how many give one, and how many limits hold it. */
function simulate(
  method: EndPointInput['method'],
  width: number,
  step: number,
  noise: number,
  seed: number,
): Tally {
  const normal = seededNormal(seed);
  const rounds = 100;
  let [found, covered, squares] = [0, 0, 0];
  for (let round = 0; round < rounds; round += 1) {
    const curve = volumes(step, step * ((round * 0.618) % 1)).map((volumeMillilitres) => ({
      volumeMillilitres,
      potentialMillivolts: potential(volumeMillilitres, width) + noise * normal(),
    }));
    try {
      const output = endPoint({
        curve,
        method,
        volumeStandardUncertaintyMillilitres: 0,
        confidencePercent: 95,
      });
      found += 1;
      squares += (output.endPointMillilitres - endPointMillilitres) ** 2;
      const { lowerMillilitres, upperMillilitres } = output;
      if (lowerMillilitres <= endPointMillilitres && upperMillilitres >= endPointMillilitres) {
        covered += 1;
      }
    } catch (error) {
      if (!(error instanceof DomainError)) throw error;
    }
  }
  return {
    found: found / rounds,
    covered: covered / found,
    rootMeanSquare: Math.sqrt(squares / found),
  };
}

const precipitation: EndPointInput['method'] = {
  kind: 'precipitation curve',
  startVolumeMillilitres: 100,
  electrode: { kind: 'fitted' },
};
const spline: EndPointInput['method'] = { kind: 'smoothing spline' };
const derivative: EndPointInput['method'] = { kind: 'second derivative', windowPoints: 4 };
// Four standard errors of a share of 0.95 in 100 rounds: 4·√(0.95·0.05/100) = 0.087.
const least = 0.95 - 0.087;

describe('end points of simulated silver titrations', () => {
  for (const [name, width] of Object.entries(widths)) {
    for (const [step, noise] of [
      [0.02, 0.3],
      [0.05, 1],
      [0.1, 3],
    ] as const) {
      it(`lie within the limits of the precipitation curve: ${name}, steps ${step} mL, scatter ${noise} mV`, () => {
        const tally = simulate(precipitation, width, step, noise, 7);
        expect(tally.found).toBeGreaterThan(0.98);
        expect(tally.covered).toBeGreaterThan(least);
      });

      it(`lie within the limits of the spline: ${name}, steps ${step} mL, scatter ${noise} mV`, () => {
        const tally = simulate(spline, width, step, noise, 8);
        expect(tally.found).toBeGreaterThan(0.98);
        expect(tally.covered).toBeGreaterThan(least);
      });
    }
  }

  it.each([
    ['bromide', 0.02, 1],
    ['bromide', 0.1, 3],
    ['chloride', 0.05, 0.3],
    ['chloride', 0.1, 0.3],
  ] as const)(
    'lie within the limits of the second derivative: %s, steps %d mL, scatter %d mV',
    (name, step, noise) => {
      const tally = simulate(derivative, widths[name], step, noise, 9);
      expect(tally.found).toBeGreaterThan(0.98);
      expect(tally.covered).toBeGreaterThan(least);
    },
  );

  it('miss the limits of the precipitation curve about as often as one in twenty', () => {
    // Over all its cases together: limits that held everything would say nothing.
    const tallies = Object.values(widths).map((width, i) =>
      simulate(precipitation, width, 0.1, 1, 20 + i),
    );
    const covered = tallies.reduce((sum, one) => sum + one.covered, 0) / tallies.length;
    expect(covered).toBeLessThan(0.95 + 4 * Math.sqrt((0.95 * 0.05) / 300));
    expect(covered).toBeGreaterThan(0.95 - 4 * Math.sqrt((0.95 * 0.05) / 300));
  });

  it('are refused by the second derivative where four points cannot show them', () => {
    expect(simulate(derivative, widths['a soft jump'], 0.02, 0.3, 10).found).toBeLessThan(0.02);
  });

  it('are found far closer by the precipitation curve than by an inflection', () => {
    const fitted = simulate(precipitation, widths.bromide, 0.05, 0.3, 11).rootMeanSquare;
    const inflection = simulate(spline, widths.bromide, 0.05, 0.3, 11).rootMeanSquare;
    expect(fitted).toBeLessThan(inflection / 20);
  });
});

describe('laws of the end point', () => {
  const curve = volumes(0.05, 0.013).map((volumeMillilitres) => ({
    volumeMillilitres,
    potentialMillivolts: potential(volumeMillilitres, widths.chloride),
  }));
  const input = (method: EndPointInput['method']): EndPointInput => ({
    curve,
    method,
    volumeStandardUncertaintyMillilitres: 0,
    confidencePercent: 95,
    potentialStandardUncertaintyMillivolts: 0.1,
  });

  it.each([precipitation, spline, derivative])(
    'stays with potentials shifted, turned or stretched ($kind)',
    (method) => {
      const plain = endPoint(input(method)).endPointMillilitres;
      for (const [factor, shift] of [
        [1, 200],
        [-1, 0],
        [-2.5, 30],
      ] as const) {
        const moved = endPoint({
          ...input(method),
          potentialStandardUncertaintyMillivolts: 0.1 * Math.abs(factor),
          curve: curve.map((point) => ({
            ...point,
            potentialMillivolts: shift + factor * point.potentialMillivolts,
          })),
        });
        expect(moved.endPointMillilitres).toBeCloseTo(plain, 6);
      }
    },
  );

  it.each([spline, derivative])('moves with the volumes ($kind)', (method) => {
    const plain = endPoint(input(method));
    const moved = endPoint({
      ...input(method),
      curve: curve.map((point) => ({
        ...point,
        volumeMillilitres: 5 + 2 * point.volumeMillilitres,
      })),
    });
    expect(moved.endPointMillilitres).toBeCloseTo(5 + 2 * plain.endPointMillilitres, 6);
    expect(moved.standardUncertaintyMillilitres).toBeCloseTo(
      2 * plain.standardUncertaintyMillilitres,
      6,
    );
  });
});

describe('standard uncertainty of silver by titration', () => {
  it('is the spread of simulated runs, shared parts and blank included', () => {
    const normal = seededNormal(12);
    const input: TitrationInput = {
      ...titrationCalculation.example,
      blankMillilitres: 0.05,
      blankStandardUncertaintyMillilitres: 0.02,
      silverStandardUncertaintyPerMille: 0.1,
      samples: [20, 70].map((minutes, i) => ({
        label: `A${i}`,
        minutes,
        // Volumes unlike those of the standards, so that the blank does not cancel.
        sampleMassMilligrams: 150,
        volumeMillilitres: 12.9,
      })),
    };
    const weighing = input.weighingStandardUncertaintyMilligrams;
    const reading = input.volumeStandardUncertaintyMillilitres;
    const repeat = 0.0001;
    const rounds = 4000;
    const means = Array.from({ length: rounds }, () => {
      const blank = input.blankMillilitres + 0.02 * normal();
      const silver = 1 + 0.0001 * normal();
      const factors = input.standards.map((one) => {
        const mass = (one.silverMassMilligrams + weighing * normal()) * silver;
        const volume =
          (one.volumeMillilitres - blank) * (1 + repeat * normal()) + reading * normal();
        return mass / volume;
      });
      const results = input.samples.map((one) => {
        const share = one.minutes / 90;
        const factor = (1 - share) * (factors[0] ?? 0) + share * (factors[1] ?? 0);
        const volume =
          (one.volumeMillilitres - blank) * (1 + repeat * normal()) + reading * normal();
        return (1000 * factor * volume) / (one.sampleMassMilligrams + weighing * normal());
      });
      return results.reduce((sum, one) => sum + one, 0) / results.length;
    });
    const claimed = titration(input).standardUncertaintyPerMille;
    // Four standard errors of a standard deviation from that many values: 4/√(2·4000).
    expect(Math.abs(standardDeviation(means) / claimed - 1)).toBeLessThan(
      4 / Math.sqrt(2 * rounds),
    );
  });
});
