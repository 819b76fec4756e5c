import gammaln from '@stdlib/math-base-special-gammaln';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { upperChiSquareProbability } from '../quantity/chi-square.ts';
import { figure, riskTable } from './die-life.ts';
import {
  type DieLifeWeibullInput,
  type DieLifeWeibullOutput,
  dieLifeWeibullInput,
  dieLifeWeibullOutput,
} from './die-life-weibull-schema.ts';
import { dieSurvival, survivalSeries } from './die-survival.ts';
import { lognormalFit } from './lognormal-fit.ts';
import { shapeLogLikelihood, weibullData, weibullFit } from './weibull-fit.ts';
import {
  lifeAtRisk,
  lifeAtRiskInterval,
  type ProfileInterval,
  shapeInterval,
} from './weibull-profile.ts';

export {
  type DieLifeWeibullInput,
  type DieLifeWeibullOutput,
  dieLifeWeibullInput,
  dieLifeWeibullOutput,
} from './die-life-weibull-schema.ts';

/** The scale is the life at this risk, 1 − 1/e. */
const scaleRisk = -Math.expm1(-1);

/** Mean and standard deviation of a Weibull life in strikes. */
export function weibullMoments(life: { readonly scaleStrikes: number; readonly shape: number }): {
  readonly meanStrikes: number;
  readonly standardDeviationStrikes: number;
} {
  const first = gammaln(1 + 1 / life.shape);
  const second = gammaln(1 + 2 / life.shape);
  return {
    meanStrikes: life.scaleStrikes * Math.exp(first),
    // Variance as mean²·(Γ(1 + 2/β)/Γ(1 + 1/β)² − 1), without the difference of two large squares.
    standardDeviationStrikes:
      life.scaleStrikes * Math.exp(first) * Math.sqrt(Math.expm1(second - 2 * first)),
  };
}

function range(interval: ProfileInterval): string {
  if (interval.lower === null && interval.upper === null) return 'no bounds';
  if (interval.upper === null) return `at least ${figure(interval.lower ?? 0)}`;
  if (interval.lower === null) return `at most ${figure(interval.upper)}`;
  return `${figure(interval.lower)} to ${figure(interval.upper)}`;
}

function weibullWords(
  input: DieLifeWeibullInput,
  output: Omit<DieLifeWeibullOutput, 'words'>,
): string {
  const level = `${figure(100 * input.confidence)} %`;
  const ageing =
    output.ageingProbability > 1 - input.confidence
      ? 'The lives do not show whether the risk of failing changes with the strikes made.'
      : output.shape > 1
        ? 'The risk of failing rises with the strikes made: the dies wear out.'
        : 'The risk of failing falls with the strikes made: weak dies fail early.';
  const lognormal =
    output.akaikeLognormal < output.akaikeWeibull - 2
      ? ' A lognormal life fits these dies better.'
      : '';
  return `${figure(100 * input.risk)} % of the dies fail before ${figure(output.lifeAtRiskStrikes)} strikes (${range(output.lifeAtRiskInterval)} at ${level}); half before ${figure(output.medianStrikes)}. Shape ${figure(output.shape)} (${range(output.shapeInterval)}), from ${output.failedDies} failures among ${output.totalDies} dies. ${ageing}${lognormal}`;
}

/**
 * Weibull life of dies: scale, shape and the life at a stated risk, with intervals, from dies that
 * failed and dies that did not.
 *
 * Formula: S(t) = exp(−(t/η)ᵝ), by maximum likelihood (see `weibullFit`). Intervals of scale, shape
 * and life at risk by profile likelihood; standard errors of ln η and ln β from the observed
 * information. Ageing: likelihood ratio against shape 1, chi-square with one degree of freedom.
 * Akaike criterion 2·(number of parameters) − 2·log-likelihood, for three kinds of life.
 *
 * @param input 1 to 100 000 lives above 0 strikes, each failed or censored; confidence from 0.5 to
 *   0.999; risk from 0.000001 to 0.999999
 * @returns lives in strikes with intervals, shape, moments, criteria; nothing rounded but the words
 * @throws DomainError when no die failed before the longest life
 * Validity: estimates to 1e-12; interval ends to 1e-8. Profile intervals cover within about two
 * percent of what they state from ten failures (simulated in laws/dies) and reach lower risks than the
 * lives themselves only as far as the Weibull form holds. See reference/die-lives.
 * Source: W. Q. Meeker and L. A. Escobar (1998), Statistical Methods for Reliability Data, chapter 8;
 * NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.1.3
 * @example dieLifeWeibull({ lives: [{ lifeStrikes: 1, end: 'failed' }, { lifeStrikes: 2, end: 'failed' }],
 *   confidence: 0.95, risk: 0.1 }).shape // 3.4615408
 */
