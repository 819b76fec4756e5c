/** Deeper than any act. What walks through an input calls itself once for each level. */
export const greatestNesting = 64;

/** Whether lists and objects lie in one another deeper than any act needs. */
export function isTooDeep(value: unknown): boolean {
  let level: unknown[] = [value];
  for (let depth = 0; level.length > 0; depth += 1) {
    if (depth > greatestNesting) return true;
    level = level.flatMap((part) =>
      typeof part === 'object' && part !== null ? Object.values(part) : [],
    );
  }
  return false;
}
