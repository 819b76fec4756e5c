/** The rules by name: the zone tests of the Western Electric handbook and the eight tests of Nelson. */
export const runRules = [
  'western-electric-1',
  'western-electric-2',
  'western-electric-3',
  'western-electric-4',
  'nelson-1',
  'nelson-2',
  'nelson-3',
  'nelson-4',
  'nelson-5',
  'nelson-6',
  'nelson-7',
  'nelson-8',
] as const;

export type RunRule = (typeof runRules)[number];

/** What a rule looks for; zones are in standard deviations of a plotted value from the centre line. */
export type RunPattern =
  | { readonly kind: 'beyond'; readonly zone: number }
  | { readonly kind: 'same-side'; readonly length: number }
  | { readonly kind: 'trend'; readonly length: number }
  | { readonly kind: 'alternating'; readonly length: number }
  | {
      readonly kind: 'zone-count';
      readonly needed: number;
      readonly length: number;
      readonly zone: number;
    }
  | { readonly kind: 'all-inside'; readonly length: number; readonly zone: number }
  | { readonly kind: 'all-outside'; readonly length: number; readonly zone: number };

const beyondThree: RunPattern = { kind: 'beyond', zone: 3 };
const twoOfThree: RunPattern = { kind: 'zone-count', needed: 2, length: 3, zone: 2 };
const fourOfFive: RunPattern = { kind: 'zone-count', needed: 4, length: 5, zone: 1 };

/**
 * The pattern behind each rule.
 * Source: Western Electric Company (1956), Statistical Quality Control Handbook, part B, zone tests;
 * L. S. Nelson (1984), Journal of Quality Technology 16, 237-239
 */
export const patternOfRule: Readonly<Record<RunRule, RunPattern>> = {
  'western-electric-1': beyondThree,
  'western-electric-2': twoOfThree,
  'western-electric-3': fourOfFive,
  'western-electric-4': { kind: 'same-side', length: 8 },
  'nelson-1': beyondThree,
  'nelson-2': { kind: 'same-side', length: 9 },
  'nelson-3': { kind: 'trend', length: 6 },
  'nelson-4': { kind: 'alternating', length: 14 },
  'nelson-5': twoOfThree,
  'nelson-6': fourOfFive,
  'nelson-7': { kind: 'all-inside', length: 15, zone: 1 },
  'nelson-8': { kind: 'all-outside', length: 8, zone: 1 },
};

/** Points after a run of `length` or more steps in one direction: of values, or of value to value. */
function sameDirection(values: ArrayLike<number>, length: number, ofSteps: boolean): number[] {
  const found: number[] = [];
  let up = 0;
  let down = 0;
  for (let index = ofSteps ? 1 : 0; index < values.length; index += 1) {
    const from = ofSteps ? (values[index - 1] as number) : 0;
    const here = values[index] as number;
    up = here > from ? up + 1 : 0;
    down = here < from ? down + 1 : 0;
    if (up >= length || down >= length) found.push(index);
  }
  return found;
}

/** Points after a run of `length` or more within the zone on both sides, or all beyond it. */
function againstZone(
  deviations: ArrayLike<number>,
  pattern: { length: number; zone: number; inside: boolean },
): number[] {
  const { length, zone, inside } = pattern;
  const found: number[] = [];
  let run = 0;
  for (let index = 0; index < deviations.length; index += 1) {
    const distance = Math.abs(deviations[index] as number);
    run = (inside ? distance < zone : distance > zone) ? run + 1 : 0;
    if (run >= length) found.push(index);
  }
  return found;
}

function zoneCounts(
  deviations: ArrayLike<number>,
  pattern: { needed: number; length: number; zone: number },
): number[] {
  const { needed, length, zone } = pattern;
  const found: number[] = [];
  let above = 0;
  let below = 0;
  for (let index = 0; index < deviations.length; index += 1) {
    const here = deviations[index] as number;
    const gone = index < length ? 0 : (deviations[index - length] as number);
    if (gone > zone) above -= 1;
    else if (gone < -zone) below -= 1;
    if (here > zone) {
      above += 1;
      if (above >= needed) found.push(index);
    } else if (here < -zone) {
      below += 1;
      if (below >= needed) found.push(index);
    }
  }
  return found;
}

/** Points that end a zigzag of `length` or more: it turns at every point between its ends. */
function alternations(values: ArrayLike<number>, length: number): number[] {
  const found: number[] = [];
  let last = 0;
  let run = 1;
  for (let index = 1; index < values.length; index += 1) {
    const step = (values[index] as number) - (values[index - 1] as number);
    // An equal neighbour ends the zigzag; the next step begins one of two points.
    run = step === 0 ? 1 : step * last < 0 ? run + 1 : 2;
    last = Math.sign(step);
    if (run >= length) found.push(index);
  }
  return found;
}

/**
 * Points at which a run rule is fulfilled, each the last point of its pattern.
 *
 * Formula: a point on the centre line belongs to neither side and equal neighbours break a trend;
 * k of m in a zone asks that the last point lies in the zone too and all on one side.
 *
 * @param rule name of the rule
 * @param deviations plotted values from the centre line in standard deviations of a plotted value
 * @param values plotted values, for the rules of trend and zigzag; the deviations when absent
 * @returns indices from 0, ascending
 * Validity: any series; one pass.
 * Source: Western Electric Company (1956), Statistical Quality Control Handbook; L. S. Nelson
 * (1984), Journal of Quality Technology 16, 237-239
 * @example pointsOfRule('nelson-1', [0.2, 3.4, -0.1])[0] // 1
 */
export function pointsOfRule(
  rule: RunRule,
  deviations: ArrayLike<number>,
  values: ArrayLike<number> = deviations,
): number[] {
  const pattern = patternOfRule[rule];
  switch (pattern.kind) {
    case 'beyond':
      return againstZone(deviations, { length: 1, zone: pattern.zone, inside: false });
    case 'same-side':
      return sameDirection(deviations, pattern.length, false);
    case 'trend':
      // A trend of n points has n − 1 steps.
      return sameDirection(values, pattern.length - 1, true);
    case 'alternating':
      return alternations(values, pattern.length);
    case 'zone-count':
      return zoneCounts(deviations, pattern);
    case 'all-inside':
      return againstZone(deviations, { ...pattern, inside: true });
    case 'all-outside':
      return againstZone(deviations, { ...pattern, inside: false });
  }
}
