import type { BalanceCheckInput, BalanceCheckOutput } from '@cupel/calculation';
import { type Calculated, calculate } from '../../../journal/calculated.ts';
import { readingGrams, readingMicrograms } from '../../../journal/reading.ts';
import type { Instrument } from '../instruments.ts';
import type { Check } from './bodies.ts';

/** What the readings of a check say. */
export interface JudgedCheck {
  readonly errors: number[];
  readonly limit: number;
  readonly unit: string;
  readonly passes: boolean;
  readonly balanceCheck?: Calculated;
}

/** Points that the catalogue's check of a balance needs. */
const fewestForBalanceCheck = 2;

function judgeWeights(
  check: Extract<Check, { kind: 'weights' }>,
  divisionGrams: number | null,
): JudgedCheck {
  const micrograms = check.points.map(
    ({ nominal, reading }) => readingMicrograms(reading) - readingMicrograms(nominal),
  );
  const limit = readingMicrograms(check.limit);
  const judged = {
    errors: micrograms.map((error) => error / 1000),
    limit: limit / 1000,
    unit: 'mg',
    // Whole micrograms: a reading on its limit is on it.
    passes: micrograms.every((error) => Math.abs(error) <= limit),
  };
  if (check.points.length < fewestForBalanceCheck || divisionGrams === null) return judged;
  const input: BalanceCheckInput = {
    scaleIntervalMilligrams: 1000 * divisionGrams,
    linearity: {
      points: check.points.map(({ nominal, reading }) => ({
        referenceGrams: readingGrams(nominal),
        readingGrams: readingGrams(reading),
      })),
      errorLimitMilligrams: limit / 1000,
    },
  };
  const { calculated } = calculate<BalanceCheckOutput>('balance-check', input);
  return { ...judged, balanceCheck: calculated };
}

/**
 * Judges an intermediate check: it passes where no reading is further from the value of its
 * standard than the limit. The limit is the plant's own.
 */
export function judgeCheck(check: Check, instrument: Instrument): JudgedCheck {
  if (check.kind === 'weights') return judgeWeights(check, instrument.divisionGrams);
  const errors = check.points.map(({ nominal, reading }) => reading - nominal);
  // The readings are decimals: an error on the limit but for rounding is on the limit.
  const sizes = check.points.map(({ nominal, reading }) =>
    Math.max(1, Math.abs(nominal), Math.abs(reading)),
  );
  const passes = errors.every(
    (error, index) => Math.abs(error) <= check.limit + 1e-12 * (sizes[index] ?? 1),
  );
  return { errors, limit: check.limit, unit: check.unit, passes };
}

/** The check in one sentence with its figures. */
export function wordsOfCheck(judged: Pick<JudgedCheck, 'errors' | 'limit' | 'unit'>): string {
  const greatest = Math.max(...judged.errors.map(Math.abs));
  const error = Number(greatest.toPrecision(6));
  return `Greatest error ${error} ${judged.unit}; the limit is ${judged.limit} ${judged.unit}.`;
}
