import { roundNumberText } from '../quantity/rounding.ts';
import { patternOfRule, pointsOfRule, type RunPattern, type RunRule } from './run-rules.ts';

/** One stretch of points in which a rule keeps being fulfilled. */
export interface RunSignal {
  readonly rule: RunRule;
  /** Numbers of the points that form the pattern, counted from 1. */
  readonly points: readonly number[];
  /** Number of the point at which the rule is fulfilled first. */
  readonly firstSignalPoint: number;
  readonly words: string;
}

const spelled = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'];
const inWords = (count: number): string => spelled[count] ?? String(count);

/** Numbers of points as a foreman reads them: a stretch by its ends, single ones up to eight. */
export function namePoints(points: readonly number[]): string {
  const [first] = points;
  const last = points[points.length - 1];
  if (points.length === 1) return `Point ${first}`;
  if ((last ?? 0) - (first ?? 0) === points.length - 1) return `Points ${first} to ${last}`;
  const shown = points.slice(0, 8).join(', ');
  return points.length > 8 ? `Points ${shown} and ${points.length - 8} more` : `Points ${shown}`;
}

function describePattern(pattern: RunPattern, deviation: number, rising: boolean): string {
  const side = deviation > 0 ? 'above' : 'below';
  const zone = 'zone' in pattern ? roundNumberText(pattern.zone, 0, 'half-even') : '';
  switch (pattern.kind) {
    case 'beyond':
      return `more than ${zone} standard deviations from the centre line`;
    case 'same-side':
      return `${inWords(pattern.length)} or more in a row ${side} the centre line`;
    case 'trend':
      return `${inWords(pattern.length)} or more in a row steadily ${rising ? 'rising' : 'falling'}`;
    case 'alternating':
      return `${inWords(pattern.length)} or more in a row going up and down by turns`;
    case 'zone-count':
      return `${inWords(pattern.needed)} out of ${inWords(pattern.length)} in a row more than ${zone} standard deviation${pattern.zone === 1 ? '' : 's'} ${side} the centre line`;
    case 'all-inside':
      return `${inWords(pattern.length)} or more in a row within ${zone} standard deviation of the centre line: limits too wide or subgroups mixed`;
    case 'all-outside':
      return `${inWords(pattern.length)} or more in a row with none within ${zone} standard deviation of the centre line: two levels mixed`;
  }
}

/** Name of a rule as printed. */
export function nameOfRule(rule: RunRule): string {
  const number = rule.slice(-1);
  return rule.startsWith('nelson') ? `Nelson test ${number}` : `Western Electric rule ${number}`;
}

function signalOf(
  rule: RunRule,
  ends: readonly [number, number],
  deviations: ArrayLike<number>,
  values: ArrayLike<number>,
): RunSignal {
  const pattern = patternOfRule[rule];
  const [firstEnd, lastEnd] = ends;
  const length = pattern.kind === 'beyond' ? 1 : pattern.length;
  const last = deviations[lastEnd] as number;
  const points: number[] = [];
  for (let index = firstEnd - length + 1; index <= lastEnd; index += 1) {
    const counts =
      pattern.kind !== 'zone-count' ||
      (deviations[index] as number) * Math.sign(last) > pattern.zone;
    if (counts) points.push(index + 1);
  }
  const rising = lastEnd > 0 && (values[lastEnd] as number) > (values[lastEnd - 1] as number);
  const words = `${namePoints(points)}: ${describePattern(pattern, last, rising)} (${nameOfRule(rule)}).`;
  return { rule, points, firstSignalPoint: firstEnd + 1, words };
}

/**
 * Signals of chosen run rules, unbroken stretches drawn together into one signal each.
 *
 * @param rules names of the rules that are switched on
 * @param deviations as `pointsOfRule`
 * @param values as `pointsOfRule`
 * @returns signals in the order of the rules, then of the points; points are numbered from 1
 * @example runSignals(['nelson-1'], [0, 3.2, 0]).length // 1
 */
export function runSignals(
  rules: readonly RunRule[],
  deviations: ArrayLike<number>,
  values: ArrayLike<number> = deviations,
): RunSignal[] {
  return rules.flatMap((rule) => {
    const stretches: [number, number][] = [];
    for (const index of pointsOfRule(rule, deviations, values)) {
      const open = stretches[stretches.length - 1];
      if (open && open[1] === index - 1) open[1] = index;
      else stretches.push([index, index]);
    }
    return stretches.map((ends) => signalOf(rule, ends, deviations, values));
  });
}

/** So many signals are told in full; a chart that signals everywhere is not read sentence by sentence. */
const mostSignalsTold = 6;

/** Sentences on the signals, the first few in full. */
export function tellSignals(signals: readonly { readonly words: string }[]): string[] {
  const told = signals.slice(0, mostSignalsTold).map((signal) => signal.words);
  const rest = signals.length - told.length;
  return rest > 0 ? [...told, `${rest} more signals of the run rules.`] : told;
}
