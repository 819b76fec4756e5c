import type { Json } from '../../ports/json.ts';
import type { CalculationFigure, NamedCalculation } from './content.ts';
import { differenceWords, firstDifference } from './first-difference.ts';
import { recompute } from './recompute.ts';
import type { CertificateCheck } from './verify-certificate.ts';

/**
 * Figures recomputed elsewhere count as the same when they agree to 12 significant digits: the
 * last bits of exponential and error functions may differ from one engine to another.
 */
const relativeAgreement = 1e-12;

export const sameNumber = (left: number, right: number): boolean =>
  left === right ||
  Math.abs(left - right) <= relativeAgreement * Math.max(Math.abs(left), Math.abs(right));

/** The sum of whole numbers. */
export const sum = (values: readonly number[]): number =>
  values.reduce((total, one) => total + one, 0);

/** A check that holds when there is no fault, and lists its faults otherwise. */
export function faultsCheck(
  check: string,
  faults: readonly string[],
  good: string,
): CertificateCheck {
  if (faults.length > 0) return { check, holds: false, words: `${faults.join('; ')}.` };
  return { check, holds: true, words: good };
}

/** What is wrong with a calculation of the certificate; nothing when it gives the same once more. */
function recomputationFault(named: NamedCalculation): string | undefined {
  const { calculation, version, input, output } = named.calculated;
  const again = recompute(calculation, input);
  if ('problem' in again) return again.problem;
  if (again.version !== version) {
    return `it was computed by version ${version}; this program computes version ${again.version}`;
  }
  const difference = firstDifference(output as Json, again.output, { sameNumber, field: 'output' });
  if (!difference) return undefined;
  return differenceWords(difference, { left: 'the certificate', right: 'the recomputation' });
}

/** Does calculations once more and names the first figure of each that differs. */
export function calculationCheck(
  check: string,
  list: readonly NamedCalculation[],
): CertificateCheck {
  const faults = list.flatMap((named) => {
    const fault = recomputationFault(named);
    return fault ? [`${named.name} (entry ${named.entry}): ${fault}`] : [];
  });
  if (faults.length > 0) return { check, holds: false, words: `${faults.join('; ')}.` };
  const names = [...new Set(list.map((named) => named.calculated.calculation))].join(', ');
  const words = `${list.length} ${list.length === 1 ? 'calculation' : 'calculations'} recomputed with the same result: ${names}.`;
  return { check, holds: true, words };
}

/** The value that a figure points to, in the input or the output of a calculation. */
export function figureValue(
  figure: CalculationFigure,
  list: readonly NamedCalculation[],
): Json | undefined {
  const named = list.find((one) => one.name === figure.calculation);
  return figure.field
    .split('.')
    .reduce<Json | undefined>(
      (value, key) =>
        typeof value === 'object' && value !== null
          ? (value as { readonly [field: string]: Json })[key]
          : undefined,
      named?.calculated as Json | undefined,
    );
}

/** Pairs of figures that must be equal, each with what they are. */
export type Equality = readonly [what: string, stated: Json | undefined, found: Json | undefined];

export function equalityCheck(
  check: string,
  equalities: readonly Equality[],
  good: string,
): CertificateCheck {
  const faults = equalities.flatMap(([field, stated, found]) => {
    const difference = firstDifference(stated, found, { sameNumber, field });
    const names = { left: 'the certificate', right: 'what it comes from' };
    return difference ? [differenceWords(difference, names)] : [];
  });
  return faultsCheck(check, faults, good);
}
