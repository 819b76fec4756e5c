import type { BookReader } from '../../../journal/books.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import type { Circumstances, Role } from '../../../journal/station.ts';
import { idSchema, plantDay } from '../../registers/index.ts';
import { isMeltInDispute } from '../difference/queries.ts';
import { type PortionRow, portions } from './books.ts';
import { portionRefusals } from './refusals.ts';
import type { PortionState } from './words.ts';

export const station = 'receiving';
export const portionField = idSchema.meta({ title: 'Portion', description: 'Scan its label.' });
export const sealField = idSchema.meta({
  title: 'Seal found',
  description: 'The number on its seal.',
});
export const handingRoles: readonly Role[] = ['custodian', 'inspector', 'assayer'];
export const witnesses: readonly Role[] = [
  'custodian',
  'inspector',
  'assayer',
  'metal accountant',
  'chief assayer',
];

export interface PortionFacts {
  readonly portion: PortionRow | undefined;
  readonly day: string;
  readonly isInDispute: boolean;
}

export async function portionFacts(
  books: BookReader,
  input: { readonly portion: string },
  { instant }: Pick<Circumstances, 'instant'>,
): Promise<PortionFacts> {
  const portion = await books.get(portions, input.portion);
  return {
    portion,
    day: await plantDay(books, instant),
    isInDispute: portion ? await isMeltInDispute(books, portion.melt) : false,
  };
}

export function portionUnknown(portion: string): Refusal {
  const message = `No portion ${portion} has been sealed.`;
  return refuse(portionRefusals, 'PortionUnknown', {
    message,
    field: 'portion',
    figures: { portion },
  });
}

/** The portion when the act can be done with it, or the reason why not. */
export function fitPortion(
  { portion }: PortionFacts,
  asked: { portion: string; accepted: readonly PortionState[]; act: string },
): { readonly portion: PortionRow } | { readonly refusals: readonly Refusal[] } {
  const field = 'portion';
  if (!portion) return { refusals: [portionUnknown(asked.portion)] };
  if (asked.accepted.includes(portion.state)) return { portion };
  const message = `Portion ${portion.portion} is ${portion.state}; a portion is ${asked.act} when it is ${asked.accepted.join(' or ')}.`;
  const figures = { portion: portion.portion, state: portion.state, accepted: [...asked.accepted] };
  return { refusals: [refuse(portionRefusals, 'PortionStateUnfit', { message, field, figures })] };
}

export function sealRefusals(portion: PortionRow, sealFound: string): readonly Refusal[] {
  if (sealFound === portion.seal) return [];
  return [
    refuse(portionRefusals, 'PortionSealDiffers', {
      message: `Portion ${portion.portion} bears seal ${sealFound}, and not the one it was given.`,
      field: 'sealFound',
      figures: { portion: portion.portion, sealFound },
    }),
  ];
}

export const fieldsOf = (portion: PortionRow) => ({
  portion: portion.portion,
  melt: portion.melt,
  consignment: portion.consignment,
  pieceStandard: portion.pieceStandard,
  metal: portion.metal,
  finenessDeclaredPartsPerMillion: portion.finenessDeclaredPartsPerMillion,
});

export const metalOf = ({ blanks, grossMicrograms }: PortionRow) => ({
  pieces: blanks.length,
  grossMicrograms,
});
