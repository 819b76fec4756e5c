import { type Chart, defineCalculation, type LimitRule } from '../catalogue/calculation.ts';
import { type BudgetPart, budgetLines, combinedUncertainty } from '../mass/budget-parts.ts';
import {
  compareDecimals,
  type Decimal,
  decimalOfNumber,
  decimalOfText,
  largestDecimal,
  multiplyDecimals,
  numberOfDecimal,
  subtractDecimals,
  sumDecimals,
} from '../quantity/decimal.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { compensatedSum } from '../quantity/sum.ts';
import { coverageFactor } from '../uncertainty/coverage.ts';
import { vickersConstant, vickersHardness } from './vickers-number.ts';
import {
  type VickersInput,
  type VickersOutput,
  vickersInput,
  vickersOutput,
} from './vickers-schema.ts';

export {
  type VickersInput,
  type VickersOutput,
  vickersInput,
  vickersOutput,
} from './vickers-schema.ts';

/** Least distances in mean diagonals: of the centre from the edge, and between two centres. */
const spacingByGroup = {
  'steel and copper alloys': { edge: '2.5', neighbour: '3' },
  'light metals, lead and tin': { edge: '3', neighbour: '6' },
} as const;

/** Least thickness in mean diagonals. */
const leastThicknessDiagonals = decimalOfText('1.5');

/** Beyond this share of their mean, unequal diagonals are to be reported. */
const symmetricShare = decimalOfText('0.05');

const half = decimalOfText('0.5');

/** Whether a length is at least so many diagonals, exact in the decimals read; null if not given. */
function reaches(length: number | undefined, diagonals: Decimal, diagonal: Decimal) {
  if (length === undefined) return null;
  const least = multiplyDecimals([diagonals, diagonal]);
  return compareDecimals(decimalOfNumber(length), least) >= 0;
}

function judgeIndentation(input: VickersInput, one: VickersInput['indentations'][number]) {
  const first = decimalOfNumber(one.firstDiagonalMillimetres);
  const second = decimalOfNumber(one.secondDiagonalMillimetres);
  const mean = multiplyDecimals([half, sumDecimals([first, second])]);
  const difference = subtractDecimals(first, second);
  const size = { ...difference, coefficient: absolute(difference.coefficient) };
  const spacing = spacingByGroup[input.spacingGroup];
  const larger = largestDecimal([mean, decimalOfNumber(one.neighbourDiagonalMillimetres ?? 0)]);
  const isThickEnough = reaches(input.thicknessMillimetres, leastThicknessDiagonals, mean);
  const isFarFromEdge = reaches(one.edgeDistanceMillimetres, decimalOfText(spacing.edge), mean);
  const isFarFromNeighbour = reaches(
    one.neighbourDistanceMillimetres,
    decimalOfText(spacing.neighbour),
    larger,
  );
  const meanDiagonalMillimetres = numberOfDecimal(mean);
  return {
    label: one.label,
    meanDiagonalMillimetres,
    hardness: vickersHardness(input.testForceNewtons, meanDiagonalMillimetres),
    diagonalDifferencePercent: (100 * numberOfDecimal(size)) / meanDiagonalMillimetres,
    isSymmetric: compareDecimals(size, multiplyDecimals([symmetricShare, mean])) <= 0,
    isThickEnough,
    isFarFromEdge,
    isFarFromNeighbour,
    isValid: [isThickEnough, isFarFromEdge, isFarFromNeighbour].every((rule) => rule !== false),
  };
}

function absolute(value: bigint): bigint {
  return value < 0n ? -value : value;
}

/** Standard deviation and half width of the 95 % interval of the mean; null for one value. */
function spreadOf(values: readonly number[]): { deviation: number; half: number } | null {
  if (values.length < 2) return null;
  const mean = compensatedSum(values) / values.length;
  const squares = compensatedSum(values.map((value) => (value - mean) ** 2));
  const deviation = Math.sqrt(squares / (values.length - 1));
  const factor = coverageFactor(0.95, values.length - 1);
  return { deviation, half: (factor * deviation) / Math.sqrt(values.length) };
}

