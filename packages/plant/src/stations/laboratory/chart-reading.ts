import {
  type Chart,
  calculationById,
  type EwmaOutput,
  nameOfRule,
  namePoints,
  type RunRule,
  runCalculation,
  type ShewhartVariablesInput,
  type ShewhartVariablesOutput,
} from '@cupel/calculation';
import type { ChartPointRow } from './chart-books.ts';
import { type ChartDrawingFacts, drawingsOf } from './chart-drawings.ts';
import { type ChartedThing, type ChartSubject, meaningOfSubject } from './chart-subjects.ts';

/** So many points set the limits: ISO 7870-2:2013 asks for about 20 at least. */
export const phaseOnePoints = 20;

/** Weight of the newest value in the weighted average. */
const smoothing = 0.2;

/**
 * Limit factor at which the average crosses its limits every 500 points in control, for a weight of
 * 0.2. Source: J. M. Lucas and M. S. Saccucci (1990), Technometrics 32, from memory; the test
 * computes the average run length anew.
 */
const limitFactor = 2.962;

/** A pattern in a control chart that chance alone seldom makes. */
export interface ChartSignal {
  /** Name of the rule as printed. */
  readonly rule: string;
  /** Numbers of the points that form it. */
  readonly points: readonly number[];
  readonly words: string;
}

/** The limits of a chart, and what they were set from. */
export interface ChartLimits {
  readonly centreLine: number;
  readonly lowerLimit: number;
  readonly upperLimit: number;
  readonly standardDeviation: number;
  /** Points that set them. */
  readonly points: number;
  /** Number of the last point that set them. */
  readonly through: number;
  /** True while there are fewer points than limits should be set from. */
  readonly isProvisional: boolean;
}

export type ChartReading =
  | { readonly state: 'no limits'; readonly words: string }
  | {
      readonly state: 'judged';
      readonly limits: ChartLimits;
      readonly signals: readonly ChartSignal[];
      readonly drawings: readonly Chart[];
      /** Calculations of the catalogue that judged it, each with its version. */
      readonly calculations: readonly string[];
    };

/** The points of a chart as far as they are read: those that set its limits, and the newest. */
export interface ChartPoints {
  readonly subject: ChartSubject;
  readonly of?: ChartedThing;
  readonly phaseOne: readonly ChartPointRow[];
  readonly newest: readonly ChartPointRow[];
  /** False where nobody looks at the chart itself, as in a list of all of them. */
  readonly isDrawn?: boolean;
}

type Ran<Output> =
  | { readonly output: Output; readonly name: string; readonly charts: readonly Chart[] }
  | { readonly refused: string };

function run<Output>(id: string, input: object, isDrawn: boolean): Ran<Output> {
  const calculation = calculationById(id);
  const result = runCalculation(calculation, input);
  if (result.outcome === 'refused') {
    const [problem] = result.problems;
    return { refused: `${String(problem?.value)}; accepted is ${problem?.accepted}` };
  }
  const drawn = isDrawn ? (calculation.draw?.(input, result.output) ?? []) : [];
  return {
    output: result.output as Output,
    name: `${id} version ${result.version}`,
    charts: drawn.filter((one) => one.kind === 'chart'),
  };
}

const isJudged = (point: ChartPointRow): boolean => point.state !== 'left out';
const counts = (point: ChartPointRow): boolean => point.state === 'counts';

/** The points that set the limits: up to the twentieth that counts, or all while there are fewer. */
export function phaseOneOf(points: readonly ChartPointRow[]): readonly ChartPointRow[] {
  const judged = points.filter(isJudged);
  const last = judged.filter(counts)[phaseOnePoints - 1];
  return last ? judged.filter((point) => point.number <= last.number) : judged;
}

function individuals(
  points: readonly ChartPointRow[],
  limits: ShewhartVariablesInput['limits'],
  rules: readonly RunRule[],
): ShewhartVariablesInput {
  const values = points.map((point) => point.value);
  return { data: { chart: 'individuals', values }, limits, rules: [...rules] };
}

