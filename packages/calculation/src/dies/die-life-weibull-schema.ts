import { z } from 'zod';
import { confidenceLevel, dieLives } from './die-life.ts';

const riskAccepted = 'a risk from 0.000001 to 0.999999';

/** The risk at which a life is asked for. */
export const lifeRisk = z
  .number(riskAccepted)
  .min(1e-6, riskAccepted)
  .max(0.999999, riskAccepted)
  .meta({ title: 'Risk', description: 'Share of dies that fail before the life asked for' });

export const dieLifeWeibullInput = z.strictObject({
  lives: dieLives.meta({ title: 'Lives of the dies' }),
  confidence: confidenceLevel,
  risk: lifeRisk,
});

const ends = (title: string, unit?: string) => {
  const end = (side: string) =>
    z
      .number()
      .nullable()
      .meta({
        title: `${title}, ${side} end`,
        description: 'Profile likelihood; none where the lives set no end',
        ...(unit === undefined ? {} : { unit }),
      });
  return z.strictObject({ lower: end('lower'), upper: end('upper') });
};

const strikes = (title: string, description?: string) =>
  z
    .number()
    .meta({ title, unit: 'strikes', ...(description === undefined ? {} : { description }) });

export const dieLifeWeibullOutput = z.strictObject({
  scaleStrikes: strikes('Scale', 'Life that 63.2 % of the dies do not outlive'),
  scaleInterval: ends('Scale', 'strikes'),
  shape: z.number().meta({
    title: 'Shape',
    description: 'Above 1 the risk of failing rises with the strikes made, below 1 it falls',
  }),
  shapeInterval: ends('Shape'),
  lifeAtRiskStrikes: strikes('Life at the stated risk'),
  lifeAtRiskInterval: ends('Life at the stated risk', 'strikes'),
  meanStrikes: strikes('Mean life'),
  standardDeviationStrikes: strikes('Standard deviation of the life'),
  medianStrikes: strikes('Median life'),
  logScaleStandardError: z.number().meta({
    title: 'Standard error of ln(scale)',
    description: 'From the observed information',
  }),
  logShapeStandardError: z.number().meta({
    title: 'Standard error of ln(shape)',
    description: 'From the observed information',
  }),
  logLikelihood: z.number().meta({ title: 'Log-likelihood' }),
  akaikeWeibull: z.number().meta({
    title: 'Akaike criterion of the Weibull life',
    description: 'Smaller is better; a difference below 2 decides nothing',
  }),
  akaikeLognormal: z.number().meta({ title: 'Akaike criterion of a lognormal life' }),
  akaikeExponential: z.number().meta({ title: 'Akaike criterion of a life without ageing' }),
  ageingProbability: z.number().meta({
    title: 'Probability of a likelihood ratio as large when dies do not age',
    description: 'Small when the shape differs from 1',
  }),
  failedDies: z.int().meta({ title: 'Dies that failed', unit: 'dies' }),
  totalDies: z.int().meta({ title: 'Dies in all', unit: 'dies' }),
  words: z.string().meta({ title: 'In words' }),
});

export type DieLifeWeibullInput = z.infer<typeof dieLifeWeibullInput>;
export type DieLifeWeibullOutput = z.infer<typeof dieLifeWeibullOutput>;
