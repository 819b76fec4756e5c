import { heron, lantern, newSupplier, otter } from './cast.ts';
import type { ConsignmentPlan } from './receiving-work.ts';

const silver = (
  supplier: string,
  margins: readonly number[],
  planted: {
    readonly thick?: readonly number[];
    /** Number of the melt whose last drum is short. */
    readonly short?: number;
    readonly meltsCertified?: number;
  } = {},
): ConsignmentPlan => ({
  supplier,
  standard: heron,
  drumsPerMelt: 4,
  piecesPerDrum: 300,
  melts: margins.map((marginPerMille, index) => ({
    marginPerMille,
    supplierErrorPerMille: 0.02,
    isThick: planted.thick?.includes(index) ?? false,
    piecesShort: planted.short === index ? 2 : 0,
  })),
  meltsCertified: planted.meltsCertified ?? margins.length,
});

const gold = (margins: readonly number[]): ConsignmentPlan => ({
  supplier: 'osterhof',
  standard: lantern,
  drumsPerMelt: 3,
  piecesPerDrum: 240,
  melts: margins.map((marginPerMille) => ({ marginPerMille, supplierErrorPerMille: 0.1 })),
});

/** A trial delivery of the new piece: one melt in one drum, of which no certificate came. */
const trialDelivery: ConsignmentPlan = {
  supplier: newSupplier.supplier,
  standard: otter,
  drumsPerMelt: 1,
  piecesPerDrum: 200,
  melts: [{ marginPerMille: 1.4, supplierErrorPerMille: 0.2 }],
  meltsCertified: 0,
  series: 'T-',
};

/**
 * Deliveries by day of the demonstration, with the margins of their melts above the limit. Planted:
 * a melt just under its fineness, one so near to it that it stays undecided, and two of one supplier
 * whose blanks are too thick, which brings his next delivery to tightened inspection; a drum that is
 * two pieces short, and a melt that stands in no material certificate.
 */
export const deliveries: Readonly<Record<number, ConsignmentPlan>> = {
  0: silver('fennel', [0.31, 0.27, 0.35]),
  1: gold([1.9, 1.6]),
  3: silver('fennel', [0.3, -0.03, 0.28], { thick: [0, 2] }),
  6: silver('osterhof', [0.33, 0.26, 0.3], { short: 1 }),
  9: silver('fennel', [0.29, 0.34, 0.31, 0.33, 0.28]),
  11: trialDelivery,
  12: silver('osterhof', [0.3, -0.02, 0.003], { meltsCertified: 2 }),
};