/** Limits from the points that set them, void runs left aside. */
function limitsFrom(
  phaseOne: readonly ChartPointRow[],
  isRange: boolean,
): ChartLimits | { refused: string } {
  const excludedNumbers = phaseOne.flatMap((point, index) => (counts(point) ? [] : [index + 1]));
  const input = individuals(phaseOne, { from: 'data', excludedNumbers }, []);
  const ran = run<ShewhartVariablesOutput>('shewhart-variables', input, false);
  if ('refused' in ran) return ran;
  const { centreLine, standardDeviation, location } = ran.output;
  const { lowerLimit, upperLimit } = location[0] ?? {
    lowerLimit: centreLine,
    upperLimit: centreLine,
  };
  const points = phaseOne.length - excludedNumbers.length;
  return {
    centreLine,
    standardDeviation,
    lowerLimit: isRange ? Math.max(0, lowerLimit) : lowerLimit,
    upperLimit,
    points,
    through: phaseOne.at(-1)?.number ?? 0,
    isProvisional: points < phaseOnePoints,
  };
}

const perhaps = (points: number): string =>
  points === 1 ? 'There is one point' : `There are ${points} points`;

function withoutLimits(points: number, refused: string): ChartReading {
  return {
    state: 'no limits',
    words: `${perhaps(points)} that count, and no limits follow from them: ${refused}.`,
  };
}

/**
 * Provisional limits move with every point, and one stray shifts them under all the others: until
 * they are set, only a point beyond them signals.
 */
const provisionalRules: readonly RunRule[] = ['western-electric-1'];

function signalsOf(
  judged: readonly ChartPointRow[],
  limits: ChartLimits,
  shewhart: ShewhartVariablesOutput,
  averages: EwmaOutput,
): readonly ChartSignal[] {
  const numbersOf = (points: readonly number[]) =>
    points.map((point) => judged[point - 1]?.number ?? point);
  const ofRules = shewhart.signals.map(({ rule, points, words }) => {
    const numbers = numbersOf(points);
    // The calculation numbers the points that it was given; the chart numbers all it ever had.
    return {
      rule: nameOfRule(rule),
      points: numbers,
      words: `${namePoints(numbers)}${words.slice(words.indexOf(':'))}`,
    };
  });
  if (limits.isProvisional || averages.outside.length === 0) return ofRules;
  const points = numbersOf(averages.outside);
  const words = `${namePoints(points)}: weighted average outside its limits, the level has moved.`;
  return [...ofRules, { rule: 'Weighted average', points, words }];
}

/**
 * Reads a control chart: limits from its first points, the newest points judged by them with run
 * rules and by a weighted average. Void runs are judged but set no limits; points that were left
 * out are drawn only.
 */
export function readChart(chart: ChartPoints): ChartReading {
  const { phaseOne, newest, subject, isDrawn = true } = chart;
  const limits = limitsFrom(phaseOne, meaningOfSubject[subject].isRange);
  if ('refused' in limits) return withoutLimits(phaseOne.filter(counts).length, limits.refused);
  const judged = newest.filter(isJudged);
  const { centreLine: mean, standardDeviation } = limits;
  const standard = { from: 'standard' as const, mean, standardDeviation };
  const rules = limits.isProvisional ? provisionalRules : meaningOfSubject[subject].rules;
  const shewhart = run<ShewhartVariablesOutput>(
    'shewhart-variables',
    individuals(judged, standard, rules),
    isDrawn,
  );
  const weighted = {
    values: judged.map((point) => point.value),
    target: mean,
    standardDeviation,
    smoothing,
    limitFactor,
    limits: 'asymptotic',
  };
  const averages = run<EwmaOutput>('ewma', weighted, isDrawn);
  if ('refused' in shewhart) return withoutLimits(judged.length, shewhart.refused);
  if ('refused' in averages) return withoutLimits(judged.length, averages.refused);
  const of = chart.of ? { of: chart.of } : {};
  const facts: ChartDrawingFacts = { subject, ...of, newest, judged, limits };
  return {
    state: 'judged',
    limits,
    signals: signalsOf(judged, limits, shewhart.output, averages.output),
    drawings: isDrawn ? drawingsOf([...shewhart.charts, ...averages.charts], facts) : [],
    calculations: [...new Set([shewhart.name, averages.name])],
  };
}
