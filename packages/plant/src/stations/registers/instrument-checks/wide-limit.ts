import { readingGrams, readingMicrograms } from '../../../journal/reading.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import type { Instrument } from '../instruments.ts';
import type { Check } from './bodies.ts';
import { instrumentCheckRefusals } from './refusals.ts';

/** Standard deviations within which nearly every reading lies. */
const coverage = 3;

/** How often that goes into a limit before a slip is likelier than a wish: the errors that law allows lie below. */
const wideFactor = 10;

const inPrint = (grams: number): number => Number(grams.toPrecision(3));

/** How far the readings of a balance lie from their weights by the figures of the register. */
function usualErrorGrams(
  check: Extract<Check, { kind: 'weights' }>,
  { divisionGrams, repeatabilityGrams, gainRelative }: Instrument,
): number {
  const heaviest = Math.max(...check.points.map(({ nominal }) => readingGrams(nominal)));
  return (
    coverage *
    Math.hypot(
      repeatabilityGrams ?? 0,
      (divisionGrams ?? 0) / Math.sqrt(12),
      (gainRelative ?? 0) * heaviest,
    )
  );
}

/**
 * Asks for a reason where the limit of a check lies so far out that the check could find nothing.
 * A limit that an earlier check had is taken: it was answered for then.
 */
export function wideLimit(
  check: Check,
  instrument: Instrument,
  known: {
    readonly reason: string | undefined;
    readonly earlierMilligrams: number | undefined;
  },
): readonly Refusal[] {
  if (check.kind !== 'weights' || known.reason !== undefined) return [];
  if (readingMicrograms(check.limit) / 1000 === known.earlierMilligrams) return [];
  const usual = usualErrorGrams(check, instrument);
  const limitGrams = readingGrams(check.limit);
  if (limitGrams <= wideFactor * usual) return [];
  const [usualGrams, mostGrams] = [inPrint(usual), inPrint(wideFactor * usual)];
  return [
    refuse(instrumentCheckRefusals, 'CheckLimitWide', {
      message: `A limit of ${limitGrams} g lets pass what ${instrument.title} never shows: by its division and repeatability its readings lie within ${usualGrams} g. Up to ${mostGrams} g are taken without a reason.`,
      field: 'check.limit',
      figures: { instrument: instrument.instrument, limitGrams, usualGrams, mostGrams },
    }),
  ];
}
