import { describe, expect, it } from 'vitest';
import { titrantFactor, titrantFactorCalculation } from './titrant-factor.ts';
import { type TitrationInput, titration, titrationCalculation } from './titration.ts';

const factorExample = titrantFactorCalculation.example;
const example = titrationCalculation.example;

/** Standards of 300 mg whose factor runs from 10.8 by a given step each hour. */
const drifting = (step: number, count = 4) =>
  Array.from({ length: count }, (_, i) => ({
    label: `S${i}`,
    minutes: 60 * i,
    silverMassMilligrams: 300,
    volumeMillilitres: 300 / (10.8 + step * i),
  }));

describe('titrantFactor', () => {
  it('finds a drift per hour and the factor between two standards', () => {
    const output = titrantFactor({
      ...factorExample,
      standards: drifting(0.01),
      drift: 'straight line',
      times: [90],
    });
    const mean = 10.8 + 0.015;
    expect(output.driftPerMillePerHour).toBeCloseTo((1000 * 0.01) / mean, 9);
    expect(output.driftIsClear).toBe(true);
    expect(output.atTimes[0]?.factorMilligramsPerMillilitre).toBeCloseTo(10.815, 10);
    const between = titrantFactor({
      ...factorExample,
      standards: drifting(0.01),
      drift: 'bracketing',
      times: [60, 75],
    });
    expect(between.atTimes.map((one) => one.factorMilligramsPerMillilitre)).toEqual([
      expect.closeTo(10.81, 10),
      expect.closeTo(10.8125, 10),
    ]);
  });

  it('warns where a mean is taken over a drifting factor', () => {
    const output = titrantFactor({ ...factorExample, standards: drifting(0.01), drift: 'none' });
    expect(output.words).toContain('one mean for all is not enough');
  });

  it('gives the uncertainty that a hand calculation gives', () => {
    // Mean of two factors near 10.8; relative parts by hand: weighing 0.01/300, volume 0.002/27.8,
    // repeatability 0.1 ‰, each over √2; silver 0.02 ‰ and blank 0.002/27.8 for both alike.
    const standards = drifting(0, 2);
    const output = titrantFactor({ ...factorExample, standards, drift: 'none', times: [30] });
    const volume = 300 / 10.8;
    const own = Math.hypot(0.01 / 300, 0.002 / volume, 0.0001) / Math.SQRT2;
    const relative = Math.hypot(own, 0.00002, 0.002 / volume);
    expect(output.atTimes[0]?.standardUncertaintyMilligramsPerMillilitre).toBeCloseTo(
      10.8 * relative,
      10,
    );
  });

  it('compares with the making of the titrant', () => {
    const output = titrantFactor(factorExample);
    expect(output.expectedMilligramsPerMillilitre).toBeCloseTo(10.78682, 10);
    expect(
      titrantFactor({ ...factorExample, titrantMolesPerLitre: undefined } as never).words,
    ).not.toContain('was made to be');
  });

  it.each([
    [
      'a volume not above the blank',
      {
        blankMillilitres: 9,
        standards: drifting(0).map((one) => ({ ...one, volumeMillilitres: 9 })),
      },
      'a volume above the blank of 9 mL',
    ],
    [
      'a drift from standards of one time',
      { standards: drifting(0).map((one) => ({ ...one, minutes: 0 })) },
      'standards at two times or more',
    ],
    [
      'a spread that two standards with a drift cannot give',
      { drift: 'straight line' as const, repeatabilityPerMille: undefined },
      'a stated repeatability',
    ],
    ['a time outside the bracket', { times: [91] }, 'from the first standard at 0 min'],
  ])('refuses %s', (_, change, message) => {
    expect(() => titrantFactor({ ...factorExample, ...change } as never)).toThrow(message);
  });
});

describe('titration', () => {
  it('gives the uncertainty that a hand calculation gives', () => {
    // Example: one sample at the middle of two standards, so each has share 1/2.
    const output = titration(example);
    const w = output.meanFinenessPerMille;
    const own = w * Math.hypot(0.01 / 325.48, 0.002 / 27.905, 0.0001);
    const standard = (mass: number, volume: number) =>
      Math.hypot(0.01 / mass, 0.002 / volume, 0.0001) / 2;
    const shared = Math.hypot(
      w * Math.hypot(standard(301.25, 27.912), standard(300.87, 27.879)),
      w * 0.00002,
      w * 0.002 * (0.5 / 27.912 + 0.5 / 27.879 - 1 / 27.905),
    );
    const [one] = output.determinations;
    expect(one?.ownStandardUncertaintyPerMille).toBeCloseTo(own, 5);
    expect(one?.sharedStandardUncertaintyPerMille).toBeCloseTo(shared, 5);
    expect(output.standardUncertaintyPerMille).toBeCloseTo(Math.hypot(own, shared), 5);
    expect(output.budget.reduce((sum, line) => sum + line.sharePercent, 0)).toBeCloseTo(100, 9);
  });

  it('lets the own part fall with the number of samples and the shared part not', () => {
    const samples = Array.from({ length: 25 }, (_, i) => ({
      label: `A${i}`,
      minutes: 45,
      sampleMassMilligrams: 325.48,
      volumeMillilitres: 27.905,
    }));
    const many = titration({ ...example, samples });
    const one = titration(example).determinations[0];
    const expected = Math.hypot(
      (one?.ownStandardUncertaintyPerMille ?? 0) / 5,
      one?.sharedStandardUncertaintyPerMille ?? 0,
    );
    expect(many.standardUncertaintyPerMille).toBeCloseTo(expected, 10);
  });

  it('cancels a blank common to standards and samples of like volume', () => {
    const blank = titration(example).budget.find((line) => line.contribution === 'blank');
    expect(blank?.standardUncertaintyPerMille).toBeLessThan(1e-3);
  });

  it('takes the repeatability from the spread with its degrees of freedom', () => {
    const { repeatabilityPerMille, ...rest } = example;
    expect(repeatabilityPerMille).toBe(0.1);
    const output = titration({ ...rest, drift: 'none' } as TitrationInput);
    // Two factors: s is their difference over √2 and the mean; own and shared part s·√(1 + 1/2).
    const f = [301.25 / 27.912, 300.87 / 27.879] as const;
    const s = Math.abs(f[0] - f[1]) / Math.SQRT2 / ((f[0] + f[1]) / 2);
    const estimated = output.meanFinenessPerMille * s * Math.sqrt(1.5);
    expect(output.standardUncertaintyPerMille).toBeGreaterThan(estimated);
    const ratio = output.standardUncertaintyPerMille / estimated;
    expect(output.effectiveDegreesOfFreedom).toBeCloseTo(ratio ** 4, 6);
  });

  it('reports the scope and refuses more silver than sample', () => {
    const at = (sampleMassMilligrams: number) =>
      titration({
        ...example,
        samples: [{ label: 'A', minutes: 0, sampleMassMilligrams, volumeMillilitres: 27.9 }],
      });
    expect(at(301.2).scope).toBe('outside');
    expect(at(302).scope).toBe('inside');
    expect(() => at(280)).toThrow('so much silver was found in it');
  });
});
