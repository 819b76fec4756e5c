import { z } from 'zod';
import type { Refusal } from '../../../../journal/refusal.ts';
import { finenessSlip } from '../../../registers/index.ts';
import type { StatedPerMille } from './bodies.ts';

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

/** Refuses a fineness that is a percentage, a part of one or a number of carats beside the declared one. */
export function perMilleRefusals(
  text: string,
  of: {
    readonly melt: string;
    readonly field: string;
    readonly finenessDeclaredPartsPerMillion: number;
  },
): readonly Refusal[] {
  return finenessSlip({
    of: `Melt ${of.melt}`,
    field: of.field,
    finenessPerMille: Number(text),
    declaredPerMille: of.finenessDeclaredPartsPerMillion / 1000,
  });
}
