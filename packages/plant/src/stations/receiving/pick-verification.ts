import { z } from 'zod';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { idSchema, reasonSchema } from '../registers/index.ts';
import { pickRefusals } from './pick-refusals.ts';

/** What was scanned at the drums when picks were taken, and why not all. */
export const verificationField = z.strictObject({
  scanned: z
    .array(idSchema, 'a list of picks')
    .max(100_000, 'at most 100000 picks')
    .meta({ title: 'Scanned', description: 'The picks whose codes were scanned.' }),
  reason: reasonSchema.nullable().meta({
    title: 'Why not all',
    description: 'Why some could not be scanned; nothing where all were.',
  }),
});

type Verification = z.infer<typeof verificationField>;

interface Pick {
  readonly blank: string;
}

/** The picks that were not scanned, in their order. */
export function notScanned(
  verification: Verification | undefined,
  picks: readonly Pick[],
): readonly string[] {
  const scanned = new Set(verification?.scanned);
  return picks.map(({ blank }) => blank).filter((blank) => !scanned.has(blank));
}

const shownMissing = 6;

/** Refuses scans of no pick, and picks that were not scanned without a reason. */
export function verificationRefusals(
  input: { readonly melt: string; readonly verification?: Verification | undefined },
  picks: readonly Pick[],
): readonly Refusal[] {
  const { verification, melt } = input;
  if (!verification) return [];
  const known = new Set(picks.map(({ blank }) => blank));
  const unknown = verification.scanned.flatMap((blank, index) =>
    known.has(blank)
      ? []
      : refuse(pickRefusals, 'PickUnknown', {
          message: `${blank} is no pick of melt ${melt}.`,
          field: `verification.scanned.${index}`,
          figures: { melt, blank },
        }),
  );
  const missing = notScanned(verification, picks);
  if (missing.length === 0 || verification.reason !== null) return unknown;
  const more = missing.length > shownMissing ? ` and ${missing.length - shownMissing} more` : '';
  return [
    ...unknown,
    refuse(pickRefusals, 'PicksNotVerified', {
      message: `${missing.length} of ${picks.length} picks were not scanned: ${missing.slice(0, shownMissing).join(', ')}${more}.`,
      field: 'verification.reason',
      figures: { melt, picks: picks.length, notScanned: missing.length },
    }),
  ];
}