export function dieLifeWeibull(input: DieLifeWeibullInput): DieLifeWeibullOutput {
  const rows = riskTable(input.lives);
  const data = weibullData(rows);
  const fit = weibullFit(data);
  const at = { ageStrikes: 0, risk: input.risk };
  const scaleInterval = lifeAtRiskInterval(
    data,
    fit,
    { ageStrikes: 0, risk: scaleRisk },
    input.confidence,
  );
  const exponential = shapeLogLikelihood(data, 1);
  const ratio = Math.max(0, 2 * (fit.logLikelihood - exponential));
  const output = {
    scaleStrikes: fit.scaleStrikes,
    scaleInterval,
    shape: fit.shape,
    shapeInterval: shapeInterval(data, fit, input.confidence),
    lifeAtRiskStrikes: lifeAtRisk(fit, at),
    lifeAtRiskInterval: lifeAtRiskInterval(data, fit, at, input.confidence),
    ...weibullMoments(fit),
    medianStrikes: lifeAtRisk(fit, { ageStrikes: 0, risk: 0.5 }),
    logScaleStandardError: fit.logScaleStandardError,
    logShapeStandardError: fit.logShapeStandardError,
    logLikelihood: fit.logLikelihood,
    akaikeWeibull: 4 - 2 * fit.logLikelihood,
    akaikeLognormal: 4 - 2 * lognormalFit(rows).logLikelihood,
    akaikeExponential: 2 - 2 * exponential,
    ageingProbability: upperChiSquareProbability(ratio, 1),
    failedDies: data.failures,
    totalDies: rows[0]?.atRiskDies ?? 0,
  };
  return { ...output, words: weibullWords(input, output) };
}

const curvePoints = 80;

function drawDieLifeWeibull(input: DieLifeWeibullInput, output: DieLifeWeibullOutput): Chart[] {
  const seen = dieSurvival({ ...input, interval: 'log-log' });
  const longest = seen.steps.at(-1)?.lifeStrikes ?? output.scaleStrikes;
  const x = Array.from({ length: curvePoints + 1 }, (_, index) => (longest * index) / curvePoints);
  return [
    {
      kind: 'chart',
      title: 'Share of dies that outlive a number of strikes',
      xTitle: 'Strikes',
      yTitle: 'Share surviving',
      series: [
        survivalSeries(seen.steps, 'dies'),
        {
          label: 'Weibull',
          kind: 'line',
          x,
          y: x.map((t) => Math.exp(-((t / output.scaleStrikes) ** output.shape))),
        },
      ],
      marks: [{ x: output.lifeAtRiskStrikes, label: `risk ${figure(100 * input.risk)} %` }],
    },
  ];
}

export const dieLifeWeibullCalculation = defineCalculation<
  DieLifeWeibullInput,
  DieLifeWeibullOutput
>({
  id: 'die-life-weibull',
  version: 1,
  topic: 'dies',
  title: 'Weibull life of dies',
  purpose:
    'Fits a Weibull life to dies that failed and dies still serving, and says how many strikes a die may make at a stated risk, with intervals.',
  source:
    'W. Q. Meeker and L. A. Escobar (1998), Statistical Methods for Reliability Data, chapter 8; NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.1.3',
  input: dieLifeWeibullInput,
  output: dieLifeWeibullOutput,
  // NIST/SEMATECH e-Handbook, 8.2.2.1: twenty units, ten failed, hours read as strikes; scale 606.53,
  // shape 1.7208.
  example: {
    lives: [
      ...[54, 187, 216, 240, 244, 335, 361, 373, 375, 386].map((lifeStrikes) => ({
        lifeStrikes,
        end: 'failed' as const,
      })),
      { lifeStrikes: 500, end: 'censored', countDies: 10 },
    ],
    confidence: 0.95,
    risk: 0.1,
  },
  compute: dieLifeWeibull,
  draw: drawDieLifeWeibull,
});
