import { z } from 'zod';
import { requireDomain } from '../quantity/domain.ts';
import type { Interval } from './global-risk.ts';

const greatest = 1e12;
const most = 'a number from -1e12 to 1e12';
const positive = 'a number above 0 and at most 1e12';
const open = 'a probability above 0 and below 1, such as 0.95';

export const anyFigure = () => z.number({ error: most }).min(-greatest, most).max(greatest, most);

export const positiveFigure = () =>
  z.number({ error: positive }).gt(0, positive).max(greatest, positive);

export const openProbability = () => z.number({ error: open }).gt(0, open).lt(1, open);

export const unitField = () =>
  z
    .string({ error: 'a unit, at most 30 characters' })
    .max(30, 'a unit, at most 30 characters')
    .meta({ title: 'Unit', description: 'Of value, uncertainty and limits alike' });

const limit = (title: string) =>
  anyFigure()
    .nullable()
    .meta({ title, description: 'Of what conforms; none where there is no such limit' });

/** Fields of a specification with one limit or two. */
export const limitFields = {
  lowerLimit: limit('Lower limit'),
  upperLimit: limit('Upper limit'),
};

export const standardUncertaintyField = () =>
  positiveFigure().meta({
    title: 'Standard uncertainty',
    description: 'Of the measured value, k = 1',
  });

export const freedomField = () =>
  z
    .number({ error: 'degrees of freedom of 1 or more, or none' })
    .min(1, 'degrees of freedom of 1 or more, or none')
    .max(1e9, 'degrees of freedom of at most 1e9')
    .nullable()
    .meta({ title: 'Degrees of freedom', description: 'None for the normal distribution' });

export const probabilityFigure = (title: string, description: string) =>
  z.number().min(0).max(1).meta({ title, description });

/** One or two limits with the lower one below the upper one. */
export function requireLimits(limits: {
  readonly lowerLimit: number | null;
  readonly upperLimit: number | null;
}): { readonly lower: number | null; readonly upper: number | null } {
  const { lowerLimit: lower, upperLimit: upper } = limits;
  requireDomain(lower !== null || upper !== null, {
    field: 'lowerLimit',
    value: 'none',
    accepted: 'at least one of a lower and an upper limit',
  });
  requireDomain(lower === null || upper === null || lower < upper, {
    field: 'lowerLimit',
    value: lower,
    accepted: `a lower limit below the upper limit ${upper}`,
  });
  return { lower, upper };
}

/** Limits moved inwards by a guard band, outwards by a negative one. */
export function movedLimits(
  limits: { readonly lower: number | null; readonly upper: number | null },
  guardBand: number,
): Interval {
  return {
    ...(limits.lower === null ? {} : { lower: limits.lower + guardBand }),
    ...(limits.upper === null ? {} : { upper: limits.upper - guardBand }),
  };
}

/** Limits in words: 'at least 916.6 ‰'. */
export function limitWords(
  limits: { readonly lower: number | null; readonly upper: number | null },
  unit: string,
): string {
  const { lower, upper } = limits;
  if (lower === null) return `at most ${upper} ${unit}`;
  return upper === null ? `at least ${lower} ${unit}` : `from ${lower} to ${upper} ${unit}`;
}
