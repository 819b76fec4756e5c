import type { AssayExchangeInput, AssayExchangeOutput } from '@cupel/calculation';
import { type Calculated, calculate } from '../../../../journal/calculated.ts';
import type { ExchangeState, OwnResult, ReportedResult } from './books.ts';

/** The results of a melt that stand: the plant's own, and the newest of each other side. */
export interface StandingResults {
  readonly own: OwnResult | undefined;
  readonly supplier: ReportedResult | undefined;
  readonly umpire: ReportedResult | undefined;
}

/** How far results may lie apart, and on whose word. */
export interface ExchangeLimit {
  readonly perMille: number;
  readonly from: 'stated' | 'uncertainties';
}

export interface Comparison {
  readonly state: 'within' | 'apart' | 'umpire has spoken';
  readonly limit: ExchangeLimit;
  readonly calculated: Calculated;
  readonly output: AssayExchangeOutput;
}

/** Decimals in which results are exchanged: on paper, not as doubles. */
const exchangedDecimals = 3;

/** The plant's fineness as it is told to the other side. */
export function exchangedFineness({ finenessPerMille }: OwnResult): string {
  return finenessPerMille.toFixed(exchangedDecimals);
}

/** Standard uncertainty of the difference of two results; nothing while one states none. */
function uncertaintyOfDifference(own: OwnResult, supplier: ReportedResult): number | undefined {
  if (!supplier.uncertainty) return undefined;
  const both = Math.hypot(own.standardUncertaintyPerMille, supplier.uncertainty.standardPerMille);
  return both > 0 ? both : undefined;
}

/**
 * The splitting limit of the contract where a report states it. Else twice the standard uncertainty of
 * the difference: what honest results of these two laboratories part by once in twenty times.
 */
function limitOf({ own, supplier, umpire }: StandingResults): ExchangeLimit | undefined {
  const stated = supplier?.splittingLimit ?? umpire?.splittingLimit;
  if (stated) return { perMille: stated.perMille, from: 'stated' };
  const spread = own && supplier && uncertaintyOfDifference(own, supplier);
  return spread === undefined ? undefined : { perMille: 2 * spread, from: 'uncertainties' };
}

/** Compares what stands by the usual clauses; nothing while a side or every limit is missing. */
export function compareResults(
  standing: StandingResults,
  grossMassGrams?: number,
): Comparison | undefined {
  const { own, supplier, umpire } = standing;
  const limit = limitOf(standing);
  if (!own || !supplier || !limit) return undefined;
  const spread = uncertaintyOfDifference(own, supplier);
  const input: AssayExchangeInput = {
    supplierFinenessPerMille: supplier.fineness.perMille,
    plantFinenessPerMille: Number(exchangedFineness(own)),
    splittingLimitPerMille: limit.perMille,
    inside: 'mean',
    umpireBetween: 'umpire',
    umpireOutside: 'nearer party',
    ...(grossMassGrams === undefined || grossMassGrams <= 0 ? {} : { grossMassGrams }),
    ...(spread === undefined ? {} : { differenceStandardUncertaintyPerMille: spread }),
  };
  const parties = calculate<AssayExchangeOutput>('assay-exchange', input);
  // An umpire has nothing to decide between results that agree.
  if (parties.output.isWithinLimit) return { state: 'within', limit, ...parties };
  if (!umpire) return { state: 'apart', limit, ...parties };
  const umpired = { ...input, umpireFinenessPerMille: umpire.fineness.perMille };
  const decided = calculate<AssayExchangeOutput>('assay-exchange', umpired);
  return { state: 'umpire has spoken', limit, ...decided };
}

/** How the results stand to one another, before anybody settles. */
export function stateOf(standing: StandingResults): ExchangeState {
  if (!standing.own) return 'under cover';
  if (!standing.supplier) return 'umpire only';
  return compareResults(standing)?.state ?? 'no limit';
}
