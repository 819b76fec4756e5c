import { type Chart, defineCalculation } from '../../catalogue/calculation.ts';
import { requireDomain } from '../../quantity/domain.ts';
import { probabilityText } from '../../quantity/probability-text.ts';
import { compensatedSum } from '../../quantity/sum.ts';
import { centredReadings, meanOfDistances, squaresAbout } from './centred-readings.ts';
import {
  type DixonRatio,
  dixonCritical,
  dixonProbability,
  dixonRatioFor,
  dixonRatios,
  dixonStatistic,
} from './dixon-ratio.ts';
import {
  cochranCritical,
  cochranProbability,
  grubbsCritical,
  grubbsProbability,
  rangeRatioCritical,
  rangeRatioProbability,
} from './extreme-tests.ts';
import { grubbsPairCritical, grubbsPairProbability } from './largest-deviate.ts';
import {
  type OutlierTestsInput,
  type OutlierTestsOutput,
  outlierTestsInput,
  outlierTestsOutput,
} from './outlier-tests-schema.ts';
import { inWords, listInWords } from './precision-fields.ts';

export {
  type OutlierTestsInput,
  type OutlierTestsOutput,
  outlierTestsInput,
  outlierTestsOutput,
} from './outlier-tests-schema.ts';

type TestRow = OutlierTestsOutput['tests'][number];
type ResultsForm = Extract<OutlierTestsInput['data'], { kind: 'results' }>;
type SpreadsForm = Extract<OutlierTestsInput['data'], { kind: 'spreads' }>;

/** Most results for which Dixon's ratios are offered. */
const mostForDixon = 40;

/** Results turned so that the suspect side is at the end, as distances from one of them. */
interface Turned {
  readonly side: 'highest' | 'lowest';
  readonly ascending: Float64Array;
  /** The results themselves, in the same order. */
  readonly readings: readonly number[];
  readonly mean: number;
  readonly squares: number;
}

function turn(readings: readonly number[], side: 'highest' | 'lowest'): Turned {
  const sorted = readings.toSorted((a, b) => (side === 'highest' ? a - b : b - a));
  const [distances] = centredReadings([sorted]).groups as readonly [Float64Array];
  const ascending = side === 'highest' ? distances : distances.map((one) => -one);
  const mean = meanOfDistances(ascending);
  return { side, ascending, readings: sorted, mean, squares: squaresAbout(ascending, mean) };
}

/**
 * Grubbs' statistic for the two largest of ascending values: what is left of the sum of squares
 * without them, from 0 to 1.
 *
 * @param ascending 4 or more values, not all equal
 * @returns ratio of the sums of squares about their means
 * @example grubbsPairStatistic([1, 2, 3, 10]) // 0.01
 */
export function grubbsPairStatistic(ascending: ArrayLike<number>): number {
  const all = Float64Array.from(ascending);
  const rest = all.slice(0, -2);
  return squaresAbout(rest, meanOfDistances(rest)) / squaresAbout(all, meanOfDistances(all));
}

/** The last results of the turned list, the extreme one first. */
const lastOf = (turned: Turned, count: number): string[] =>
  turned.readings.slice(-count).toReversed().map(String);

function grubbsRow(turned: Turned, level: number, sides: number): TestRow {
  const count = turned.ascending.length;
  const deviation = Math.sqrt(turned.squares / (count - 1));
  const statistic = ((turned.ascending[count - 1] as number) - turned.mean) / deviation;
  const criticalValue = grubbsCritical(level, count);
  return {
    test: 'grubbs-one',
    side: turned.side,
    suspects: lastOf(turned, 1),
    statistic,
    criticalValue,
    probability: Math.min(1, sides * grubbsProbability(statistic, count)),
    isOutlier: statistic > criticalValue,
  };
}

function pairRow(turned: Turned, level: number, sides: number): TestRow {
  const count = turned.ascending.length;
  const statistic = grubbsPairStatistic(turned.ascending);
  const criticalValue = grubbsPairCritical(level, count);
  return {
    test: 'grubbs-pair-same-side',
    side: turned.side,
    suspects: lastOf(turned, 2),
    statistic,
    criticalValue,
    probability: Math.min(1, sides * grubbsPairProbability(statistic, count)),
    isOutlier: statistic < criticalValue,
  };
}

