import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { probabilityText } from '../quantity/probability-text.ts';
import { confidenceLevel, dieLives, figure, riskTable } from './die-life.ts';
import { lifeRisk } from './die-life-weibull-schema.ts';
import { weibullData, weibullFit } from './weibull-fit.ts';
import { lifeAtRisk, lifeAtRiskInterval } from './weibull-profile.ts';

const strikes = 'a number of strikes above 0 and at most 1000000000000';
const shape = 'a shape from 0.05 to 100';
const age = 'a number of strikes from 0 to 1000000000000';

/** A Weibull life that is known, as other calculations take it too. */
const knownLife = z.strictObject({
  from: z.literal('known life').meta({ title: 'Life from' }),
  scaleStrikes: z.number(strikes).positive(strikes).max(1e12, strikes).meta({
    title: 'Scale',
    description: 'Life that 63.2 % of the dies do not outlive',
    unit: 'strikes',
  }),
  shape: z.number(shape).min(0.05, shape).max(100, shape).meta({ title: 'Shape' }),
});

/** A Weibull life that is to be fitted. */
const fittedLife = z.strictObject({
  from: z.literal('lives').meta({ title: 'Life from' }),
  lives: dieLives.meta({ title: 'Lives of like dies' }),
});

export const lifeSource = z.discriminatedUnion('from', [knownLife, fittedLife], {
  error: 'a known life with scale and shape, or the lives of like dies',
});

export const dieRemainingLifeInput = z.strictObject({
  life: lifeSource.meta({ title: 'Life of such dies' }),
  ageStrikes: z.number(age).min(0, age).max(1e12, age).meta({
    title: 'Strikes made so far',
    description: 'By the die in question; 0 for a new one',
    unit: 'strikes',
  }),
  risk: lifeRisk,
  plannedStrikes: z
    .number(strikes)
    .positive(strikes)
    .max(1e12, strikes)
    .optional()
    .meta({ title: 'Strikes planned', description: 'None leaves them unjudged', unit: 'strikes' }),
  confidence: confidenceLevel,
});

export type DieRemainingLifeInput = z.infer<typeof dieRemainingLifeInput>;

export const dieRemainingLifeOutput = z.strictObject({
  scaleStrikes: z.number().meta({ title: 'Scale', unit: 'strikes' }),
  shape: z.number().meta({ title: 'Shape' }),
  survivalToAge: z.number().meta({ title: 'Share of dies that reach this age' }),
  remainingStrikes: z.number().meta({
    title: 'Further strikes at the stated risk',
    description: 'Before which the die fails with that probability',
    unit: 'strikes',
  }),
  lowerRemainingStrikes: z.number().nullable().meta({
    title: 'Their lower end',
    description: 'None when the life is taken as known',
    unit: 'strikes',
  }),
  upperRemainingStrikes: z.number().nullable().meta({
    title: 'Their upper end',
    description: 'None when the life is taken as known',
    unit: 'strikes',
  }),
  medianRemainingStrikes: z
    .number()
    .meta({ title: 'Median of the further strikes', unit: 'strikes' }),
  plannedFailureProbability: z.number().nullable().meta({
    title: 'Probability of failing within the strikes planned',
    description: 'None when no strikes are planned',
  }),
  words: z.string().meta({ title: 'In words' }),
});

export type DieRemainingLifeOutput = z.infer<typeof dieRemainingLifeOutput>;

/** Probability that a die of an age fails within so many further strikes. */
function failureWithin(
  life: { readonly scaleStrikes: number; readonly shape: number },
  ageStrikes: number,
  furtherStrikes: number,
): number {
  const reached = (ageStrikes / life.scaleStrikes) ** life.shape;
  if (ageStrikes === 0) return -Math.expm1(-((furtherStrikes / life.scaleStrikes) ** life.shape));
  // The growth of the hazard without the difference of two nearly equal powers.
  const growth = reached * Math.expm1(life.shape * Math.log1p(furtherStrikes / ageStrikes));
  return -Math.expm1(-growth);
}

function remainingWords(
  input: DieRemainingLifeInput,
  output: Omit<DieRemainingLifeOutput, 'words'>,
): string {
  const low = output.lowerRemainingStrikes;
  const bound =
    low === null
      ? ' The life is taken as known; its own uncertainty is not included.'
      : ` The lives from which this was found allow ${figure(low)} to ${output.upperRemainingStrikes === null ? 'any number of' : figure(output.upperRemainingStrikes)} strikes at ${figure(100 * input.confidence)} %: plan by the lower figure.`;
  const planned =
    output.plannedFailureProbability === null
      ? ''
      : ` It fails within the ${figure(input.plannedStrikes ?? 0)} strikes planned with probability ${probabilityText(output.plannedFailureProbability)}.`;
  return `After ${figure(input.ageStrikes)} strikes the die makes ${figure(output.remainingStrikes)} more before it fails with probability ${figure(input.risk)}; with even chances ${figure(output.medianRemainingStrikes)} more.${planned}${bound}`;
}

