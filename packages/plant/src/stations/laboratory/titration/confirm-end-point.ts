import {
  calculationById,
  type EndPointInput,
  type EndPointOutput,
  roundNumberText,
  runCalculation,
} from '@cupel/calculation';
import { calculate } from '../../../journal/calculated.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import { readingsNotAccepted } from '../run-facts.ts';
import type { Titrated } from './bodies.ts';
import type { StatedTitration } from './inputs.ts';
import { titrationRefusals } from './refusals.ts';
import { isSameVolume } from './same-volume.ts';

/** What all curves of a run are read with. */
interface CurveSettings {
  readonly method: EndPointInput['method'];
  readonly buretteStandardUncertaintyMillilitres: number;
}

/** Limits of an end point are stated at this level; nothing else rests on it. */
const confidencePercent = 95;

/** The input of the calculation of one curve. */
export function endPointInputOf(
  curve: StatedTitration['curve'],
  settings: CurveSettings,
): EndPointInput {
  return {
    curve: [...curve],
    method: settings.method,
    volumeStandardUncertaintyMillilitres: settings.buretteStandardUncertaintyMillilitres,
    confidencePercent,
  };
}

/**
 * Standard uncertainty of an end point that was not the one found: the distance counts as half the
 * width of an even distribution. Source: JCGM 100:2008, 4.3.7 and 5.1.2.
 */
const joined = (standardUncertainty: number, distance: number): number =>
  Math.hypot(standardUncertainty, distance / Math.sqrt(3));

const print = (value: number): string => roundNumberText(value, 4, 'half-even');

function refusedCurve(
  vessel: { readonly label: string; readonly field: string },
  problem: { readonly field: string; readonly value: unknown; readonly accepted: string },
): Refusal {
  const { label, field } = vessel;
  // A place inside of the curve, or a setting of the method, is a reading; the curve as a whole is not.
  if (problem.field !== 'curve') {
    const at = problem.field.startsWith('curve') ? `${field}.${problem.field}` : problem.field;
    return readingsNotAccepted({ ...problem, field: at });
  }
  return refuse(titrationRefusals, 'EndPointNotFound', {
    message: `The curve of ${label} is ${String(problem.value)}; accepted is ${problem.accepted}.`,
    field: `${field}.curve`,
    figures: { label, value: String(problem.value) },
  });
}

/** Compares the point that the assayer confirmed with the one found. */
function confirmationRefused(
  vessel: { readonly label: string; readonly field: string },
  stated: StatedTitration,
  found: number,
): readonly Refusal[] {
  const { label, field } = vessel;
  const confirmed = stated.endPointConfirmedMillilitres;
  if (isSameVolume(confirmed, found)) return [];
  const first = stated.curve[0]?.volumeMillilitres ?? 0;
  const last = stated.curve.at(-1)?.volumeMillilitres ?? 0;
  const figures = {
    label,
    foundMillilitres: found,
    confirmedMillilitres: confirmed,
    firstMillilitres: first,
    lastMillilitres: last,
  };
  const at = `${field}.endPointConfirmedMillilitres`;
  if (confirmed < first || confirmed > last) {
    const message = `The end point of ${label} was taken at ${print(confirmed)} mL; its curve runs from ${print(first)} to ${print(last)} mL.`;
    return [refuse(titrationRefusals, 'EndPointOutsideCurve', { message, field: at, figures })];
  }
  if (stated.endPointReason !== undefined) return [];
  const message = `The curve of ${label} has its end point at ${print(found)} mL; ${print(confirmed)} mL was taken without a reason.`;
  return [refuse(titrationRefusals, 'EndPointNotConfirmed', { message, field: at, figures })];
}

/**
 * The end point of one vessel: found on its curve, and confirmed. Where another point was taken
 * both are kept, and the distance between them widens the uncertainty.
 */
export function confirmEndPoint(
  vessel: { readonly label: string; readonly field: string },
  stated: StatedTitration,
  settings: CurveSettings,
): { readonly titrated: Titrated } | { readonly refusals: readonly Refusal[] } {
  const input = endPointInputOf(stated.curve, settings);
  const result = runCalculation(calculationById('end-point'), input);
  if (result.outcome === 'refused') {
    return { refusals: result.problems.map((problem) => refusedCurve(vessel, problem)) };
  }
  const { calculated, output } = calculate<EndPointOutput>('end-point', input);
  const found = output.endPointMillilitres;
  const refusals = confirmationRefused(vessel, stated, found);
  if (refusals.length > 0) return { refusals };
  const confirmed = stated.endPointConfirmedMillilitres;
  const isFound = isSameVolume(confirmed, found);
  return {
    titrated: {
      minutes: stated.minutes,
      origin: stated.origin,
      fileName: stated.fileName,
      endPoint: calculated,
      confirmedMillilitres: confirmed,
      reason: isFound ? null : (stated.endPointReason ?? null),
      volumeMillilitres: isFound ? found : confirmed,
      standardUncertaintyMillilitres: isFound
        ? output.standardUncertaintyMillilitres
        : joined(output.standardUncertaintyMillilitres, confirmed - found),
    },
  };
}