function dixonRow(turned: Turned, level: number, sides: number, ratio: DixonRatio): TestRow {
  const count = turned.ascending.length;
  const statistic = dixonStatistic(Array.from(turned.ascending), ratio);
  const criticalValue = dixonCritical(level, count, ratio);
  return {
    test: 'dixon',
    side: turned.side,
    suspects: lastOf(turned, 1),
    statistic,
    criticalValue,
    probability: Math.min(1, sides * dixonProbability(statistic, count, ratio)),
    isOutlier: statistic > criticalValue,
  };
}

function oppositeRow(turned: Turned, significance: number): TestRow {
  const count = turned.ascending.length;
  const range = (turned.ascending[count - 1] as number) - (turned.ascending[0] as number);
  const statistic = range / Math.sqrt(turned.squares / (count - 1));
  const criticalValue = rangeRatioCritical(significance, count);
  return {
    test: 'grubbs-pair-opposite',
    side: 'both',
    suspects: [turned.readings[0], turned.readings[count - 1]].map(String),
    statistic,
    criticalValue,
    probability: rangeRatioProbability(statistic, count),
    isOutlier: statistic > criticalValue,
  };
}

function resultRows(data: ResultsForm, significance: number): TestRow[] {
  const count = data.results.length;
  const ratio = data.dixonRatio === 'by-number' ? dixonRatioFor(count) : data.dixonRatio;
  const { near, far } = dixonRatios[ratio];
  const sides = data.side === 'either' ? (['highest', 'lowest'] as const) : ([data.side] as const);
  const level = significance / sides.length;
  const turned = sides.map((side) => turn(data.results, side));
  const isForDixon = count <= mostForDixon && count >= near + far + 2;
  return [
    ...turned.map((one) => grubbsRow(one, level, sides.length)),
    ...(count >= 4 ? turned.map((one) => pairRow(one, level, sides.length)) : []),
    ...(data.side === 'either' && turned[0] ? [oppositeRow(turned[0], significance)] : []),
    ...(isForDixon ? turned.map((one) => dixonRow(one, level, sides.length, ratio)) : []),
  ];
}

function spreadRow(data: SpreadsForm, significance: number): TestRow {
  const variances = data.groups.map((group) => group.standardDeviation ** 2);
  const total = compensatedSum(variances);
  requireDomain(total > 0, {
    field: 'data.groups',
    value: 'standard deviations of 0 only',
    accepted: 'at least one standard deviation above 0',
  });
  const largest = Math.max(...variances);
  const statistic = largest / total;
  const criticalValue = cochranCritical(significance, variances.length, data.replicates);
  return {
    test: 'cochran',
    side: 'largest-spread',
    suspects: [data.groups[variances.indexOf(largest)]?.name ?? ''],
    statistic,
    criticalValue,
    probability: cochranProbability(statistic, variances.length, data.replicates),
    isOutlier: statistic > criticalValue,
  };
}

const testNames: Readonly<Record<TestRow['test'], string>> = {
  'grubbs-one': 'Grubbs',
  'grubbs-pair-same-side': 'Grubbs for a pair',
  'grubbs-pair-opposite': 'Grubbs for both ends',
  dixon: 'Dixon',
  cochran: 'Cochran',
};

function outlierWords(rows: readonly TestRow[], significancePercent: number): string {
  const significant = rows.filter((row) => row.isOutlier);
  // One gross result makes every pair that holds it significant as well.
  const isSingle = (row: TestRow) => !row.test.startsWith('grubbs-pair');
  const singles = significant.filter(isSingle);
  const found = singles.length > 0 ? singles : significant;
  const level = `at ${inWords(significancePercent)} %`;
  if (found.length === 0) return `No test finds an outlier ${level}: keep every result.`;
  const sentences = found.map(
    (row) =>
      `${testNames[row.test]} finds ${listInWords(row.suspects)} out of line ${level} (${inWords(row.statistic)} against ${inWords(row.criticalValue)}, probability ${probabilityText(row.probability)}).`,
  );
  return `${sentences.join(' ')} Look for the cause before anything is left out.`;
}

