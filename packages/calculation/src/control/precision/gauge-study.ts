import { type Chart, defineCalculation } from '../../catalogue/calculation.ts';
import { requireDomain } from '../../quantity/domain.ts';
import { meanOf } from '../../quantity/sum.ts';
import {
  componentValue,
  type MeanSquareTerm,
  modifiedLargeSampleInterval,
  satterthwaiteInterval,
  type VarianceInterval,
} from './component-intervals.ts';
import {
  analysisRows,
  type ComponentTerms,
  componentTerms,
  gaugeAnalysis,
  ratioOf,
} from './gauge-analysis.ts';
import { type GaugeLayout, gaugeLayout } from './gauge-layout.ts';
import { gaugeByRanges } from './gauge-ranges.ts';
import { aiagReadings } from './gauge-study-example.ts';
import {
  type GaugeComponent,
  type GaugeStudyInput,
  type GaugeStudyOutput,
  gaugeStudyInput,
  gaugeStudyOutput,
} from './gauge-study-schema.ts';
import { inWords, measured } from './precision-fields.ts';

export {
  type GaugeStudyInput,
  type GaugeStudyOutput,
  gaugeStudyInput,
  gaugeStudyOutput,
} from './gauge-study-schema.ts';

type Source = GaugeComponent['source'];

const intervalNames = {
  'modified-large-sample':
    'modified large-sample (Graybill and Wang 1980; Ting and others 1990), exact for repeatability',
  satterthwaite: 'Satterthwaite (1946), exact for repeatability',
} as const;

/** Values of the components with those set to 0 that came out negative, and sums made of them. */
function variancesOf(terms: ComponentTerms): Record<Source, number> {
  const own = (source: Source) => Math.max(0, componentValue(terms[source]));
  const repeatability = own('repeatability');
  const operator = own('operator');
  const crossing = own('part-by-operator');
  const part = own('part');
  const reproducibility = operator + crossing;
  const gauge = reproducibility + repeatability;
  return {
    repeatability,
    operator,
    'part-by-operator': crossing,
    reproducibility,
    gauge,
    part,
    total: gauge + part,
  };
}

function intervalOf(
  terms: readonly MeanSquareTerm[],
  input: GaugeStudyInput,
): VarianceInterval | null {
  if (terms.length === 0 || terms.every((term) => term.meanSquare === 0)) return null;
  const confidence = input.confidencePercent / 100;
  // One mean square alone: both methods become the exact interval.
  return input.intervalMethod === 'satterthwaite' || terms.length === 1
    ? satterthwaiteInterval(terms, confidence)
    : modifiedLargeSampleInterval(terms, confidence);
}

function componentsOf(terms: ComponentTerms, input: GaugeStudyInput): GaugeComponent[] {
  const variances = variancesOf(terms);
  const total = variances.total;
  const sources = (Object.keys(variances) as Source[]).filter((source) => terms[source].length > 0);
  return sources.map((source) => {
    const variance = variances[source];
    const deviation = Math.sqrt(variance);
    const interval = intervalOf(terms[source], input);
    return {
      source,
      variance,
      estimate: componentValue(terms[source]),
      standardDeviation: deviation,
      contributionPercent: (100 * variance) / total,
      studyVariationPercent: 100 * Math.sqrt(variance / total),
      tolerancePercent:
        input.toleranceWidth === undefined
          ? null
          : (100 * input.studyMultiplier * deviation) / input.toleranceWidth,
      standardDeviationLower: interval ? Math.sqrt(interval.lower) : null,
      standardDeviationUpper: interval ? Math.sqrt(interval.upper) : null,
    };
  });
}

function gaugeWords(input: GaugeStudyInput, output: Omit<GaugeStudyOutput, 'words'>): string {
  const find = (source: Source) => output.components.find((one) => one.source === source);
  const gauge = find('gauge');
  const repeatability = find('repeatability');
  const reproducibility = find('reproducibility');
  if (!gauge || !repeatability || !reproducibility) return '';
  const lines = [
    `The gauge scatters by ${measured(gauge.standardDeviation, input.unit)} (repeatability ${inWords(repeatability.standardDeviation)}, between operators ${inWords(reproducibility.standardDeviation)}), ${inWords(gauge.studyVariationPercent)} % of the whole variation.`,
  ];
  if (gauge.tolerancePercent !== null) {
    lines.push(
      `It takes ${inWords(gauge.tolerancePercent)} % of the tolerance of ${measured(input.toleranceWidth ?? 0, input.unit)}.`,
    );
  }
  if (output.distinctCategoriesWhole !== null) {
    lines.push(
      `It tells the parts into ${output.distinctCategoriesWhole} distinct ${output.distinctCategoriesWhole === 1 ? 'category' : 'categories'}.`,
    );
  }
  if (output.isInteractionPooled) {
    lines.push(
      'Operators do not differ from part to part: the interaction is joined to repeatability.',
    );
  }
  const negative = output.components.filter((one) => one.estimate < 0);
  if (negative.length > 0) {
    lines.push(
      `Came out negative and taken as 0: ${negative.map((one) => one.source.replaceAll('-', ' ')).join(', ')}.`,
    );
  }
  return lines.join(' ');
}

