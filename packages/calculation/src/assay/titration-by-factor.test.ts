import { describe, expect, it } from 'vitest';
import { titrantFactor } from './titrant-factor.ts';
import { titration, titrationCalculation } from './titration.ts';
import { titrationByFactor, titrationByFactorCalculation } from './titration-by-factor.ts';

const { example } = titrationByFactorCalculation;

describe('titrationByFactor', () => {
  it('finds what the standards of a run find, where the factor is theirs', () => {
    const run = { ...titrationCalculation.example, drift: 'none' as const };
    const factor = titrantFactor({ ...run, times: [0] }).atTimes[0];
    const bySamples = titration(run);
    const byFactor = titrationByFactor({
      ...example,
      factorMilligramsPerMillilitre: factor?.factorMilligramsPerMillilitre ?? 0,
      factorStandardUncertaintyMilligramsPerMillilitre:
        factor?.standardUncertaintyMilligramsPerMillilitre ?? 0,
    });
    expect(byFactor.meanFinenessPerMille).toBeCloseTo(bySamples.meanFinenessPerMille, 10);
    const [own, ofRun] = [byFactor.determinations[0], bySamples.determinations[0]];
    expect(own?.ownStandardUncertaintyPerMille).toBeCloseTo(
      ofRun?.ownStandardUncertaintyPerMille ?? 0,
      10,
    );
    // The blank that both hold does not cancel here, so that the shared part is the larger one.
    expect(own?.sharedStandardUncertaintyPerMille).toBeGreaterThan(
      ofRun?.sharedStandardUncertaintyPerMille ?? 0,
    );
  });

  it('gives the uncertainty that a hand calculation gives', () => {
    const output = titrationByFactor({ ...example, factorDegreesOfFreedom: 4 });
    const w = (10.79242 * 27.905 * 1000) / 325.48;
    const own = w * Math.hypot(0.01 / 325.48, 0.002 / 27.905, 0.0001);
    const factor = (w * 0.0011) / 10.79242;
    const combined = Math.hypot(own, factor, (w * 0.002) / 27.905);
    expect(output.meanFinenessPerMille).toBeCloseTo(w, 9);
    expect(output.standardUncertaintyPerMille).toBeCloseTo(combined, 9);
    expect(output.effectiveDegreesOfFreedom).toBeCloseTo(4 * (combined / factor) ** 4, 6);
    expect(output.budget.reduce((sum, line) => sum + line.sharePercent, 0)).toBeCloseTo(100, 9);
  });

  it('lets the own part fall with the portions, and the factor not', () => {
    const samples = Array.from({ length: 100 }, (_, index) => ({
      ...(example.samples[0] as (typeof example.samples)[number]),
      label: `A${index}`,
    }));
    const [one, many] = [titrationByFactor(example), titrationByFactor({ ...example, samples })];
    const part = (output: typeof one, name: string) =>
      output.budget.find((line) => line.contribution === name)?.standardUncertaintyPerMille ?? 0;
    expect(part(many, 'volumes of the samples')).toBeCloseTo(
      part(one, 'volumes of the samples') / 10,
      12,
    );
    expect(part(many, 'factor of the titrant')).toBeCloseTo(part(one, 'factor of the titrant'), 12);
  });

  it.each([
    [
      'a volume not above the blank',
      {
        blankMillilitres: 10,
        samples: [{ label: 'A', sampleMassMilligrams: 300, volumeMillilitres: 9 }],
      },
      'a volume above the blank of 10 mL',
    ],
    [
      'more silver than the sample weighs',
      { samples: [{ label: 'A', sampleMassMilligrams: 290, volumeMillilitres: 27.905 }] },
      'a sample of 301.16',
    ],
  ])('refuses %s', (_, change, message) => {
    expect(() => titrationByFactor({ ...example, ...change })).toThrow(message);
  });

  it('says when the result lies outside the scope', () => {
    const samples = [{ label: 'A', sampleMassMilligrams: 301, volumeMillilitres: 27.905 }];
    const output = titrationByFactor({ ...example, samples });
    expect(output.scope).toBe('outside');
    expect(output.words).toContain('report by difference');
  });
});
