import { z } from 'zod';
import { type Refusal, refuse } from '../../../../journal/refusal.ts';
import type { StatedPerMille } from './bodies.ts';
import { reportedRefusals } from './refusals.ts';

const decimals = /^\d{1,4}(\.\d{1,6})?$/;

/** A schema for a figure in ‰ as its document writes it: above 0, with its decimals. */
export function perMilleText(what: string, greatestPerMille: number) {
  const accepted = `${what} above 0 and at most ${greatestPerMille} ‰, with a decimal point, such as ${greatestPerMille === 1000 ? '916.85' : '0.30'}`;
  return z
    .string(accepted)
    .regex(decimals, accepted)
    .refine((text) => Number(text) > 0 && Number(text) <= greatestPerMille, { error: accepted });
}

export const stated = (text: string): StatedPerMille => ({ text, perMille: Number(text) });

/** How far from its declared fineness metal can still be what the portion was taken from, in ‰. */
const nearPerMille = 100;

/** The other ways of writing a fineness, each with the factor that makes it ‰. */
const otherForms = [
  { form: 'a percentage', factor: 10 },
  { form: 'a part of one', factor: 1000 },
] as const;

/** Refuses a fineness that fits the declared one only when it is read as another unit. */
export function perMilleRefusals(
  text: string,
  of: { readonly field: string; readonly finenessDeclaredPartsPerMillion: number },
): readonly Refusal[] {
  const declaredPerMille = of.finenessDeclaredPartsPerMillion / 1000;
  const isNear = (value: number) =>
    value <= 1000 && Math.abs(value - declaredPerMille) <= nearPerMille;
  const value = Number(text);
  if (isNear(value)) return [];
  const meant = otherForms.find(({ factor }) => isNear(value * factor));
  if (!meant) return [];
  const perMille = Number((value * meant.factor).toPrecision(9));
  return [
    refuse(reportedRefusals, 'FinenessNotPerMille', {
      message: `${text} ‰ is far from the declared ${declaredPerMille} ‰; as ${meant.form} it would be ${perMille} ‰.`,
      field: of.field,
      figures: { text, perMille, declaredPerMille },
    }),
  ];
}