/** Parts of the uncertainty of the mean; diagonals and force err alike for all indentations. */
function uncertaintyParts(
  input: VickersInput,
  hardness: number,
  meanDiagonal: number,
  deviation: number,
): BudgetPart[] {
  const count = input.indentations.length;
  return [
    { contribution: 'spread', standardUncertainty: deviation / Math.sqrt(count) },
    {
      contribution: 'diagonals',
      standardUncertainty:
        (2 * hardness * input.diagonalStandardUncertaintyMillimetres) / meanDiagonal,
    },
    {
      contribution: 'force',
      standardUncertainty: (hardness * input.forceRelativeStandardUncertaintyPercent) / 100,
    },
  ];
}

function withinLimits(input: VickersInput, hardness: number): boolean | null {
  const { lowerLimitHardness: lower, upperLimitHardness: upper } = input;
  if (lower === undefined && upper === undefined) return null;
  return hardness >= (lower ?? 0) && hardness <= (upper ?? Number.POSITIVE_INFINITY);
}

function vickersWords(input: VickersInput, output: Omit<VickersOutput, 'words'>): string {
  const print = (value: number) => roundNumberText(value, value < 100 ? 1 : 0, 'half-even');
  const labels = (items: VickersOutput['indentations']) => items.map((one) => one.label).join(', ');
  const broken = output.indentations.filter((one) => !one.isValid);
  const skew = output.indentations.filter((one) => !one.isSymmetric);
  const sentences = [
    `Hardness ${print(output.meanHardness)} HV with expanded uncertainty ${roundNumberText(output.expandedUncertainty, 1, 'half-even')} HV (k = 2) from ${output.indentations.length} indentation(s).`,
    broken.length > 0
      ? `Too thin, or too near to the edge or to another: ${labels(broken)}; repeat with a smaller force or elsewhere.`
      : '',
    skew.length > 0 ? `Diagonals differ by more than 5 %: ${labels(skew)}; report it.` : '',
    output.isWithinLimits === null
      ? ''
      : `The mean ${output.isWithinLimits ? 'keeps' : 'does not keep'} its limits ${input.lowerLimitHardness ?? 'none'} to ${input.upperLimitHardness ?? 'none'} HV.`,
  ];
  return sentences.filter((sentence) => sentence !== '').join(' ');
}

/**
 * Vickers hardness of a piece from its indentations, with the rules that make them valid.
 *
 * Formula: HV = 0.1891·F/d² with the exact constant 2·sin 68°/9.80665, d the mean of the two
 * diagonals. Valid: thickness at least 1.5 d; centre from edge at least 2.5 d (3 d); between centres
 * 3 d (6 d), the larger of two diagonals counting; figures in brackets for light metals, lead and
 * tin. Uncertainty of the mean: s/√n, 2·HV·u(d)/d and HV·u(F)/F.
 *
 * @param input force above 0 N; 1 to 200 indentations with both diagonals in mm, distances where
 *   known; rule for distances; thickness in mm; standard uncertainties of diagonal and force; limits
 * @returns hardness and judgements per indentation; mean, standard deviation, interval, uncertainty,
 *   budget; greatest force for the thickness; nothing rounded but words
 * @throws DomainError when the lower limit exceeds the upper one
 * Validity: first order in the uncertainties; the diagonals are read with the same microscope, so
 * its error does not average out. Rules compared exactly in the decimals given. The standard names
 * no figure for gold or silver. See reference/vickers.
 * Source: ISO 6507-1:2018, Table 1, 8.3 to 8.8 (thickness, distances, mean diagonal), 5 % from
 * memory; JCGM 100:2008, 5.1.2
 * @example vickers({ testForceNewtons: 4.903, spacingGroup: 'light metals, lead and tin',
 *   indentations: [{ label: 'A', firstDiagonalMillimetres: 0.1512,
 *     secondDiagonalMillimetres: 0.1546 }], diagonalStandardUncertaintyMillimetres: 0.0005,
 *   forceRelativeStandardUncertaintyPercent: 0.5 }).meanHardness // 39.66
 */
