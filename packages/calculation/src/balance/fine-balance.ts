import { decimalOfNumber } from '../quantity/decimal.ts';
import { requireDomain } from '../quantity/domain.ts';
import { compensatedSum } from '../quantity/sum.ts';
import {
  type BalanceSource,
  lotsByName,
  massLever,
  sharedSource,
  type WeightedStratum,
  weighingSources,
} from './balance-contributions.ts';
import type { MetalBalanceInput } from './metal-balance-schema.ts';

const whole = { coefficient: 1n, places: 0 };

/** The strata with the fineness of their lots as weights, or none when no lots are given. */
export function fineStrata(input: MetalBalanceInput): readonly WeightedStratum[] | null {
  if (input.lots === undefined || input.lots.length === 0) return null;
  const lots = lotsByName(input);
  return input.strata.map((stratum, index) => {
    const lot = stratum.lot === undefined ? undefined : lots.get(stratum.lot);
    requireDomain(lot !== undefined, {
      field: `strata.${index}.lot`,
      value: stratum.lot,
      accepted: `the lot of each stratum, since lots are given: ${[...lots.keys()].join(', ')}`,
    });
    const fineness = decimalOfNumber(lot.finenessPerMille, 'finenessPerMille');
    return {
      stratum,
      weight: { coefficient: fineness.coefficient, places: fineness.places + 3 },
    };
  });
}

/**
 * Sources of error of the fine difference: those of the weighing, the own assay of each lot (shared
 * by all its metal) and the bias of each assay method (shared by all lots assayed by it).
 */
export function fineSources(
  input: MetalBalanceInput,
  strata: readonly WeightedStratum[],
): BalanceSource[] {
  const lots = lotsByName(input);
  const grossOf = (isIncluded: (lot: string) => boolean) =>
    massLever(
      strata
        .filter((one) => isIncluded(one.stratum.lot ?? ''))
        .map(({ stratum }) => ({ stratum, weight: whole })),
    );
  const lotSources = [...lots.values()].map(({ lot, standardUncertaintyPerMille }) =>
    sharedSource(
      `assay of lot ${lot}`,
      grossOf((name) => name === lot),
      'g gross',
      standardUncertaintyPerMille / 1000,
    ),
  );
  const biasSources = (input.assayMethods ?? []).map(
    ({ assayMethod, biasStandardUncertaintyPerMille }) =>
      sharedSource(
        `bias of ${assayMethod}`,
        grossOf((name) => lots.get(name)?.assayMethod === assayMethod),
        'g gross',
        biasStandardUncertaintyPerMille / 1000,
      ),
  );
  return [...weighingSources(input, strata), ...lotSources, ...biasSources];
}

/** A lot of metal with its mass and fineness as parts of one. */
export interface FineLot {
  readonly massGrams: number;
  /** Standard uncertainty of the mass, independent of the other lots, in g. */
  readonly massStandardUncertaintyGrams: number;
  /** Fineness from 0 to 1. */
  readonly fineness: number;
  /** Standard uncertainty of the lot's own assay, as a part of one. */
  readonly finenessStandardUncertainty: number;
}

/**
 * Fine metal in several lots with the standard uncertainty of the sum.
 *
 * Formula: F = Σ m·f; u² = Σ (f·u(m))² + Σ (m·u(f))² + (u(b)·Σ m)² + (u(g)·F)², b the bias of the
 * assay method and g the calibration of the scale, both shared by all lots.
 *
 * @param lots masses in g from 0, finenesses from 0 to 1, standard uncertainties from 0
 * @param shared standard uncertainty of the assay bias as a part of one, and relative standard
 *   uncertainty of the calibration, both from 0
 * @returns fine mass and standard uncertainty in g, not rounded
 * @throws DomainError when a value is outside its range
 * Validity: lots independent but for the two shared errors. See reference/material-balance.
 * Source: JCGM 100:2008, 5.1.2 and 5.2.2 (shared parts summed first)
 * @example fineMetal([{ massGrams: 11850, massStandardUncertaintyGrams: 5, fineness: 0.35,
 *   finenessStandardUncertainty: 0.012 }], { assayBias: 0, gain: 0 }).fineGrams // 4147.5
 */
export function fineMetal(
  lots: readonly FineLot[],
  shared: { readonly assayBias: number; readonly gain: number },
): { readonly fineGrams: number; readonly standardUncertaintyGrams: number } {
  const fields = lots.flatMap((lot, index) =>
    Object.entries(lot).map(([field, value]) => [`lots.${index}.${field}`, value] as const),
  );
  for (const [field, value] of [...fields, ...Object.entries(shared)]) {
    const largest = field.endsWith('.fineness') ? 1 : Number.MAX_VALUE;
    requireDomain(value >= 0 && value <= largest, {
      field,
      value,
      accepted: largest === 1 ? 'a fineness from 0 to 1' : 'a finite number of 0 or more',
    });
  }
  const fineGrams = compensatedSum(lots.map((lot) => lot.massGrams * lot.fineness));
  const grossGrams = compensatedSum(lots.map((lot) => lot.massGrams));
  const variance = compensatedSum([
    ...lots.map((lot) => (lot.fineness * lot.massStandardUncertaintyGrams) ** 2),
    ...lots.map((lot) => (lot.massGrams * lot.finenessStandardUncertainty) ** 2),
    (shared.assayBias * grossGrams) ** 2,
    (shared.gain * fineGrams) ** 2,
  ]);
  return { fineGrams, standardUncertaintyGrams: Math.sqrt(variance) };
}
