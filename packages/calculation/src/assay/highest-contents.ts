/** The content of an element in one solution. */
export interface SolutionContent {
  readonly element: string;
  /** Null where it was not found. */
  readonly contentMilligramsPerKilogram: number | null;
  readonly standardUncertaintyMilligramsPerKilogram: number;
  readonly detectionLimitMilligramsPerKilogram: number;
}

/** Highest content to reckon with: found plus guard band, or the detection limit. */
function reckonedWith(one: SolutionContent, coverageFactor: number): number {
  const { contentMilligramsPerKilogram: found, detectionLimitMilligramsPerKilogram: limit } = one;
  if (found === null || found < limit) return limit;
  return found + coverageFactor * one.standardUncertaintyMilligramsPerKilogram;
}

/**
 * Of several solutions of a melt, for each element the one whose content is the highest to reckon
 * with: that which a table of limits is held against, so that no blank of the melt hides another.
 *
 * Formula: greatest of found + k·u, or of the detection limit where nothing was found.
 *
 * @param contents of all solutions, an element as often as it was determined; mg/kg
 * @param coverageFactor k, 0 or more
 * @returns one content for each element, in the order of their symbols
 * Validity: on the safe side of the mean of the solutions. Source: common practice
 * @example highestContents([{ element: 'Ag', contentMilligramsPerKilogram: 12,
 *   standardUncertaintyMilligramsPerKilogram: 1, detectionLimitMilligramsPerKilogram: 1 },
 *   { element: 'Ag', contentMilligramsPerKilogram: null,
 *   standardUncertaintyMilligramsPerKilogram: 0, detectionLimitMilligramsPerKilogram: 1 }],
 *   2)[0].contentMilligramsPerKilogram // 12
 */
export function highestContents<Content extends SolutionContent>(
  contents: readonly Content[],
  coverageFactor: number,
): readonly Content[] {
  const highest = new Map<string, Content>();
  for (const one of contents) {
    const before = highest.get(one.element);
    const isHigher =
      !before || reckonedWith(one, coverageFactor) > reckonedWith(before, coverageFactor);
    if (isHigher) highest.set(one.element, one);
  }
  return [...highest.keys()].sort().map((element) => highest.get(element) as Content);
}
