import { type Refusal, refuse } from '../../../journal/refusal.ts';
import type { PieceStandard } from '../../registers/index.ts';
import type { ResultRow } from '../books.ts';
import { impurityRefusals } from './refusals.ts';

/** Refuses to release a melt whose impurities its result does not show within the table. */
export function impurityGate(
  melt: string,
  standard: PieceStandard,
  checked: ResultRow | undefined,
): readonly Refusal[] {
  const table = standard.impurityTable;
  if (!table || !checked) return [];
  const { impurities } = checked.body;
  const state = impurities ? String(impurities.output['state']) : 'not determined';
  if (state === 'within') return [];
  const figures = { melt, edition: table.edition, state };
  const words = impurities ? ` ${String(impurities.output['words'])}` : '';
  const name = state === 'beyond' ? 'ImpuritiesBeyondTable' : 'ImpuritiesUndecided';
  return [
    refuse(impurityRefusals, name, {
      message: `The impurities of melt ${melt} are ${state} by the table of ${standard.title}.${words}`,
      field: 'ruling',
      figures,
    }),
  ];
}