/**
 * Tests for results that lie too far from the others, and for groups that spread too much. They are
 * alternatives: one test, chosen beforehand, decides; the others show what it may have hidden.
 *
 * Formula: Grubbs for one result, |x − mean|/s; for two on one side, Σ(x − x̄)² without them over that
 * of all; for one at each end, range/s; Dixon's ratio of gap to range; Cochran, the largest variance
 * over the sum of variances. Where either side is watched each side takes half of the significance.
 *
 * @param input 3 to 200 results in one unit with the side watched and Dixon's ratio, or 2 to 200
 *   standard deviations of equal numbers of results; significance in %
 * @returns for each test statistic, critical value, probability and whether it is significant
 * @throws DomainError where all results are equal
 * Validity: results independent and normal but for outliers. The pair on one side from 4 results,
 * Dixon up to 40. Critical values are computed, not looked up; see reference/iso-5725-2,
 * reference/dixon-ratios and laws/precision-outliers.
 * Source: F. E. Grubbs (1950), Annals of Mathematical Statistics 21, 27-58; W. J. Dixon (1951), same
 * 22, 68-78; W. G. Cochran (1941), Annals of Eugenics 11, 47-52; ISO 5725-2:1994, 7.3
 * @example outlierTests({ data: { kind: 'results', side: 'highest', dixonRatio: 'by-number',
 *   results: [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57] },
 *   unit: '1', significancePercent: 5 }).tests[0].statistic // 2.46876
 */
export function outlierTests(input: OutlierTestsInput): OutlierTestsOutput {
  const { data } = input;
  const significance = input.significancePercent / 100;
  if (data.kind === 'spreads') {
    const tests = [spreadRow(data, significance)];
    const words = outlierWords(tests, input.significancePercent);
    return { count: data.groups.length, mean: null, standardDeviation: null, tests, words };
  }
  requireDomain(
    data.results.some((result) => result !== data.results[0]),
    {
      field: 'data.results',
      value: 'equal results only',
      accepted: 'results that are not all equal',
    },
  );
  const tests = resultRows(data, significance);
  const centred = centredReadings([data.results]);
  const [distances] = centred.groups as readonly [Float64Array];
  const mean = meanOfDistances(distances);
  const variance = squaresAbout(distances, mean) / (data.results.length - 1);
  return {
    count: data.results.length,
    mean: centred.origin + mean / centred.scale,
    standardDeviation: Math.sqrt(variance) / centred.scale,
    tests,
    words: outlierWords(tests, input.significancePercent),
  };
}

function drawOutliers(input: OutlierTestsInput, output: OutlierTestsOutput): Chart[] {
  const { data, unit } = input;
  const suspects = new Set(
    output.tests.filter((row) => row.isOutlier).flatMap((row) => row.suspects),
  );
  const values =
    data.kind === 'results'
      ? data.results.map((value) => ({ value, name: String(value) }))
      : data.groups.map((group) => ({ value: group.standardDeviation, name: group.name }));
  const points = values.map((one, index) => ({ ...one, place: index + 1 }));
  const series = (label: string, standsOut: boolean) => {
    const chosen = points.filter((point) => suspects.has(point.name) === standsOut);
    return {
      label,
      kind: data.kind === 'results' ? ('points' as const) : ('bars' as const),
      x: chosen.map((point) => point.place),
      y: chosen.map((point) => point.value),
      standsOut,
    };
  };
  return [
    {
      kind: 'chart',
      title: data.kind === 'results' ? 'Results in the order given' : 'Spread of the groups',
      xTitle: data.kind === 'results' ? 'Place in the list' : 'Group',
      yTitle: `${data.kind === 'results' ? 'Result' : 'Standard deviation'}, ${unit}`,
      series: [series('kept', false), series('out of line', true)],
      ...(output.mean === null ? {} : { levels: [{ y: output.mean, label: 'mean' }] }),
      ...(data.kind === 'results'
        ? {}
        : { xNames: points.map((point) => ({ x: point.place, name: point.name })) }),
    },
  ];
}

export const outlierTestsCalculation = defineCalculation<OutlierTestsInput, OutlierTestsOutput>({
  id: 'outlier-tests',
  version: 1,
  topic: 'control',
  title: 'Outlier tests',
  purpose:
    'Tells whether a result stands too far from its fellows, or one group scatters more than the others, to be chance.',
  source:
    'F. E. Grubbs (1950, 1969); W. J. Dixon (1951); W. G. Cochran (1941); ISO 5725-2:1994, 7.3',
  input: outlierTestsInput,
  output: outlierTestsOutput,
  // Isotope ratios of uranium after Tietjen and Moore (1972), in the NIST/SEMATECH e-Handbook, 1.3.5.17.1.
  example: {
    data: {
      kind: 'results',
      results: [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57],
      side: 'highest',
      dixonRatio: 'by-number',
    },
    unit: '1',
    significancePercent: 5,
  },
  compute: outlierTests,
  draw: drawOutliers,
});
