import { inWords } from '../../../workbench/index.ts';
import type { DefectFamily } from '../bodies.ts';

const families = [
  'metal',
  'die or collar',
  'feeding or handling',
] as const satisfies readonly DefectFamily[];

/** Where a defect can come from, as it is asked for. */
export const familyChoices = families.map((family) => ({
  value: family,
  label: inWords(family),
}));

/** What a fault of that family holds. */
export function heldWords(
  family: DefectFamily,
  run: { readonly melt: string; readonly press: string; readonly lastApprovedStrike: number },
): string {
  switch (family) {
    case 'metal':
      return `Holds every piece struck from melt ${run.melt}, in every run.`;
    case 'die or collar':
      return `Holds this run from strike ${run.lastApprovedStrike + 1}, after the last approved one, up to this strike.`;
    case 'feeding or handling':
      return `Holds what press ${run.press} struck in this shift.`;
  }
}
