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

/** An output without its sentences: they tell the figures, and may be worded otherwise by another edition. */
function figuresOf(output: Json): Json {
  if (Array.isArray(output)) return output.map(figuresOf);
  if (typeof output !== 'object' || output === null) return output;
  const fields = Object.entries(output).filter(
    ([name, value]) => name !== 'words' || typeof value !== 'string',
  );
  return Object.fromEntries(fields.map(([name, value]) => [name, figuresOf(value)]));
}

/** A calculation of the certificate done once more: what is wrong, or whether its sentences differ. */
type Again = { readonly fault: string } | { readonly isWordedOtherwise: boolean };

function doneAgain(named: NamedCalculation): Again {
  const { calculation, version, input, output } = named.calculated;
  const again = recompute(calculation, input);
  const fault = (words: string): Again => ({
    fault: `${named.name} (entry ${named.entry}): ${words}`,
  });
  if ('problem' in again) return fault(again.problem);
  if (again.version !== version) {
    return fault(
      `it was computed by version ${version}; this program computes version ${again.version}`,
    );
  }
  const [left, right] = [figuresOf(output as Json), figuresOf(again.output)];
  const difference = firstDifference(left, right, { sameNumber, field: 'output' });
  if (difference) {
    const names = { left: 'the certificate', right: 'the recomputation' };
    return fault(differenceWords(difference, names));
  }
  const inWords = firstDifference(output as Json, again.output, { sameNumber });
  return { isWordedOtherwise: inWords !== undefined };
}

/** Does calculations once more and names the first figure of each that differs. */
export function calculationCheck(
  check: string,
  list: readonly NamedCalculation[],
): CertificateCheck {
  const done = list.map((named) => ({ name: named.name, again: doneAgain(named) }));
  const faults = done.flatMap(({ again }) => ('fault' in again ? [again.fault] : []));
  if (faults.length > 0) return { check, holds: false, words: `${faults.join('; ')}.` };
  const names = [...new Set(list.map((named) => named.calculated.calculation))].join(', ');
  const reworded = done.flatMap(({ name, again }) =>
    'isWordedOtherwise' in again && again.isWordedOtherwise ? [name] : [],
  );
  const told =
    reworded.length === 0 ? '' : ` This program words otherwise: ${reworded.join(', ')}.`;
  const words = `${list.length} ${list.length === 1 ? 'calculation' : 'calculations'} recomputed with the same result: ${names}.${told}`;
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
