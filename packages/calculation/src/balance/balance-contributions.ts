import {
  type Decimal,
  decimalOfInteger,
  decimalOfNumber,
  multiplyDecimals,
  numberOfDecimal,
  sumDecimals,
} from '../quantity/decimal.ts';
import { DomainError, requireDomain } from '../quantity/domain.ts';
import { compensatedSum } from '../quantity/sum.ts';
import type { MetalBalanceInput } from './metal-balance-schema.ts';

/** One source of error with its lever on the difference and its standard uncertainty. */
export interface BalanceSource {
  readonly source: string;
  readonly lever: number | null;
  readonly leverUnit: string;
  readonly standardUncertaintyGrams: number;
}

type Stratum = MetalBalanceInput['strata'][number];
type Lot = NonNullable<MetalBalanceInput['lots']>[number];

/** A stratum with the factor that carries its error into the ledger: 1 for gross, fineness for fine. */
export interface WeightedStratum {
  readonly stratum: Stratum;
  readonly weight: Decimal;
}

/** Entries by their names; a name that stands twice is refused. */
function byUniqueName<Entry>(
  entries: readonly Entry[],
  listName: string,
  nameOf: (entry: Entry) => string,
): ReadonlyMap<string, Entry> {
  const map = new Map<string, Entry>();
  for (const [index, entry] of entries.entries()) {
    const name = nameOf(entry);
    if (map.has(name)) {
      throw new DomainError({
        field: `${listName}.${index}`,
        value: name,
        accepted: 'each name once',
      });
    }
    map.set(name, entry);
  }
  return map;
}

/** Refuses a stratum that names something that is not listed. */
function requireListed(
  strata: readonly Stratum[],
  field: 'scale' | 'tareGroup' | 'zeroing' | 'lot',
  listed: ReadonlyMap<string, unknown>,
): void {
  for (const [index, stratum] of strata.entries()) {
    const name = stratum[field];
    requireDomain(name === undefined || listed.has(name), {
      field: `strata.${index}.${field}`,
      value: name,
      accepted: `one of those listed: ${[...listed.keys()].join(', ') || 'none is listed'}`,
    });
  }
}

/** Refuses names that stand twice and strata that name what is not listed. */
export function requireReferences(input: MetalBalanceInput): void {
  byUniqueName(input.strata, 'strata', (one) => one.label);
  const scales = byUniqueName(input.scales, 'scales', (one) => one.scale);
  const tares = byUniqueName(input.tareGroups ?? [], 'tareGroups', (one) => one.tareGroup);
  const zeroings = byUniqueName(input.zeroings ?? [], 'zeroings', (one) => one.zeroing);
  requireListed(input.strata, 'scale', scales);
  requireListed(input.strata, 'tareGroup', tares);
  requireListed(input.strata, 'zeroing', zeroings);
  requireListed(input.strata, 'lot', lotsByName(input));
}

/** The lots by name; each assay method that one names must be listed. */
export function lotsByName(input: MetalBalanceInput): ReadonlyMap<string, Lot> {
  const methods = byUniqueName(input.assayMethods ?? [], 'assayMethods', (one) => one.assayMethod);
  const lots = byUniqueName(input.lots ?? [], 'lots', (one) => one.lot);
  for (const [index, { assayMethod }] of [...lots.values()].entries()) {
    requireDomain(assayMethod === undefined || methods.has(assayMethod), {
      field: `lots.${index}.assayMethod`,
      value: assayMethod,
      accepted: `one of the assay methods listed: ${[...methods.keys()].join(', ') || 'none'}`,
    });
  }
  return lots;
}

/** Signed number of readings of a stratum. */
function signedCount({ stratum }: WeightedStratum): Decimal {
  return decimalOfInteger(BigInt(stratum.sign * stratum.count));
}

/** Signed mass of a stratum, exact in the decimals that were given. */
export function signedMass(weighted: WeightedStratum): Decimal {
  return multiplyDecimals([
    signedCount(weighted),
    decimalOfNumber(weighted.stratum.massGrams, 'massGrams'),
    weighted.weight,
  ]);
}

/** Lever of an error per container or per zeroing. */
function countLever(strata: readonly WeightedStratum[]): number {
  return numberOfDecimal(
    sumDecimals(strata.map((one) => multiplyDecimals([signedCount(one), one.weight]))),
  );
}

/** Lever of a relative error, a mass. */
export function massLever(strata: readonly WeightedStratum[]): number {
  return numberOfDecimal(sumDecimals(strata.map(signedMass)));
}

function randomSource(strata: readonly WeightedStratum[]): BalanceSource {
  const variances = strata.map(
    ({ stratum, weight }) =>
      stratum.count * (numberOfDecimal(weight) * stratum.randomStandardDeviationGrams) ** 2,
  );
  return {
    source: 'random',
    lever: null,
    leverUnit: '',
    standardUncertaintyGrams: Math.sqrt(compensatedSum(variances)),
  };
}

/** A shared source: its standard uncertainty is the lever times that of the error. */
export function sharedSource(
  source: string,
  lever: number,
  leverUnit: string,
  standardUncertainty: number,
): BalanceSource {
  return {
    source,
    lever,
    leverUnit,
    standardUncertaintyGrams: Math.abs(lever) * standardUncertainty,
  };
}

/**
 * Sources of error of the weighing: random, calibration of each scale, tare of each group, zero of
 * each zeroing. Random parts add by squares over the readings; a shared error is multiplied by its
 * lever, so that errors of one scale cancel between what came in and what went out on it.
 */
export function weighingSources(
  input: MetalBalanceInput,
  strata: readonly WeightedStratum[],
): BalanceSource[] {
  const containerUnit = strata.every((one) => one.weight.places === 0)
    ? 'readings'
    : 'readings, fine';
  return [
    randomSource(strata),
    ...input.scales.map(({ scale, gainRelativeStandardUncertainty }) =>
      sharedSource(
        `gain ${scale}`,
        massLever(strata.filter((one) => one.stratum.scale === scale)),
        'g',
        gainRelativeStandardUncertainty,
      ),
    ),
    ...(input.tareGroups ?? []).map(({ tareGroup, standardDeviationGrams }) =>
      sharedSource(
        `tare ${tareGroup}`,
        countLever(strata.filter((one) => one.stratum.tareGroup === tareGroup)),
        containerUnit,
        standardDeviationGrams,
      ),
    ),
    ...(input.zeroings ?? []).map(({ zeroing, standardDeviationGrams }) =>
      sharedSource(
        `zero ${zeroing}`,
        countLever(strata.filter((one) => one.stratum.zeroing === zeroing)),
        containerUnit,
        standardDeviationGrams,
      ),
    ),
  ];
}
