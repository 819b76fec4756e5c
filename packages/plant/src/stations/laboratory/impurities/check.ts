import {
  highestContents,
  type ImpurityTableCheckOutput,
  lowerTailQuantile,
  type SolutionContent,
} from '@cupel/calculation';
import { type Calculated, calculate } from '../../../journal/calculated.ts';
import { type PieceStandard, requiredProbabilityOf } from '../../registers/index.ts';
import type { AssayRunRow, DeterminationRow } from '../books.ts';

/** The content of an element as a solution of a valid determination showed it. */
export type FoundContent = SolutionContent;

export type ImpurityState = ImpurityTableCheckOutput['state'];

/** The contents in the solutions of the determinations that count. */
export function contentsOf(
  runs: readonly AssayRunRow[],
  valid: readonly DeterminationRow[],
): readonly FoundContent[] {
  return valid.flatMap(({ assayRun, label }) => {
    const worksheet = runs.find((run) => run.assayRun === assayRun)?.worksheet;
    if (!worksheet || !('solutions' in worksheet)) return [];
    const solution = worksheet.solutions.find((one) => one.label === label);
    const found = solution?.difference.input['impurities'];
    return Array.isArray(found) ? (found as unknown as FoundContent[]) : [];
  });
}

/** A name as the calculation takes one. */
const named = (text: string): string => text.slice(0, 100);

/**
 * The contents of a melt against the impurity table of its piece standard: the highest of its
 * solutions counts, with the guard band of the required probability. Nothing where there is no table.
 */
export function checkImpurities(
  standard: PieceStandard,
  contents: readonly FoundContent[],
): Calculated | undefined {
  const table = standard.impurityTable;
  if (!table || contents.length === 0) return undefined;
  const probability = requiredProbabilityOf(standard);
  const coverageFactor = probability === 0.5 ? 0 : lowerTailQuantile(probability);
  return calculate<ImpurityTableCheckOutput>('impurity-table-check', {
    standard: named(standard.title),
    edition: named(table.edition),
    limits: table.limits.map((limit) => ({ ...limit })),
    groups: [],
    contents: highestContents(contents, coverageFactor).map((content) => ({ ...content })),
    coverageFactor,
  }).calculated;
}
