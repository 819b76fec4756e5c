import { type Refusal, refuse } from '../../journal/refusal.ts';
import { registersRefusals } from './refusals.ts';

/** Share of the declared fineness below which a figure is no fineness of that metal in ‰. */
const leastShare = 0.5;

/** No gold or silver that is struck, assayed or certified holds less than a tenth of its metal. */
const leastOfAnyPerMille = 100;

/** How near the figure lies to what it is compared with where another unit explains it. */
const nearRelative = 0.1;

/** The units in which finenesses are written beside ‰, and what one of them is in ‰. */
const otherUnits = [
  ['in carats', 1000 / 24],
  ['in percent', 10],
  ['as a fraction', 1000],
] as const;

const print = (perMille: number): string => String(Number(perMille.toPrecision(6)));

/** What the figure would be in the unit that it was probably written in. */
function explained(figure: number, declaredPerMille: number | undefined): string {
  const found = otherUnits.find(([, factor]) => {
    const perMille = figure * factor;
    if (perMille > 1000) return false;
    if (declaredPerMille === undefined) return perMille >= leastOfAnyPerMille;
    return Math.abs(perMille / declaredPerMille - 1) <= nearRelative;
  });
  return found ? `; written ${found[0]} it is ${print(figure * found[1])} ‰` : '';
}

/**
 * Refuses a fineness that is obviously no figure in ‰: a percentage, a number of carats, a fraction.
 * What is merely low is taken: it is for the assay to find out.
 */
export function finenessSlip(stated: {
  /** Whose fineness it is, as the sentence begins. */
  readonly of: string;
  readonly field: string;
  readonly finenessPerMille: number;
  /** What is declared of the metal, where something is. */
  readonly declaredPerMille?: number;
}): readonly Refusal[] {
  const { of, field, finenessPerMille, declaredPerMille } = stated;
  const leastPerMille =
    declaredPerMille === undefined ? leastOfAnyPerMille : leastShare * declaredPerMille;
  if (finenessPerMille >= leastPerMille) return [];
  const beside =
    declaredPerMille === undefined ? '' : `, less than half of the declared ${declaredPerMille} ‰`;
  return [
    refuse(registersRefusals, 'FinenessImplausible', {
      message: `${of}: ${finenessPerMille} ‰${beside}${explained(finenessPerMille, declaredPerMille)}. From ${print(leastPerMille)} ‰ to 1000 ‰ is taken.`,
      field,
      figures: { finenessPerMille, leastPerMille, declaredPerMille: declaredPerMille ?? null },
    }),
  ];
}
