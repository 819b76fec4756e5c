import type { MetalBalanceInput, MetalBalanceOutput } from '@cupel/calculation';
import type { ClosingLine } from './bodies.ts';
import type { BalanceRow } from './books-periods.ts';

type Stratum = MetalBalanceInput['strata'][number];

const varianceOf = (strata: readonly Stratum[]): number =>
  strata.reduce((sum, one) => sum + one.count * one.randomStandardDeviationGrams ** 2, 0);

/** What each shared error does to the difference, its lever times its uncertainty: calibrations and stored tares. */
function persistentOf({ scales, tareGroups, strata }: MetalBalanceInput): BalanceRow['persistent'] {
  const sumOver = (isIts: (one: Stratum) => boolean, of: (one: Stratum) => number): number =>
    strata.filter(isIts).reduce((sum, one) => sum + one.sign * one.count * of(one), 0);
  return [
    ...scales.map(({ scale, gainRelativeStandardUncertainty }) => ({
      source: `calibration of ${scale}`,
      effectGrams: sumOver(
        (one) => one.scale === scale,
        (one) => one.massGrams * gainRelativeStandardUncertainty,
      ),
    })),
    ...(tareGroups ?? []).map(({ tareGroup, standardDeviationGrams }) => ({
      source: `tare ${tareGroup}`,
      effectGrams: sumOver(
        (one) => one.tareGroup === tareGroup,
        () => standardDeviationGrams,
      ),
    })),
  ];
}

/** Names under which the close of a shift lists the stock at its beginning and its end. */
const stocks: readonly string[] = ['beginning', 'ending'];

/**
 * A closing line as a balance of its series: its difference, and the errors of its stocks, its
 * transfers and its scales apart, since the stocks are shared with the neighbours and the scales
 * with every balance. Nothing where no balance of grams was made.
 */
export function seriesRow(
  line: ClosingLine,
  at: { place: string; entry: number; shift: string; isCarried: boolean },
): BalanceRow | undefined {
  if (!line.balance) return undefined;
  const input = line.balance.input as unknown as MetalBalanceInput;
  const output = line.balance.output as unknown as MetalBalanceOutput;
  const deviation = (label: string): number =>
    Math.sqrt(varianceOf(input.strata.filter((one) => one.label === label)));
  return {
    ...at,
    pieceStandard: line.pieceStandard,
    differenceGrams: output.unexplainedGrossGrams + line.grossMicrogramsSigned / 1e6,
    openingStandardUncertaintyGrams: deviation('beginning'),
    endingStandardUncertaintyGrams: deviation('ending'),
    transferStandardUncertaintyGrams: Math.sqrt(
      varianceOf(input.strata.filter((one) => !stocks.includes(one.label))),
    ),
    persistent: persistentOf(input),
  };
}
