import { type Chart, defineCalculation } from '../../catalogue/calculation.ts';
import { requireDomain } from '../../quantity/domain.ts';
import { compensatedSum } from '../../quantity/sum.ts';
import { mandelHCritical, mandelKCritical } from './extreme-tests.ts';
import { type Cell, scrutinise, testsOf, usualCount, verdictOf } from './laboratory-scrutiny.ts';
import { type OneWayAnalysis, oneWayAnalysis } from './one-way-analysis.ts';
import {
  type PrecisionExperimentInput,
  type PrecisionExperimentOutput,
  type PrecisionFigures,
  precisionExperimentInput,
  precisionExperimentOutput,
} from './precision-experiment-schema.ts';
import { listInWords, measured } from './precision-fields.ts';

export {
  type PrecisionExperimentInput,
  type PrecisionExperimentOutput,
  precisionExperimentInput,
  precisionExperimentOutput,
} from './precision-experiment-schema.ts';

type Laboratory = PrecisionExperimentInput['laboratories'][number];
type LaboratoryRow = PrecisionExperimentOutput['laboratories'][number];

/** Greatest difference of two results in 95 of 100 cases, in standard deviations, as the standard rounds it. */
const limitFactor = 2.8;

function figuresOf(analysis: OneWayAnalysis): PrecisionFigures {
  const within = analysis.meanSquareWithin;
  const between = (analysis.meanSquareBetween - within) / analysis.effectiveCount;
  const laboratoryCount = analysis.counts.length;
  const centre = compensatedSum(analysis.means) / laboratoryCount;
  const squares = compensatedSum(analysis.means.map((mean) => (mean - centre) ** 2));
  const repeatability = Math.sqrt(within);
  const reproducibility = Math.sqrt(within + Math.max(0, between));
  return {
    laboratoryCount,
    resultCount: compensatedSum(analysis.counts),
    generalMean: analysis.mean,
    repeatabilityStandardDeviation: repeatability,
    betweenLaboratoryStandardDeviation: Math.sqrt(Math.max(0, between)),
    isBetweenLaboratoryVarianceNegative: between < 0,
    reproducibilityStandardDeviation: reproducibility,
    repeatabilityLimit: limitFactor * repeatability,
    reproducibilityLimit: limitFactor * reproducibility,
    standardDeviationOfMeans: Math.sqrt(squares / (laboratoryCount - 1)),
    effectiveReplicates: analysis.effectiveCount,
  };
}

const isUsed = (laboratory: Laboratory): boolean =>
  !laboratory.isExcluded && laboratory.results.length >= 2;

function laboratoryRow(
  laboratory: Laboratory,
  cells: readonly Cell[],
  centre: number,
  deviation: number,
): LaboratoryRow {
  const { name, results } = laboratory;
  const laboratories = cells.length;
  const cell = cells.find((candidate) => candidate.name === name);
  if (!cell || !isUsed(laboratory)) {
    const mean = results.length > 0 ? compensatedSum(results) / results.length : null;
    const squares = compensatedSum(results.map((result) => (result - (mean ?? 0)) ** 2));
    return {
      name,
      resultCount: results.length,
      isUsed: false,
      mean,
      standardDeviation: results.length < 2 ? null : Math.sqrt(squares / (results.length - 1)),
      h: null,
      hVerdict: null,
      k: null,
      kVerdict: null,
    };
  }
  const total = compensatedSum(cells.map((one) => one.standardDeviation ** 2));
  const h = deviation > 0 ? (cell.mean - centre) / deviation : 0;
  const k = total > 0 ? cell.standardDeviation * Math.sqrt(laboratories / total) : 0;
  return {
    name,
    resultCount: cell.count,
    isUsed: true,
    mean: cell.mean,
    standardDeviation: cell.standardDeviation,
    h,
    hVerdict: verdictOf(
      Math.abs(h),
      mandelHCritical(0.05, laboratories),
      mandelHCritical(0.01, laboratories),
    ),
    k,
    kVerdict: verdictOf(
      k,
      mandelKCritical(0.05, laboratories, cell.count),
      mandelKCritical(0.01, laboratories, cell.count),
    ),
  };
}

