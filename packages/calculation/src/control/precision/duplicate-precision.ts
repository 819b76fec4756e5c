import { type Chart, defineCalculation } from '../../catalogue/calculation.ts';
import { upperChiSquareQuantile } from '../../quantity/chi-square.ts';
import { upperFisherProbability } from '../../quantity/fisher.ts';
import { medianOf } from '../../quantity/median.ts';
import { normalQuantile } from '../../quantity/normal.ts';
import { probabilityText } from '../../quantity/probability-text.ts';
import { compensatedSum } from '../../quantity/sum.ts';
import {
  groupsByLevel,
  type LevelledPair,
  likeliestLine,
  lineThroughGroups,
  medianDifferenceFactor,
} from './duplicate-lines.ts';
import {
  type DuplicatePrecisionInput,
  type DuplicatePrecisionOutput,
  duplicatePrecisionInput,
  duplicatePrecisionOutput,
} from './duplicate-precision-schema.ts';
import { inWords, listInWords, measured } from './precision-fields.ts';

export {
  type DuplicatePrecisionInput,
  type DuplicatePrecisionOutput,
  duplicatePrecisionInput,
  duplicatePrecisionOutput,
} from './duplicate-precision-schema.ts';

type Pair = DuplicatePrecisionInput['pairs'][number];
type Line = DuplicatePrecisionOutput['fitted'];

const levelOf = (pair: Pair): number => (pair.first + pair.second) / 2;
const differenceOf = (pair: Pair): number => pair.first - pair.second;

function levelled(pair: Pair): LevelledPair {
  return { level: Math.abs(levelOf(pair)), size: Math.abs(differenceOf(pair)) };
}

type Shift = Pick<
  DuplicatePrecisionOutput,
  'meanDifference' | 'differenceT' | 'differenceProbability'
>;

/** Mean of first less second with its t test. */
function shiftOf(pairs: readonly Pair[]): Shift {
  const count = pairs.length;
  const differences = pairs.map(differenceOf);
  const mean = compensatedSum(differences) / count;
  const squares = compensatedSum(differences.map((difference) => (difference - mean) ** 2));
  const error = Math.sqrt(squares / (count - 1) / count);
  if (!(error > 0)) return { meanDifference: mean, differenceT: null, differenceProbability: null };
  const t = mean / error;
  return {
    meanDifference: mean,
    differenceT: t,
    differenceProbability: upperFisherProbability(t * t, 1, count - 1),
  };
}

type Relative = Pick<
  DuplicatePrecisionOutput,
  'relativeStandardDeviationPercent' | 'medianDifferencePercent'
>;

function relativeOf(pairs: readonly LevelledPair[]): Relative {
  if (pairs.some((pair) => pair.level === 0)) {
    return { relativeStandardDeviationPercent: null, medianDifferencePercent: null };
  }
  const shares = pairs.map((pair) => pair.size / pair.level);
  const square = compensatedSum(shares.map((share) => share * share)) / (2 * pairs.length);
  return {
    relativeStandardDeviationPercent: 100 * Math.sqrt(square),
    medianDifferencePercent: 100 * medianOf(shares),
  };
}

/** Difference that two results at a level stay within, by a line. */
function limitAt(line: Line, level: number, confidence: number): number | null {
  if (!line) return null;
  const deviation = line.atZero + line.perLevel * level;
  return normalQuantile((1 + confidence) / 2) * Math.SQRT2 * deviation;
}

function duplicateWords(
  input: DuplicatePrecisionInput,
  output: Omit<DuplicatePrecisionOutput, 'words'>,
): string {
  const { unit } = input;
  const lines = [
    `${output.pairCount} pairs: one result scatters by ${measured(output.standardDeviation, unit)} over all levels.`,
  ];
  if (output.fitted) {
    lines.push(
      `By level: ${measured(output.fitted.atZero, unit)} at level 0, and ${inWords(100 * output.fitted.perLevel)} % of the level on top.`,
    );
  }
  if (output.differenceProbability !== null && output.differenceProbability < 0.05) {
    lines.push(
      `First and second results differ by ${measured(output.meanDifference, unit)} on average (probability ${probabilityText(output.differenceProbability)}): look for a cause.`,
    );
  }
  const beyond = output.pairs.filter((pair) => pair.isBeyond).map((pair) => pair.name);
  if (beyond.length > 0) {
    const some = beyond.length > 10 ? [...beyond.slice(0, 10), 'others'] : beyond;
    lines.push(
      `Beyond the limit: ${listInWords(some)}; ${inWords(output.expectedBeyondCount)} expected by chance.`,
    );
  }
  return lines.join(' ');
}

/**
 * Precision from duplicate results on many samples, as one figure and as it grows with the level.
 *
 * Formula: s = √(Σd²/(2n)); relative √(Σ(d/c)²/(2n)); mean difference with t. By level: medians of |d| in groups
 * of pairs of similar level, over 0.954, and the line s₀ + k·c through them; the same line by greatest
 * likelihood from all pairs. Limit of a difference: z·√2·(s₀ + k·c). Level with a precision of 100 %:
 * 2s₀/(1 − 2k).
 *
 * @param input 3 or more pairs in one unit, pairs in a group, confidence of limit and interval in %
 * @returns figures, groups, both lines, and each pair against its limit, nothing rounded
 * Validity: both results alike in method and scatter; levels taken without sign. Results at the
 * detection limit that were written as a fixed value make the scatter look smaller.
 * See reference/duplicate-pairs.
 * Source: M. Thompson and R. J. Howarth (1973), Analyst 98, 153-160; (1976), same 101, 690-698
 * @example duplicatePrecision(duplicatePrecisionCalculation.example).standardDeviation // 8.1495276
 */
