import type { Calculated } from '../../../journal/calculated.ts';
import type { Titrated, TitrationRecorded } from './bodies.ts';

/** A calculation of a titration run with its name within the run: `end point A1`, `titration A1`. */
interface NamedCalculated {
  readonly name: string;
  readonly calculated: Calculated;
}

/** A titrated vessel of a run with the label that it bears. */
export interface Vessel {
  readonly label: string;
  readonly titrated: Titrated;
}

/** Stands for the label of the blank titration; labels hold no blanks, so that none is the same. */
export const blankLabel = 'blank titration';

/** Everything that was titrated in a run, in the order of the worksheet. */
export function vesselsOf(run: TitrationRecorded): readonly Vessel[] {
  const { reagentBlank, standards, samples, references } = run;
  const blank =
    reagentBlank.kind === 'titrated'
      ? [{ label: blankLabel, titrated: reagentBlank.titrated }]
      : [];
  return [...blank, ...standards, ...samples, ...references];
}

export const endPointName = (label: string): string => `end point ${label}`;
export const portionName = (label: string): string => `titration ${label}`;
export const factorName = 'factor';

/** The calculations that the determinations of a run rest on, from the curves to the fineness. */
export function calculatedOfTitration(run: TitrationRecorded): readonly NamedCalculated[] {
  return [
    ...vesselsOf(run).map(({ label, titrated }) => ({
      name: endPointName(label),
      calculated: titrated.endPoint,
    })),
    { name: factorName, calculated: run.factor },
    ...run.samples.map(({ label, titration }) => ({
      name: portionName(label),
      calculated: titration,
    })),
  ];
}
