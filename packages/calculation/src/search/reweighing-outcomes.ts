import { bitsOfReading, bitsOfTable } from './expected-information.ts';
import { mixtureWithin, newReading, type WeighingAct } from './reading-mixture.ts';
import type { CheckedOutcome, ReweighingCheck } from './reweighing-schema.ts';

/** A reading farther than this from every number fits none, in standard uncertainties of a weighing. */
const farthestFitting = 4;

/** What can be shown, with its probability for each number that is true: rows of options, columns of outcomes. */
export interface Showing {
  readonly shows: readonly (number | null)[];
  readonly table: readonly (readonly number[])[];
  readonly bits: number;
}

export const priorsOf = ({ options }: ReweighingCheck): number[] =>
  options.map(({ probability }) => probability);

function showingOfWeighing(check: ReweighingCheck, act: WeighingAct): Showing {
  const uncertainty = Math.hypot(
    act.lastingStandardUncertaintyGrams,
    act.repeatStandardUncertaintyGrams,
  );
  const half = Math.min(act.pieceMassGrams / 2, farthestFitting * uncertainty);
  const mixtures = check.options.map(({ pieces }) => newReading(act, pieces));
  const table = mixtures.map((mixture) => {
    const shown = check.options.map(({ pieces }) => {
      const centre = act.predictedGrams + pieces * act.pieceMassGrams;
      return mixtureWithin(mixture, centre - half, centre + half);
    });
    return [...shown, Math.max(0, 1 - shown.reduce((sum, part) => sum + part, 0))];
  });
  return {
    shows: [...check.options.map(({ pieces }) => pieces), null],
    table,
    bits: bitsOfReading(priorsOf(check), mixtures),
  };
}

function showingOfCount(
  check: ReweighingCheck,
  act: { readonly seenIfThere: number; readonly newErrorProbability: number },
): Showing {
  const { options } = check;
  const worthless = act.newErrorProbability / options.length;
  const good = 1 - act.newErrorProbability;
  const table = options.map(({ pieces }) =>
    options.map((shown) => {
      if (pieces === 0) return worthless + (shown.pieces === 0 ? good : 0);
      if (shown.pieces === pieces) return worthless + good * act.seenIfThere;
      return worthless + (shown.pieces === 0 ? good * (1 - act.seenIfThere) : 0);
    }),
  );
  return {
    shows: options.map(({ pieces }) => pieces),
    table,
    bits: bitsOfTable(priorsOf(check), table),
  };
}

/** The outcomes with what is known after each; one that cannot happen is left out. */
export function outcomesOf(check: ReweighingCheck, showing: Showing): CheckedOutcome[] {
  return showing.shows.flatMap((shows, at): CheckedOutcome[] => {
    const joint = check.options.map(
      ({ probability }, row) => probability * (showing.table[row]?.[at] ?? 0),
    );
    const probability = joint.reduce((sum, part) => sum + part, 0);
    if (probability <= 0) return [];
    const options = check.options.map(({ pieces }, row) => ({
      pieces,
      probability: (joint[row] ?? 0) / probability,
    }));
    return [{ shows, probability, options }];
  });
}

/** What doing a check can show. */
export const showingOf = (check: ReweighingCheck): Showing =>
  check.act.kind === 'weighing'
    ? showingOfWeighing(check, check.act)
    : showingOfCount(check, check.act);