export function duplicatePrecision(input: DuplicatePrecisionInput): DuplicatePrecisionOutput {
  const { pairs } = input;
  const count = pairs.length;
  const confidence = input.confidencePercent / 100;
  const sized = pairs.map(levelled);
  const sum = compensatedSum(sized.map((pair) => pair.size * pair.size)) / 2;
  const tail = (1 - confidence) / 2;
  const groups = groupsByLevel(sized, input.groupSizePairs);
  const fitted = likeliestLine(sized);
  const rows = pairs.map((pair, index) => {
    const { level, size } = sized[index] as LevelledPair;
    const limit = limitAt(fitted, level, confidence);
    return {
      name: pair.name,
      level: levelOf(pair),
      difference: differenceOf(pair),
      limit,
      isBeyond: limit !== null && size > limit,
    };
  });
  const output = {
    pairCount: count,
    mean: compensatedSum(pairs.map(levelOf)) / count,
    standardDeviation: Math.sqrt(sum / count),
    standardDeviationLower: Math.sqrt(sum / upperChiSquareQuantile(tail, count)),
    standardDeviationUpper: Math.sqrt(sum / upperChiSquareQuantile(1 - tail, count)),
    ...relativeOf(sized),
    ...shiftOf(pairs),
    groups,
    grouped: lineThroughGroups(groups),
    fitted,
    pairs: rows,
    beyondCount: rows.filter((row) => row.isBeyond).length,
    expectedBeyondCount: count * (1 - confidence),
  };
  return { ...output, words: duplicateWords(input, output) };
}

function drawDuplicates(input: DuplicatePrecisionInput, output: DuplicatePrecisionOutput): Chart[] {
  const points = output.pairs.map((pair) => ({
    x: Math.abs(pair.level),
    y: Math.abs(pair.difference),
    isBeyond: pair.isBeyond,
  }));
  const series = (label: string, isBeyond: boolean) => {
    const chosen = points.filter((point) => point.isBeyond === isBeyond);
    const [x, y] = [chosen.map((point) => point.x), chosen.map((point) => point.y)];
    return { label, kind: 'points' as const, x, y, standsOut: isBeyond };
  };
  const greatest = Math.max(...points.map((point) => point.x));
  const { fitted } = output;
  const limit = (level: number) => limitAt(fitted, level, input.confidencePercent / 100) ?? 0;
  const middle = (level: number) =>
    medianDifferenceFactor * ((fitted?.atZero ?? 0) + (fitted?.perLevel ?? 0) * level);
  const line = (label: string, at: (level: number) => number) => ({
    label,
    kind: 'line' as const,
    x: [0, greatest],
    y: [at(0), at(greatest)],
  });
  return [
    {
      kind: 'chart',
      title: `Differences of duplicates by level: ${input.characteristic}`,
      xTitle: `Mean of the pair, ${input.unit}`,
      yTitle: `Difference without sign, ${input.unit}`,
      series: [
        series('pairs', false),
        series('beyond', true),
        ...(fitted
          ? [line('half below', middle), line(`${input.confidencePercent} % below`, limit)]
          : []),
        {
          label: 'group medians',
          kind: 'points',
          x: output.groups.map((group) => group.level),
          y: output.groups.map((group) => group.medianDifference),
        },
      ],
    },
  ];
}

/** Sixteen pairs over three decades: Stanley (2003), Computers and Geosciences 29, 225-237. */
const stanleyPairs = [
  ['CS01', 1.71, 2.08],
  ['CS02', 1.01, 1.17],
  ['CS03', 33.7, 28.8],
  ['CS04', 476.0, 451.0],
  ['CS05', 444.0, 422.0],
  ['CS06', 75.6, 80.4],
  ['CS07', 0.68, 0.71],
  ['CS08', 1.68, 1.37],
  ['CS09', 0.42, 0.41],
  ['CS10', 10.8, 11.5],
  ['CS11', 179.0, 155.0],
  ['CS12', 1.75, 1.65],
  ['CS13', 1.87, 1.55],
  ['CS14', 400.0, 381.0],
  ['CS15', 0.61, 0.65],
  ['CS16', 19.3, 24.9],
] as const;

export const duplicatePrecisionCalculation = defineCalculation<
  DuplicatePrecisionInput,
  DuplicatePrecisionOutput
>({
  id: 'duplicate-precision',
  version: 1,
  topic: 'control',
  title: 'Precision from duplicates',
  purpose:
    'How well one result repeats, from pairs of results on many samples, and how that grows with the content.',
  source: 'M. Thompson and R. J. Howarth (1973), Analyst 98, 153-160; (1976), Analyst 101, 690-698',
  input: duplicatePrecisionInput,
  output: duplicatePrecisionOutput,
  // Pairs given by Stanley (2003): standard deviation from duplicates 8.1495, relative 9.202 %.
  example: {
    characteristic: 'Content',
    unit: 'mg/kg',
    pairs: stanleyPairs.map(([name, first, second]) => ({ name, first, second })),
    groupSizePairs: 5,
    confidencePercent: 99,
  },
  compute: duplicatePrecision,
  draw: drawDuplicates,
});
