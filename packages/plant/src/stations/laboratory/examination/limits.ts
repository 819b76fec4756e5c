import { z } from 'zod';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import { titleSchema } from '../../registers/index.ts';
import { examinationRefusals } from './refusals.ts';

/** Limits with what sets them. */
export const setLimits = z.strictObject({
  least: z.number().nullable(),
  greatest: z.number().nullable(),
  /** The piece standard, or the order by its name. */
  setBy: z.string(),
});

export type SetLimits = z.infer<typeof setLimits>;

/** Limits of an order, where the piece standard sets none. */
export const orderedLimits = (range: {
  readonly least: number;
  readonly greatest: number;
  readonly unit: string;
}) => {
  const accepted = `a number from ${range.least} to ${range.greatest}`;
  const limit = z
    .number(accepted)
    .min(range.least, accepted)
    .max(range.greatest, accepted)
    .nullable();
  const { unit } = range;
  return z
    .strictObject({
      least: limit.meta({ title: 'Least', description: 'Nothing for none.', unit }),
      greatest: limit.meta({ title: 'Greatest', description: 'Nothing for none.', unit }),
      order: titleSchema.meta({ title: 'Order', description: 'That sets the limits.' }),
    })
    .refine(({ least, greatest }) => least !== null || greatest !== null, {
      error: 'at least one limit',
    })
    .refine(({ least, greatest }) => least === null || greatest === null || least <= greatest, {
      error: 'a least limit that is not above the greatest',
    })
    .optional()
    .meta({ title: 'Limits of the order', description: 'Where the piece standard sets none.' });
};

interface OrderedLimits {
  readonly least: number | null;
  readonly greatest: number | null;
  readonly order: string;
}

/** The limits that a finding is held to: of the piece standard, else of the order, else none. */
export function limitsHeld(
  standard: {
    readonly pieceStandard: string;
    readonly least: number | undefined;
    readonly greatest: number | undefined;
  },
  ordered: OrderedLimits | undefined,
): { readonly limits: SetLimits | null } | { readonly refusals: readonly Refusal[] } {
  const { pieceStandard, least, greatest } = standard;
  const isSet = least !== undefined || greatest !== undefined;
  if (!isSet) {
    if (!ordered) return { limits: null };
    const { order: setBy, ...limits } = ordered;
    return { limits: { ...limits, setBy } };
  }
  const limits = { least: least ?? null, greatest: greatest ?? null, setBy: pieceStandard };
  if (!ordered) return { limits };
  const refusal = refuse(examinationRefusals, 'LimitsAlreadySet', {
    message: `${pieceStandard} sets the limits itself: ${least ?? 'none'} to ${greatest ?? 'none'}.`,
    field: 'orderedLimits',
    figures: { pieceStandard, least: limits.least, greatest: limits.greatest },
  });
  return { refusals: [refusal] };
}
