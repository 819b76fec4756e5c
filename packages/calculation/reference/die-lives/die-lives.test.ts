import { describe, expect, it } from 'vitest';
import { dieFamilyComparison } from '../../src/dies/die-family-comparison.ts';
import { type DieLife, riskTable } from '../../src/dies/die-life.ts';
import { dieLifeWeibull } from '../../src/dies/die-life-weibull.ts';
import { dieSurvival } from '../../src/dies/die-survival.ts';
import { lognormalFit } from '../../src/dies/lognormal-fit.ts';
import values from './values.json' with { type: 'json' };

const livesOf = (id: string): DieLife[] => {
  const found = values.sets.find((one) => one.id === id);
  if (!found) throw new Error(`no lives ${id}`);
  return found.lives as DieLife[];
};

function expectClose(found: number, expected: number, relative: number, what = ''): void {
  expect(Math.abs(found / expected - 1), what).toBeLessThan(relative);
}

describe('Weibull lives', () => {
  it.each(values.sets)(
    '$id: parameters, moments and standard errors of R',
    ({ lives, weibull }) => {
      const found = dieLifeWeibull({ lives: lives as DieLife[], confidence: 0.95, risk: 0.1 });
      expectClose(found.scaleStrikes, weibull.eta, 1e-6, 'scale');
      expectClose(found.shape, weibull.beta, 1e-6, 'shape');
      expectClose(found.logLikelihood, weibull.loglik, 1e-9, 'log-likelihood');
      expectClose(found.akaikeWeibull, weibull.aic, 1e-8, 'criterion');
      expectClose(found.meanStrikes, weibull.mean, 1e-6, 'mean');
      expectClose(found.standardDeviationStrikes, weibull.sd, 1e-6, 'standard deviation');
      expectClose(found.lifeAtRiskStrikes, weibull.B10, 1e-6, 'life at 10 %');
      expectClose(found.logScaleStandardError, weibull.se_log_eta, 3e-5, 'error of scale');
      expectClose(found.logShapeStandardError, weibull.se_log_scale, 3e-5, 'error of shape');
    },
  );

  it('print as the NIST handbook prints them', () => {
    const published = values.sets.find((one) => one.id === 'nist')?.published;
    const found = dieLifeWeibull({ lives: livesOf('nist'), confidence: 0.95, risk: 0.1 });
    const shown: [number, number | undefined, number][] = [
      [found.scaleStrikes, published?.['eta, hours'], 3],
      [found.shape, published?.beta, 4],
      [found.logLikelihood, published?.['log-likelihood'], 3],
      [found.akaikeWeibull, published?.['AIC Weibull'], 2],
      [found.akaikeLognormal, published?.['AIC lognormal'], 2],
      [found.meanStrikes, published?.['mean life, hours'], 3],
      [found.standardDeviationStrikes, published?.['SD of life, hours'], 3],
    ];
    for (const [value, expected, places] of shown) {
      expect(Math.abs(value - (expected ?? Number.NaN))).toBeLessThanOrEqual(0.5 * 10 ** -places);
    }
  });
});

describe('lognormal lives', () => {
  const fitted = values.sets.filter((one) => one.lognormal !== undefined);
  it.each(fitted)('$id: parameters of R', ({ lives, lognormal }) => {
    const found = lognormalFit(riskTable(lives as DieLife[]));
    expectClose(found.logMean, lognormal?.mu ?? Number.NaN, 1e-6);
    expectClose(found.logStandardDeviation, lognormal?.sigma ?? Number.NaN, 1e-6);
    if (lognormal && 'loglik' in lognormal && lognormal.loglik !== undefined) {
      expectClose(found.logLikelihood, lognormal.loglik, 1e-9);
    }
  });
  it('were found in three sets', () => expect(fitted).toHaveLength(3));
});

describe('survival curves', () => {
  const curves = values.sets.filter((one) => one.kaplanMeier !== undefined);
  it.each(curves)('$id: every step of R', ({ lives, kaplanMeier, median }) => {
    const found = dieSurvival({ lives: lives as DieLife[], confidence: 0.95, interval: 'plain' });
    expect(found.steps.map((step) => step.lifeStrikes)).toEqual(kaplanMeier?.time);
    expect(found.steps.map((step) => step.atRiskDies)).toEqual(kaplanMeier?.n_risk);
    expect(found.steps.map((step) => step.failedDies)).toEqual(kaplanMeier?.n_event);
    for (const [index, step] of found.steps.entries()) {
      expect(step.survival).toBeCloseTo(kaplanMeier?.survival[index] ?? Number.NaN, 11);
      const error = kaplanMeier?.std_err_greenwood[index];
      if (error === null) expect(step.standardError).toBeNull();
      else expect(step.standardError).toBeCloseTo(error ?? Number.NaN, 11);
    }
    expect(found.medianStrikes).toBe(median);
  });
  it('were found in two sets', () => expect(curves).toHaveLength(2));
});

describe('families', () => {
  const [aml, springs] = values.comparisons;

  it('aml: log-rank and Weibull regression of R', () => {
    const found = dieFamilyComparison({
      families: (aml?.ids ?? []).map((id) => ({ family: id, lives: livesOf(id) })),
      confidence: 0.95,
    });
    expectClose(found.chiSquare, aml?.logrankChiSquare ?? Number.NaN, 1e-10);
    expectClose(found.probability, aml?.logrankProbability ?? Number.NaN, 1e-10);
    const [first, second] = found.families.map((one) => Math.log(one.scaleStrikes ?? Number.NaN));
    expectClose(first ?? Number.NaN, aml?.regression?.intercept ?? Number.NaN, 1e-7);
    expectClose(
      (second ?? Number.NaN) - (first ?? Number.NaN),
      aml?.regression?.second ?? Number.NaN,
      1e-6,
    );
    expectClose(1 / (found.commonShape ?? Number.NaN), aml?.regression?.scale ?? Number.NaN, 1e-6);
    expectClose(
      found.commonShapeLogLikelihood ?? Number.NaN,
      aml?.regression?.loglik ?? Number.NaN,
      1e-8,
    );
  });

  it('springs: common shape of R', () => {
    const found = dieFamilyComparison({
      families: (springs?.ids ?? []).map((id) => ({ family: id, lives: livesOf(id) })),
      confidence: 0.95,
    });
    expectClose(found.commonShape ?? Number.NaN, springs?.commonShape ?? Number.NaN, 1e-6);
    expectClose(found.commonShapeLogLikelihood ?? Number.NaN, springs?.loglik ?? Number.NaN, 1e-8);
    expect(found.degreesOfFreedom).toBe(5);
  });
});
