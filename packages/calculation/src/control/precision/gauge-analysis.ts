import { upperFisherProbability } from '../../quantity/fisher.ts';
import { compensatedSum, meanOf } from '../../quantity/sum.ts';
import { centredReadings, meanOfDistances, squaresAbout } from './centred-readings.ts';
import type { MeanSquareTerm } from './component-intervals.ts';
import type { GaugeLayout } from './gauge-layout.ts';
import type { GaugeAnalysisRow } from './gauge-study-schema.ts';

/** A mean square with its degrees of freedom. */
export interface MeanSquare {
  readonly sumOfSquares: number;
  readonly degreesOfFreedom: number;
  readonly meanSquare: number;
}

/** Mean squares of a balanced study; the part row of a nested study lies within operators. */
export interface GaugeAnalysis {
  readonly mean: number;
  readonly part: MeanSquare;
  readonly operator: MeanSquare;
  /** None in a nested study. */
  readonly interaction: MeanSquare | null;
  readonly repeatability: MeanSquare;
}

/** Components as sums of mean squares, by source. */
export type ComponentTerms = Readonly<
  Record<
    | 'repeatability'
    | 'operator'
    | 'part-by-operator'
    | 'reproducibility'
    | 'gauge'
    | 'part'
    | 'total',
    readonly MeanSquareTerm[]
  >
>;

function meanSquareOf(sumOfSquares: number, degreesOfFreedom: number): MeanSquare {
  return { sumOfSquares, degreesOfFreedom, meanSquare: sumOfSquares / degreesOfFreedom };
}

function squaresOf(values: readonly number[], centre: number): number {
  return compensatedSum(values.map((value) => (value - centre) ** 2));
}

/**
 * Analysis of variance of a balanced gauge study.
 *
 * Formula: sums of squares of operator means, of part means and of cell means about what lower terms
 * explain, times the readings behind each mean; repeatability from the readings about their cell mean.
 *
 * @param layout balanced study
 * @param design crossed with interaction, or parts nested in operators
 * @returns mean squares in the square of the unit of the readings
 * Validity: accuracy that of doubles, readings taken as decimals from an origin among them.
 * Source: R. A. Fisher (1925), Statistical Methods for Research Workers; D. C. Montgomery and G. C. Runger
 * (1993), Quality Engineering 6, 289-305
 */
export function gaugeAnalysis(layout: GaugeLayout, design: 'crossed' | 'nested'): GaugeAnalysis {
  const { operators, parts, repeats, cells } = layout;
  const centred = centredReadings(cells.flat());
  const square = centred.scale ** 2;
  const cellMeans = centred.groups.map((cell) => meanOfDistances(cell));
  const within = centred.groups.map((cell, i) => squaresAbout(cell, cellMeans[i] as number));
  const [a, b] = [operators.length, parts.length];
  const meanAt = (i: number, j: number): number => cellMeans[i * b + j] as number;
  const grand = meanOf(cellMeans);
  const rows = operators.map((_, i) => meanOf(parts.map((__, j) => meanAt(i, j))));
  const columns = parts.map((_, j) => meanOf(operators.map((__, i) => meanAt(i, j))));
  const scaled = (factor: number, squares: number): number => (factor * squares) / square;
  const residuals = cellMeans.map((mean, index) => {
    const row = rows[Math.floor(index / b)] as number;
    return design === 'nested' ? mean - row : mean - row - (columns[index % b] as number) + grand;
  });
  const left = scaled(repeats, squaresOf(residuals, 0));
  return {
    mean: centred.origin + grand / centred.scale,
    operator: meanSquareOf(scaled(b * repeats, squaresOf(rows, grand)), a - 1),
    part:
      design === 'nested'
        ? meanSquareOf(left, a * (b - 1))
        : meanSquareOf(scaled(a * repeats, squaresOf(columns, grand)), b - 1),
    interaction: design === 'nested' ? null : meanSquareOf(left, (a - 1) * (b - 1)),
    repeatability: meanSquareOf(compensatedSum(within) / square, a * b * (repeats - 1)),
  };
}

/** F of a mean square against another, with its probability; none where the other is 0. */
export function ratioOf(
  upper: MeanSquare,
  lower: MeanSquare,
): { ratio: number | null; probability: number | null } {
  if (!(lower.meanSquare > 0)) return { ratio: null, probability: null };
  const ratio = upper.meanSquare / lower.meanSquare;
  const probability = upperFisherProbability(ratio, upper.degreesOfFreedom, lower.degreesOfFreedom);
  return { ratio, probability };
}

