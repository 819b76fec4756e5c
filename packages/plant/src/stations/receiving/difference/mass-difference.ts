import type { Reading } from '../../../journal/reading.ts';

/** What a weighing of the plant rests on, as its count by weight was fed with it. */
export interface WeighedWith {
  readonly divisionGrams: number;
  readonly repeatabilityGrams: number;
  readonly gainRelative: number;
}

/** The net mass found less the net mass documented, and how far it is certain. */
export interface MassDifference {
  readonly differenceMicrograms: number;
  readonly standardUncertaintyMicrograms: number;
  /** True where the difference is larger than three times its standard uncertainty. */
  readonly isCertain: boolean;
}

/**
 * A difference counts from so many standard uncertainties on: of a thousand drums without a
 * difference fewer than three are claimed by chance (0.27 %, normal).
 */
const coverageFactor = 3;

const rectangular = (width: number): number => width / Math.sqrt(12);

const exponentOfUnit: Readonly<Record<string, number>> = { kg: 3, g: 0, mg: -3 };

/** The step of the last digit in which a document states a mass. */
function stepGrams({ text, unit }: Reading): number {
  const decimals = text.split('.')[1]?.length ?? 0;
  return Number(`1e${(exponentOfUnit[unit] ?? 0) - decimals}`);
}

/**
 * Standard uncertainty of a drum's net mass found less the net mass of its document.
 *
 * Formula: root of the sum of squares of, for gross and tare each, the repeatability, the rounding of
 * the balance d/√12 and the rounding of the document to its last digit; and of the gain of the
 * balance times the net mass. The supplier's balance is not known here: it is taken to be as good as
 * the plant's, so that all but the rounding of the document counts twice.
 *
 * @returns grams
 * Source: law of propagation for independent causes, JCGM 100:2008, 5.1.2; rounding 4.3.7
 */
export function differenceUncertaintyGrams(
  netGrams: number,
  weighed: WeighedWith,
  documented: { readonly gross: Reading; readonly tare: Reading },
): number {
  const reading = Math.hypot(weighed.repeatabilityGrams, rectangular(weighed.divisionGrams));
  const net = Math.hypot(reading, reading, weighed.gainRelative * netGrams);
  return Math.hypot(
    net,
    net,
    rectangular(stepGrams(documented.gross)),
    rectangular(stepGrams(documented.tare)),
  );
}

/** Holds a net mass as weighed against that of the document. */
export function massDifference(
  net: { readonly foundMicrograms: number; readonly documentedMicrograms: number },
  weighed: WeighedWith,
  documented: { readonly gross: Reading; readonly tare: Reading },
): MassDifference {
  const differenceMicrograms = net.foundMicrograms - net.documentedMicrograms;
  const uncertainty = differenceUncertaintyGrams(net.foundMicrograms / 1e6, weighed, documented);
  const standardUncertaintyMicrograms = Math.round(uncertainty * 1e6);
  return {
    differenceMicrograms,
    standardUncertaintyMicrograms,
    isCertain: Math.abs(differenceMicrograms) > coverageFactor * standardUncertaintyMicrograms,
  };
}
