import { z } from 'zod';
import { requireDomain } from '../quantity/domain.ts';
import { welchSatterthwaite } from '../uncertainty/coverage.ts';

/** One independent cause of uncertainty, already in the unit of the result. */
export interface BudgetPart {
  readonly contribution: string;
  readonly standardUncertainty: number;
  /** Absent for a part that was not estimated from few readings: infinitely many. */
  readonly degreesOfFreedom?: number;
}

/** A line of a budget; the shares of all lines add to 100 %. */
interface BudgetLine {
  readonly contribution: string;
  readonly standardUncertainty: number;
  readonly sharePercent: number;
}

/** The lines of a budget as the schema of a result; the unit is that of the result. */
export function budgetSchema(title: string, unit: string) {
  return z
    .array(
      z.strictObject({
        contribution: z.string().meta({ title: 'Contribution' }),
        standardUncertainty: z.number().meta({ title: 'Standard uncertainty', unit }),
        sharePercent: z.number().meta({ title: 'Share of the variance', unit: '%' }),
      }),
    )
    .meta({ title });
}

/** Root of the sum of squares of independent parts. */
export function combinedUncertainty(parts: readonly BudgetPart[]): number {
  return Math.hypot(...parts.map((part) => part.standardUncertainty));
}

/** Every part with its share of the variance; no share where there is no uncertainty at all. */
export function budgetLines(parts: readonly BudgetPart[]): BudgetLine[] {
  const combined = combinedUncertainty(parts);
  return parts.map(({ contribution, standardUncertainty }) => ({
    contribution,
    standardUncertainty,
    sharePercent: combined === 0 ? 0 : 100 * (standardUncertainty / combined) ** 2,
  }));
}

/** Effective degrees of freedom of the parts together; null for infinite. */
export function budgetDegreesOfFreedom(parts: readonly BudgetPart[]): number | null {
  return welchSatterthwaite(
    parts.map(({ standardUncertainty, degreesOfFreedom = null }) => ({
      contribution: standardUncertainty,
      degreesOfFreedom,
    })),
  );
}

/**
 * Refuses a standard uncertainty above a quarter of its figure where the model divides by it: the
 * model is then far from straight, and no budget would mean anything.
 */
export function requireModestUncertainty(field: string, uncertainty: number, figure: number): void {
  requireDomain(4 * uncertainty <= figure, {
    field,
    value: uncertainty,
    accepted: `at most a quarter of the figure itself, ${figure / 4}`,
  });
}

/** An argument of a model with its standard uncertainty. */
interface UncertainArgument {
  readonly contribution: string;
  readonly value: number;
  readonly standardUncertainty: number;
}

/**
 * Part of each independent argument in the uncertainty of a model's value: half the change of the
 * value between the argument plus and minus its standard uncertainty (JCGM 100:2008, 5.1.3,
 * note 2). Signed, so that parts of a common cause could be added.
 */
function changeParts(
  model: (values: readonly number[]) => number,
  uncertainArguments: readonly UncertainArgument[],
): number[] {
  const values = uncertainArguments.map((one) => one.value);
  return uncertainArguments.map(({ value, standardUncertainty }, at) => {
    if (standardUncertainty === 0) return 0;
    const above = model(values.with(at, value + standardUncertainty));
    const below = model(values.with(at, value - standardUncertainty));
    return (above - below) / 2;
  });
}

/** The parts of `changeParts` as parts of a budget. */
export function modelParts(
  model: (values: readonly number[]) => number,
  uncertainArguments: readonly UncertainArgument[],
): BudgetPart[] {
  const changes = changeParts(model, uncertainArguments);
  return uncertainArguments.map(({ contribution }, at) => ({
    contribution,
    standardUncertainty: Math.abs(changes[at] ?? 0),
  }));
}