/**
 * Study of a gauge and the people who use it: how much of the variation seen comes from the parts, and
 * how much from repeating and from changing the operator.
 *
 * Formula: analysis of variance with all effects random; crossed: parts × operators with interaction,
 * which joins repeatability when its probability is above the level given; nested: parts within
 * operators. Components from expected mean squares, negative ones set to 0; shares of variance, of
 * standard deviation, and of the tolerance with the study multiplier; distinct categories √2·part/gauge,
 * cut to a whole number and at least 1. Intervals of the components from their mean squares, before
 * negative estimates are set to 0.
 *
 * @param input readings with part and operator, equally many repeats; level for pooling in %, study
 *   multiplier, width of the tolerance if any, confidence in %, method of the intervals
 * @returns analysis of variance, components with intervals, categories, and for crossed studies the road by
 *   averages and ranges; nothing rounded
 * @throws DomainError for a study that is not balanced, is too small, or whose readings are all equal
 * Validity: readings normal, parts and operators drawn from those that matter. See
 * reference/gauge-studies; coverage of the intervals in laws/precision-intervals.
 * Source: D. C. Montgomery and G. C. Runger (1993), Quality Engineering 6, 289-305; R. K. Burdick, C. M.
 * Borror and D. C. Montgomery (2003), Journal of Quality Technology 35, 342-354; ISO 22514-7:2021 for the terms
 * @example gaugeStudy(gaugeStudyCalculation.example).distinctCategories // 4.875041
 */
export function gaugeStudy(input: GaugeStudyInput): GaugeStudyOutput {
  const layout = gaugeLayout(input.readings, input.design);
  const first = input.readings[0]?.value;
  requireDomain(
    input.readings.some((reading) => reading.value !== first),
    { field: 'readings', value: 'equal readings only', accepted: 'readings that differ' },
  );
  const analysis = gaugeAnalysis(layout, input.design);
  const interaction = analysis.interaction
    ? ratioOf(analysis.interaction, analysis.repeatability).probability
    : null;
  const isInteractionPooled =
    interaction !== null && interaction > input.poolingSignificancePercent / 100;
  const components = componentsOf(componentTerms(analysis, layout, isInteractionPooled), input);
  const deviationOf = (source: Source) =>
    components.find((one) => one.source === source)?.standardDeviation ?? 0;
  const gauge = deviationOf('gauge');
  const categories = gauge > 0 ? (Math.SQRT2 * deviationOf('part')) / gauge : null;
  const output = {
    partCount: layout.parts.length,
    operatorCount: layout.operators.length,
    repeatCount: layout.repeats,
    mean: analysis.mean,
    analysis: analysisRows(analysis),
    isInteractionPooled,
    components,
    distinctCategories: categories,
    distinctCategoriesWhole: categories === null ? null : Math.max(1, Math.floor(categories)),
    rangeMethod: input.design === 'crossed' ? gaugeByRanges(layout) : null,
    intervalMethod: intervalNames[input.intervalMethod],
  };
  return { ...output, words: gaugeWords(input, output) };
}

/** Most operators that get a line of their own. */
const mostLines = 6;

function operatorsChart(input: GaugeStudyInput, layout: GaugeLayout): Chart {
  const { parts, operators, cells } = layout;
  return {
    kind: 'chart',
    title: 'Mean of each operator on each part',
    xTitle: input.design === 'crossed' ? 'Part' : 'Part of the operator',
    yTitle: `${input.characteristic}, ${input.unit}`,
    series: operators.slice(0, mostLines).map((label, i) => ({
      label,
      kind: 'line',
      x: parts.map((_, j) => j + 1),
      y: parts.map((_, j) => meanOf(cells[i]?.[j] ?? [0])),
    })),
    ...(input.design === 'crossed' ? { xNames: parts.map((name, j) => ({ x: j + 1, name })) } : {}),
  };
}

function drawGauge(input: GaugeStudyInput, output: GaugeStudyOutput): Chart[] {
  const shown = output.components.filter((one) => one.source !== 'total');
  const x = shown.map((_, index) => index + 1);
  return [
    {
      kind: 'chart',
      title: 'Standard deviation of each source',
      xTitle: 'Source',
      yTitle: `Standard deviation, ${input.unit}`,
      series: [
        {
          label: 'with interval',
          kind: 'bars',
          x,
          y: shown.map((one) => one.standardDeviation),
          lower: shown.map((one) => one.standardDeviationLower ?? one.standardDeviation),
          upper: shown.map((one) => one.standardDeviationUpper ?? one.standardDeviation),
        },
      ],
      xNames: shown.map((one, index) => ({
        x: index + 1,
        name: one.source.replaceAll('-', ' '),
      })),
    },
    operatorsChart(input, gaugeLayout(input.readings, input.design)),
  ];
}

export const gaugeStudyCalculation = defineCalculation<GaugeStudyInput, GaugeStudyOutput>({
  id: 'gauge-study',
  version: 1,
  topic: 'control',
  title: 'Gauge study',
  purpose:
    'How much of the variation seen comes from the gauge and its operators, and whether the gauge is fine enough for the tolerance.',
  source:
    'D. C. Montgomery and G. C. Runger (1993); R. K. Burdick, C. M. Borror and D. C. Montgomery (2003); ISO 22514-7:2021; averages and ranges: common practice',
  input: gaugeStudyInput,
  output: gaugeStudyOutput,
  // Ten parts, three operators, three repeats: a worked example transcribed in many places; the
  // analysis gives gauge 0.302372 and part 1.042327.
  example: {
    characteristic: 'Deviation of the dimension',
    unit: 'mm',
    design: 'crossed',
    readings: aiagReadings,
    poolingSignificancePercent: 25,
    studyMultiplier: 6,
    toleranceWidth: 10,
    confidencePercent: 95,
    intervalMethod: 'modified-large-sample',
  },
  compute: gaugeStudy,
  draw: drawGauge,
});
