import { describe, expect, it } from 'vitest';
import { balanceCheck, balanceCheckCalculation } from '../../../src/mass/balance-check.ts';
import { moistAirDensity } from '../../../src/mass/moist-air.ts';
import { fitStraightLine, lineAt, lineErrorsAt } from '../../../src/mass/straight-line.ts';
import { likeliestJump } from '../../../src/mass/weight-jump.ts';
import { coverageFactor } from '../../../src/uncertainty/coverage.ts';
import values from './values.json' with { type: 'json' };

function expectRelative(found: number, expected: number, tolerance = 1e-10): void {
  const size = Math.max(Math.abs(expected), 1e-12);
  expect(Math.abs(found - expected) / size).toBeLessThan(tolerance);
}

describe('histories of check weights', () => {
  it.each(values.histories.map((one, at) => [`${at} ${one.kind}`, one] as const))(
    '%s',
    (_name, one) => {
      const fit = fitStraightLine(one.x, one.y);
      const factor = coverageFactor(one.levelPercent / 100, fit.degreesOfFreedom);
      const slopeHalf = (factor * fit.residualStandardDeviation) / Math.sqrt(fit.spreadX);
      expectRelative(fit.slope, one.line.slope);
      expectRelative(fit.residualStandardDeviation, one.line.residualStandardDeviation);
      expectRelative(slopeHalf, one.line.slopeHalf);
      expectRelative(lineAt(fit, one.at), one.line.value);
      expectRelative(factor * lineErrorsAt(fit, one.at).single, one.line.half);
      const jump = likeliestJump(one.x, one.y);
      expect(jump?.index).toBe(one.jump.index);
      expectRelative(jump?.size ?? 0, one.jump.size, 1e-9);
      expectRelative(jump?.probability ?? 0, one.jump.probability, 1e-8);
    },
  );
});

describe('other figures', () => {
  it('of the balance check example', () => {
    const output = balanceCheck(balanceCheckCalculation.example);
    const { balanceCheck: expected } = values;
    expectRelative(
      output.repeatability?.standardDeviationMilligrams ?? 0,
      expected.standardDeviation,
      1e-6,
    );
    expectRelative(
      output.linearity?.sensitivityErrorPartsPerMillion ?? 0,
      expected.sensitivityErrorPartsPerMillion,
    );
    for (const [at, departure] of expected.departures.entries()) {
      expectRelative(output.linearity?.departuresMilligrams[at] ?? 0, departure);
    }
    expectRelative(output.temperature?.driftPartsPerMillionPerKelvin ?? 0, expected.drift);
  });

  it('of forty states of air', () => {
    for (const [t = 0, p = 0, h = 0, x = 0, density = 0] of values.air) {
      const found = moistAirDensity({
        temperatureCelsius: t,
        pressurePascals: p,
        humidityFraction: h,
        carbonDioxideFraction: x,
      });
      expectRelative(found, density, 1e-13);
    }
  });

  it('of coverage factors', () => {
    for (const one of values.coverageFactors) {
      expectRelative(
        coverageFactor(one.levelPercent / 100, one.degreesOfFreedom),
        one.factor,
        1e-9,
      );
    }
  });
});