function experimentWords(
  input: PrecisionExperimentInput,
  figures: PrecisionFigures,
  scrutiny: PrecisionExperimentOutput['scrutiny'],
): string {
  const { unit } = input;
  const lines = [
    `${input.characteristic}: ${figures.laboratoryCount} laboratories, ${figures.resultCount} results, mean ${measured(figures.generalMean, unit)}.`,
    `Two results of one laboratory should differ by at most ${measured(figures.repeatabilityLimit, unit)}, results of two laboratories by at most ${measured(figures.reproducibilityLimit, unit)} (95 %).`,
  ];
  if (figures.isBetweenLaboratoryVarianceNegative) {
    lines.push(
      'The laboratories differ less than their own scatter explains: between them, 0 is taken.',
    );
  }
  const leftOut = input.laboratories.filter((laboratory) => !isUsed(laboratory));
  if (leftOut.length > 0) {
    lines.push(`Left out: ${listInWords(leftOut.map((laboratory) => laboratory.name))}.`);
  }
  lines.push(
    scrutiny.length === 0
      ? 'No laboratory is an outlier at 1 %.'
      : `Outliers at 1 %: ${listInWords(scrutiny.flatMap((test) => test.laboratories))}; look for the cause, then leave them out.`,
  );
  return lines.join(' ');
}

/**
 * Precision of a method from results of several laboratories on one material: repeatability,
 * reproducibility, and the laboratories that do not fit.
 *
 * Formula: one-way analysis of variance; s_r² = mean square within; s_L² = (mean square between −
 * s_r²)/n̿, 0 where negative, n̿ = (N − Σn²/N)/(p − 1); s_R² = s_r² + s_L²; r = 2.8 s_r, R = 2.8 s_R. Mandel's
 * h = (mean − mean of means)/s of means, k = s·√(p/Σs²). Cochran on the spreads; Grubbs on the
 * means for one and for two laboratories at either end. Beyond the 5 % value a straggler, beyond the
 * 1 % value an outlier.
 *
 * @param input 3 or more laboratories with 2 or more results each, in one unit, numbers may differ;
 *   laboratories with fewer results, or marked as left out, are only listed
 * @returns figures with all laboratories used and without the outliers found in turn; tests with
 *   computed critical values; h and k; nothing rounded
 * @throws DomainError for fewer than 3 usable laboratories, equal names or results that never vary
 * Validity: results normal but for outliers; numbers of results may differ somewhat, Cochran then
 * uses the number that most laboratories have. See reference/iso-5725-2.
 * Source: ISO 5725-2:1994, 7.3 and 7.4; J. Mandel (1985) for h and k
 * @example precisionExperiment(precisionExperimentCalculation.example).repeatabilityStandardDeviation // 1.0632
 */
export function precisionExperiment(input: PrecisionExperimentInput): PrecisionExperimentOutput {
  const names = input.laboratories.map((laboratory) => laboratory.name);
  requireDomain(new Set(names).size === names.length, {
    field: 'laboratories',
    value: names.join(', '),
    accepted: 'laboratories with names that differ',
  });
  const used = input.laboratories.filter(isUsed);
  requireDomain(used.length >= 3, {
    field: 'laboratories',
    value: `${used.length} usable`,
    accepted: 'at least 3 laboratories with 2 results or more that are not left out',
  });
  const analysis = oneWayAnalysis(used.map((laboratory) => laboratory.results));
  requireDomain(analysis.meanSquareWithin > 0, {
    field: 'laboratories',
    value: 'equal results within every laboratory',
    accepted: 'results that vary within at least one laboratory',
  });
  const cells = used.map((laboratory, index) => ({
    name: laboratory.name,
    count: laboratory.results.length,
    mean: analysis.means[index] as number,
    standardDeviation: analysis.standardDeviations[index] as number,
  }));
  const figures = figuresOf(analysis);
  const centre = compensatedSum(analysis.means) / cells.length;
  const scrutiny = scrutinise(cells);
  const gone = new Set(scrutiny.flatMap((test) => test.laboratories));
  const kept = used.filter((laboratory) => !gone.has(laboratory.name));
  const replicates = usualCount(cells);
  return {
    ...figures,
    laboratories: input.laboratories.map((laboratory) =>
      laboratoryRow(laboratory, cells, centre, figures.standardDeviationOfMeans),
    ),
    h5Percent: mandelHCritical(0.05, cells.length),
    h1Percent: mandelHCritical(0.01, cells.length),
    k5Percent: mandelKCritical(0.05, cells.length, replicates),
    k1Percent: mandelKCritical(0.01, cells.length, replicates),
    tests: testsOf(cells),
    scrutiny,
    withoutOutliers:
      gone.size === 0 ? null : figuresOf(oneWayAnalysis(kept.map(({ results }) => results))),
    words: experimentWords(input, figures, scrutiny),
  };
}

