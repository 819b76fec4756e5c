import { type Refusal, refuse } from '../../journal/refusal.ts';
import { registersRefusals } from './refusals.ts';

/** The figures of a balance, as its certificate states them. */
interface WeighingFigures {
  readonly divisionGrams: number | null;
  readonly repeatabilityGrams: number | null;
  readonly gainRelative: number | null;
}

/** From the finest comparator to the weighbridge. */
const [finestGrams, coarsestGrams] = [1e-7, 1000];

/** Divisions over which the readings of one mass scatter at the most; a few are usual. */
const mostDivisions = 100;

/** An ordinary scale is within 1.5 divisions of a thousand: 9 parts in 10000 as a standard uncertainty. */
const mostGainRelative = 0.002;

const print = (value: number): string => String(Number(value.toPrecision(6)));

/** Refuses figures that no balance has: a unit or a digit is wrong, and every count would follow them. */
export function weighingSlips(figures: WeighingFigures): readonly Refusal[] {
  const { divisionGrams, repeatabilityGrams, gainRelative } = figures;
  const slip = (field: keyof WeighingFigures, message: string, accepted: string): Refusal =>
    refuse(registersRefusals, 'WeighingFiguresImplausible', {
      message: `${message} ${accepted}`,
      field,
      figures: { divisionGrams, repeatabilityGrams, gainRelative },
    });
  if (divisionGrams === null || repeatabilityGrams === null || gainRelative === null) return [];
  const refusals: Refusal[] = [];
  if (divisionGrams < finestGrams || divisionGrams > coarsestGrams) {
    const accepted = `Divisions of 0.0000001 g to ${coarsestGrams} g are taken; 0.00001 g to 0.1 g are usual.`;
    refusals.push(slip('divisionGrams', `No balance shows steps of ${divisionGrams} g.`, accepted));
  }
  const most = mostDivisions * divisionGrams;
  if (repeatabilityGrams > most) {
    const divisions = print(repeatabilityGrams / divisionGrams);
    const message = `A repeatability of ${repeatabilityGrams} g is ${divisions} divisions of ${divisionGrams} g.`;
    const accepted = `Up to ${mostDivisions} divisions are taken, which is ${print(most)} g; half a division to five are usual.`;
    refusals.push(slip('repeatabilityGrams', message, accepted));
  }
  if (gainRelative > mostGainRelative) {
    const message = `A gain uncertainty of ${gainRelative} is ${print(1000 * gainRelative)} g in a kilogram.`;
    const accepted = `Up to ${mostGainRelative} is taken; 0.000001 to 0.0001 are usual.`;
    refusals.push(slip('gainRelative', message, accepted));
  }
  return refusals;
}