/** The rows of the analysis of variance, each against the mean square that it is judged by. */
export function analysisRows(analysis: GaugeAnalysis): GaugeAnalysisRow[] {
  const { part, operator, interaction, repeatability } = analysis;
  const row = (
    source: GaugeAnalysisRow['source'],
    one: MeanSquare,
    against: MeanSquare | null,
  ): GaugeAnalysisRow => ({
    source,
    ...one,
    ...(against ? ratioOf(one, against) : { ratio: null, probability: null }),
  });
  return [
    row('part', part, interaction ?? repeatability),
    row('operator', operator, interaction ?? part),
    ...(interaction ? [row('part-by-operator', interaction, repeatability)] : []),
    row('repeatability', repeatability, null),
  ];
}

/** Repeatability with the interaction joined to it. */
function pooled(analysis: GaugeAnalysis): MeanSquare {
  const { interaction, repeatability } = analysis;
  if (!interaction) return repeatability;
  return meanSquareOf(
    interaction.sumOfSquares + repeatability.sumOfSquares,
    interaction.degreesOfFreedom + repeatability.degreesOfFreedom,
  );
}

/** A factor on a mean square. */
interface Share {
  readonly factor: number;
  readonly of: MeanSquare;
}

/** Components that are sums of others, with the factors of equal mean squares added up. */
function added(...groups: readonly (readonly Share[])[]): Share[] {
  const factors = new Map<MeanSquare, number>();
  for (const { factor, of } of groups.flat()) factors.set(of, (factors.get(of) ?? 0) + factor);
  return [...factors].map(([of, factor]) => ({ factor, of }));
}

function termsOf(shares: readonly Share[]): MeanSquareTerm[] {
  return shares
    .filter((share) => Math.abs(share.factor) > 1e-12)
    .map(({ factor, of }) => ({
      coefficient: factor,
      meanSquare: of.meanSquare,
      degreesOfFreedom: of.degreesOfFreedom,
    }));
}

/** (Upper less lower mean square) over the readings behind one level. */
const difference = (upper: MeanSquare, lower: MeanSquare, readings: number): Share[] => [
  { factor: 1 / readings, of: upper },
  { factor: -1 / readings, of: lower },
];

/**
 * Variance components of the study as sums of its mean squares, all effects random.
 *
 * Formula: crossed: interaction (MS_PO − MS_E)/r, operator (MS_O − MS_PO)/(p·r), part (MS_P −
 * MS_PO)/(o·r); with the interaction pooled MS_E of both together stands in place of MS_PO; nested: part
 * (MS_P − MS_E)/r, operator (MS_O − MS_P)/(p·r). Reproducibility is operator and interaction, gauge
 * is reproducibility and repeatability, total is gauge and part.
 *
 * @param analysis of the study
 * @param layout of the study
 * @param isPooled whether the interaction joins repeatability
 * @returns terms of each component
 * Source: D. C. Montgomery and G. C. Runger (1993), Quality Engineering 6, 289-305
 */
export function componentTerms(
  analysis: GaugeAnalysis,
  layout: GaugeLayout,
  isPooled: boolean,
): ComponentTerms {
  const { operators, parts, repeats: r } = layout;
  const { part: p, operator: o, interaction } = analysis;
  const e = isPooled ? pooled(analysis) : analysis.repeatability;
  const po = isPooled || !interaction ? e : interaction;
  const isNested = interaction === null;
  const repeatability: Share[] = [{ factor: 1, of: e }];
  const crossing = isPooled || isNested ? [] : difference(po, e, r);
  const operator = difference(o, isNested ? p : po, parts.length * r);
  const part = isNested ? difference(p, e, r) : difference(p, po, operators.length * r);
  const reproducibility = added(operator, crossing);
  const gauge = added(reproducibility, repeatability);
  return {
    repeatability: termsOf(repeatability),
    operator: termsOf(operator),
    'part-by-operator': termsOf(crossing),
    reproducibility: termsOf(reproducibility),
    gauge: termsOf(gauge),
    part: termsOf(part),
    total: termsOf(added(gauge, part)),
  };
}
