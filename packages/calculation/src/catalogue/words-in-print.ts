const minus = '\u2212';

/** A hyphen before a figure that no letter, digit or point precedes: the sign of a number. */
const signs = /(?<![\p{L}\p{N}.\-_/])-(?=\d)/gu;

/** Text with the hyphens that are signs of numbers as real minus signs. */
export const withRealMinus = (text: string): string => text.replace(signs, minus);

/**
 * An output whose sentences, the fields `words`, have real minus signs wherever a calculation wrote
 * hyphens. Everything else stays as it is, the value itself too where there is nothing to change.
 */
export function wordsInPrint(output: unknown): unknown {
  if (Array.isArray(output)) {
    if (typeof output[0] !== 'object') return output;
    const items = output.map(wordsInPrint);
    return items.every((item, index) => item === output[index]) ? output : items;
  }
  if (typeof output !== 'object' || output === null) return output;
  const before = Object.entries(output);
  const after = before.map(([name, value]) => [
    name,
    name === 'words' && typeof value === 'string' ? withRealMinus(value) : wordsInPrint(value),
  ]);
  const isSame = after.every(([, value], index) => value === before[index]?.[1]);
  return isSame ? output : Object.fromEntries(after);
}