export function vickers(input: VickersInput): VickersOutput {
  const { lowerLimitHardness: lower, upperLimitHardness: upper } = input;
  requireDomain(lower === undefined || upper === undefined || lower <= upper, {
    field: 'lowerLimitHardness',
    value: lower,
    accepted: `a lower limit not above the upper limit of ${upper} HV`,
  });
  const indentations = input.indentations.map((one) => judgeIndentation(input, one));
  const count = indentations.length;
  const values = indentations.map((one) => one.hardness);
  const mean = compensatedSum(values) / count;
  const diagonal = compensatedSum(indentations.map((one) => one.meanDiagonalMillimetres)) / count;
  const spread = spreadOf(values);
  const parts = uncertaintyParts(input, mean, diagonal, spread?.deviation ?? 0);
  const thickness = input.thicknessMillimetres;
  const output = {
    indentations,
    meanHardness: mean,
    standardDeviation: spread?.deviation ?? null,
    intervalLower: spread ? mean - spread.half : null,
    intervalUpper: spread ? mean + spread.half : null,
    standardUncertainty: combinedUncertainty(parts),
    expandedUncertainty: 2 * combinedUncertainty(parts),
    budget: budgetLines(parts),
    greatestForceNewtons:
      thickness === undefined ? null : (mean * (thickness / 1.5) ** 2) / vickersConstant,
    isWithinLimits: withinLimits(input, mean),
  };
  return { ...output, words: vickersWords(input, output) };
}

function drawVickers(input: VickersInput, output: VickersOutput): (Chart | LimitRule)[] {
  const x = output.indentations.map((_, at) => at + 1);
  const { lowerLimitHardness: lower, upperLimitHardness: upper } = input;
  const chart: Chart = {
    kind: 'chart',
    title: 'Hardness of the indentations',
    xTitle: 'Indentation',
    yTitle: 'Hardness, HV',
    series: [
      { label: 'hardness', kind: 'points', x, y: output.indentations.map((one) => one.hardness) },
    ],
    xNames: output.indentations.map((one, at) => ({ x: at + 1, name: one.label })),
    levels: [
      { y: output.meanHardness, label: 'mean' },
      ...(lower === undefined ? [] : [{ y: lower, label: 'lower limit' }]),
      ...(upper === undefined ? [] : [{ y: upper, label: 'upper limit' }]),
    ],
  };
  if (output.isWithinLimits === null) return [chart];
  const rule: LimitRule = {
    kind: 'limit-rule',
    title: 'Mean hardness',
    unit: 'HV',
    value: output.meanHardness,
    expandedUncertainty: output.expandedUncertainty,
    ...(lower === undefined ? {} : { lowerLimit: lower }),
    ...(upper === undefined ? {} : { upperLimit: upper }),
    words: output.words,
  };
  return [rule, chart];
}

export const vickersCalculation = defineCalculation<VickersInput, VickersOutput>({
  id: 'vickers',
  version: 1,
  topic: 'physical',
  title: 'Vickers hardness',
  purpose:
    'Finds the hardness of a blank from the diagonals of its indentations, says which of them stand too near to an edge or on too thin metal, and judges the mean.',
  source:
    'ISO 6507-1:2018, Table 1 and 8.3 to 8.8 (5 % on unequal diagonals as remembered); JCGM 100:2008, 5.1.2',
  input: vickersInput,
  output: vickersOutput,
  // First indentation: soft annealed blank of reference/vickers, 39.66 HV 0.5; the others chosen.
  example: {
    testForceNewtons: 4.903,
    indentations: [
      {
        label: 'A',
        firstDiagonalMillimetres: 0.1512,
        secondDiagonalMillimetres: 0.1546,
        edgeDistanceMillimetres: 1.2,
        neighbourDistanceMillimetres: 0.95,
      },
      {
        label: 'B',
        firstDiagonalMillimetres: 0.1521,
        secondDiagonalMillimetres: 0.1533,
        edgeDistanceMillimetres: 2.1,
        neighbourDistanceMillimetres: 0.95,
      },
      {
        label: 'C',
        firstDiagonalMillimetres: 0.1535,
        secondDiagonalMillimetres: 0.1541,
        edgeDistanceMillimetres: 3,
        neighbourDistanceMillimetres: 0.9,
      },
    ],
    spacingGroup: 'light metals, lead and tin',
    thicknessMillimetres: 1.8,
    diagonalStandardUncertaintyMillimetres: 0.0005,
    forceRelativeStandardUncertaintyPercent: 0.5,
    lowerLimitHardness: 30,
    upperLimitHardness: 45,
  },
  compute: vickers,
  draw: drawVickers,
});

export { vickersHardness };