/**
 * Remaining life of a die: how many further strikes it makes before it fails with a stated risk.
 * The figure is also the number of strikes after which to look at it again.
 *
 * Formula: S(a + t)/S(a) = 1 − risk with a Weibull life, a the strikes made so far. Known life: scale
 * and shape as given. Lives: fitted by maximum likelihood, interval by profile likelihood of t itself.
 *
 * @param input life known or to be fitted; age from 0 strikes; risk from 0.000001 to 0.999999
 * @returns further strikes at the risk with interval, median, probability for the strikes planned
 * @throws DomainError when lives are given of which none failed before the longest
 * Validity: one kind of die in one service, failing by wear as the Weibull life says; a die known to
 * be damaged is not such a die. Known life: exact. Lives: as `lifeAtRiskInterval`.
 * Source: W. Q. Meeker and L. A. Escobar (1998), Statistical Methods for Reliability Data, 4.8 and 8.3
 * @example dieRemainingLife({ life: { from: 'known life', scaleStrikes: 100000, shape: 1 },
 *   ageStrikes: 70000, risk: 0.5, confidence: 0.95 }).remainingStrikes // 69314.718056
 */
export function dieRemainingLife(input: DieRemainingLifeInput): DieRemainingLifeOutput {
  const at = { ageStrikes: input.ageStrikes, risk: input.risk };
  const data = input.life.from === 'lives' ? weibullData(riskTable(input.life.lives)) : null;
  const fit = data === null ? null : weibullFit(data);
  const life =
    input.life.from === 'known life' ? input.life : (fit ?? { scaleStrikes: 1, shape: 1 });
  const interval =
    data && fit
      ? lifeAtRiskInterval(data, fit, at, input.confidence)
      : { lower: null, upper: null };
  const output = {
    scaleStrikes: life.scaleStrikes,
    shape: life.shape,
    survivalToAge: Math.exp(-((input.ageStrikes / life.scaleStrikes) ** life.shape)),
    remainingStrikes: lifeAtRisk(life, at),
    lowerRemainingStrikes: interval.lower,
    upperRemainingStrikes: interval.upper,
    medianRemainingStrikes: lifeAtRisk(life, { ...at, risk: 0.5 }),
    plannedFailureProbability:
      input.plannedStrikes === undefined
        ? null
        : failureWithin(life, input.ageStrikes, input.plannedStrikes),
  };
  return { ...output, words: remainingWords(input, output) };
}

const curvePoints = 80;

function drawDieRemainingLife(
  input: DieRemainingLifeInput,
  output: DieRemainingLifeOutput,
): Chart[] {
  const reach = 2.5 * output.medianRemainingStrikes;
  const x = Array.from({ length: curvePoints + 1 }, (_, index) => (reach * index) / curvePoints);
  return [
    {
      kind: 'chart',
      title: 'Probability that the die has failed',
      xTitle: 'Further strikes',
      yTitle: 'Probability',
      series: [
        {
          label: 'failed',
          kind: 'line',
          x,
          y: x.map((further) => failureWithin(output, input.ageStrikes, further)),
        },
      ],
      marks: [{ x: output.remainingStrikes, label: 'at the risk' }],
      levels: [{ y: input.risk, label: 'risk' }],
    },
  ];
}

export const dieRemainingLifeCalculation = defineCalculation<
  DieRemainingLifeInput,
  DieRemainingLifeOutput
>({
  id: 'die-remaining-life',
  version: 1,
  topic: 'dies',
  title: 'Remaining life of a die',
  purpose:
    'Says how many further strikes a die makes before it fails with a stated risk, and when to look at it again.',
  source:
    'W. Q. Meeker and L. A. Escobar (1998), Statistical Methods for Reliability Data, 4.8 and 8.3',
  input: dieRemainingLifeInput,
  output: dieRemainingLifeOutput,
  // Lives of the NIST/SEMATECH e-Handbook, 8.2.2.1, hours read as strikes; age and risk chosen.
  example: {
    life: {
      from: 'lives',
      lives: [
        ...[54, 187, 216, 240, 244, 335, 361, 373, 375, 386].map((lifeStrikes) => ({
          lifeStrikes,
          end: 'failed' as const,
        })),
        { lifeStrikes: 500, end: 'censored', countDies: 10 },
      ],
    },
    ageStrikes: 300,
    risk: 0.1,
    plannedStrikes: 100,
    confidence: 0.9,
  },
  compute: dieRemainingLife,
  draw: drawDieRemainingLife,
});