function indicatorChart(
  output: PrecisionExperimentOutput,
  title: string,
  value: (row: LaboratoryRow) => number | null,
  levels: Chart['levels'],
): Chart {
  const places = output.laboratories.map((row, index) => ({ x: index + 1, y: value(row), row }));
  const verdict = (row: LaboratoryRow) => (title === 'Mandel h' ? row.hVerdict : row.kVerdict);
  const series = (label: string, standsOut: boolean) => {
    const chosen = places.filter(
      ({ y, row }) => y !== null && (verdict(row) === 'outlier') === standsOut,
    );
    return {
      label,
      kind: 'bars' as const,
      x: chosen.map(({ x }) => x),
      y: chosen.map(({ y }) => y ?? 0),
      standsOut,
    };
  };
  return {
    kind: 'chart',
    title,
    xTitle: 'Laboratory',
    yTitle: title === 'Mandel h' ? 'h' : 'k',
    series: [series('within', false), series('beyond 1 %', true)],
    ...(levels ? { levels } : {}),
    xNames: places.map(({ x, row }) => ({ x, name: row.name })),
  };
}

function resultsChart(input: PrecisionExperimentInput, output: PrecisionExperimentOutput): Chart {
  const points = input.laboratories.flatMap((laboratory, index) =>
    laboratory.results.map((y) => ({ x: index + 1, y, used: isUsed(laboratory) })),
  );
  const series = (label: string, used: boolean) => {
    const chosen = points.filter((point) => point.used === used);
    const [x, y] = [chosen.map((point) => point.x), chosen.map((point) => point.y)];
    return { label, kind: 'points' as const, x, y };
  };
  return {
    kind: 'chart',
    title: input.characteristic,
    xTitle: 'Laboratory',
    yTitle: `Result, ${input.unit}`,
    series: [series('used', true), series('left out', false)],
    levels: [{ y: output.generalMean, label: 'mean' }],
    xNames: output.laboratories.map((row, index) => ({ x: index + 1, name: row.name })),
  };
}

function drawExperiment(
  input: PrecisionExperimentInput,
  output: PrecisionExperimentOutput,
): Chart[] {
  return [
    resultsChart(input, output),
    indicatorChart(output, 'Mandel h', (row) => row.h, [
      { y: output.h1Percent, label: '1 %' },
      { y: output.h5Percent, label: '5 %' },
      { y: -output.h5Percent, label: '5 %' },
      { y: -output.h1Percent, label: '1 %' },
    ]),
    indicatorChart(output, 'Mandel k', (row) => row.k, [
      { y: output.k1Percent, label: '1 %' },
      { y: output.k5Percent, label: '5 %' },
    ]),
  ];
}

const glucoseResults = [
  [41.03, 41.45, 41.37],
  [41.17, 42.0, 41.15],
  [41.01, 40.68, 42.66],
  [39.37, 42.37, 42.63],
  [41.88, 41.19, 41.32],
  [43.28, 40.5, 42.28],
  [41.08, 41.27, 39.02],
  [43.36, 42.65, 41.72],
];

export const precisionExperimentCalculation = defineCalculation<
  PrecisionExperimentInput,
  PrecisionExperimentOutput
>({
  id: 'precision-experiment',
  version: 1,
  topic: 'control',
  title: 'Repeatability and reproducibility',
  purpose:
    'What two results of one laboratory, and of two laboratories, may differ by, from a collaborative experiment; and which laboratories do not fit.',
  source:
    'ISO 5725-2:1994, 7.3 and 7.4, Tables 4 to 7; J. Mandel (1985), indicators h and k; critical values computed',
  input: precisionExperimentInput,
  output: precisionExperimentOutput,
  // Glucose in serum, material A of the example of ASTM E691: s_r 1.0632, h of laboratory 7 −1.752.
  example: {
    characteristic: 'Glucose in serum, material A',
    unit: 'mg/dL',
    laboratories: glucoseResults.map((results, index) => ({
      name: `Laboratory ${index + 1}`,
      results,
      isExcluded: false,
    })),
  },
  compute: precisionExperiment,
  draw: drawExperiment,
});
