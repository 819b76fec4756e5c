import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { upperFisherProbability } from '../quantity/fisher.ts';
import { longColumn } from './double-double.ts';
import {
  integerField,
  labelField,
  listField,
  numberField,
  outputNumber,
  wordsField,
} from './fields.ts';
import { fitLeastSquares, powerColumns } from './least-squares-core.ts';

const most = 1e15;

export const leastSquaresInput = z.strictObject({
  withConstant: z
    .boolean({ error: 'true or false' })
    .meta({ title: 'With a constant term', description: 'No forces the curve through 0' }),
  design: z
    .discriminatedUnion('kind', [
      z.strictObject({
        kind: z.literal('powers').meta({ title: 'Kind' }),
        degree: integerField('a degree', 1, 12).meta({ title: 'Degree of the polynomial' }),
      }),
      z.strictObject({
        kind: z.literal('variables').meta({ title: 'Kind' }),
        names: listField(labelField('Name'), 'names', 1, 12).meta({ title: 'Variables' }),
      }),
    ])
    .meta({
      title: 'Model',
      description: 'Powers of one variable, or a sum of several variables, each with its factor',
    }),
  rows: listField(
    z.strictObject({
      response: numberField('a response', -most, most).meta({ title: 'Response' }),
      variables: listField(
        numberField('a value', -most, most).meta({ title: 'Value' }),
        'values',
        1,
        12,
      ).meta({ title: 'Variables', description: 'One value for powers; else one for each name' }),
    }),
    'rows',
    2,
    5000,
  ).meta({ title: 'Rows' }),
});

export type LeastSquaresInput = z.infer<typeof leastSquaresInput>;

export const leastSquaresOutput = z.strictObject({
  coefficients: z
    .array(
      z.strictObject({
        name: z.string().meta({ title: 'Term' }),
        estimate: outputNumber('Coefficient'),
        standardUncertainty: outputNumber('Standard uncertainty'),
      }),
    )
    .meta({ title: 'Coefficients' }),
  degreesOfFreedom: outputNumber('Degrees of freedom'),
  residualStandardDeviation: outputNumber('Residual standard deviation'),
  residualSumOfSquares: outputNumber('Residual sum of squares'),
  determination: z.number().nullable().meta({
    title: 'Coefficient of determination',
    description: 'About 0 where no constant is fitted, else about the mean; none without variation',
  }),
  varianceRatio: z.number().nullable().meta({
    title: 'Regression over residual, ratio of mean squares',
    description: 'None where nothing is left over',
  }),
  varianceRatioProbability: z.number().nullable().meta({
    title: 'Probability of a ratio at least as great without any relation',
    description: 'None where nothing is left over',
  }),
  residuals: z.array(outputNumber('Residual')).meta({ title: 'Residuals' }),
  words: wordsField(),
});

export type LeastSquaresOutput = z.infer<typeof leastSquaresOutput>;

function designOf(input: LeastSquaresInput) {
  const { design, rows, withConstant } = input;
  const width = design.kind === 'powers' ? 1 : design.names.length;
  for (const [index, row] of rows.entries()) {
    requireDomain(row.variables.length === width, {
      field: `rows.${index}.variables`,
      value: `${row.variables.length} values`,
      accepted: `${width} value(s), one for each variable`,
    });
  }
  const column = (k: number) => rows.map((row) => row.variables[k] ?? 0);
  const constant = withConstant ? ['constant'] : [];
  if (design.kind === 'powers') {
    const names = Array.from({ length: design.degree }, (_, k) => `power ${k + 1}`);
    return {
      names: [...constant, ...names],
      columns: powerColumns(column(0), design.degree, withConstant),
    };
  }
  const ones = withConstant ? [longColumn(rows.map(() => 1))] : [];
  return {
    names: [...constant, ...design.names],
    columns: [...ones, ...design.names.map((_, k) => longColumn(column(k)))],
  };
}

/** Sum of squares of the responses, about their mean where a constant is fitted. */
function totalSumOfSquares(responses: readonly number[], withConstant: boolean): number {
  const columns = withConstant ? [longColumn(responses.map(() => 1))] : [];
  return fitLeastSquares(columns, responses).residualSumOfSquares;
}

/**
 * Fit of a sum of terms by least squares in about 31 digits, for models that a calibration curve
 * does not cover: several variables, as in a correction for the matrix or for interferences, or a
 * polynomial of higher degree.
 *
 * Formula: response = Σ b_k·term_k with the least sum of squares; modified Gram and Schmidt in
 * double-double arithmetic; u(b_k) = s·√(diagonal of the inverse matrix), s² the residual sum of
 * squares over rows less terms.
 *
 * @param input at least one row more than terms, 2 to 5000 rows, one value per variable
 * @returns coefficients in the order constant, then powers or variables; nothing rounded
 * @throws DomainError for a row of another width, too few rows, or terms that depend on each other
 * Validity: 13.9 digits or more of the printed 15 on every linear set of the Statistical Reference
 * Datasets tried (Norris, NoInt1, Longley, Filip, Wampler 1 to 5), see reference/nist-strd-linear.
 * Source: Å. Björck (1996), Numerical Methods for Least Squares Problems, 2.4; T. J. Dekker (1971),
 * Numerische Mathematik 18, 224
 * @example leastSquares({ withConstant: true, design: { kind: 'powers', degree: 1 }, rows: [[1, 3],
 *   [2, 5], [3, 7]].map(([x, response]) => ({ response, variables: [x] })) }).coefficients[1].estimate // 2
 */
export function leastSquares(input: LeastSquaresInput): LeastSquaresOutput {
  const { names, columns } = designOf(input);
  const responses = input.rows.map((row) => row.response);
  const degreesOfFreedom = responses.length - names.length;
  requireDomain(degreesOfFreedom > 0, {
    field: 'rows',
    value: `${responses.length} rows`,
    accepted: `at least ${names.length + 1} rows for ${names.length} terms`,
  });
  const fit = fitLeastSquares(columns, responses);
  const variance = fit.residualSumOfSquares / degreesOfFreedom;
  const total = totalSumOfSquares(responses, input.withConstant);
  const regressionDegrees = names.length - (input.withConstant ? 1 : 0);
  const explained = Math.max(0, total - fit.residualSumOfSquares) / regressionDegrees;
  // What is left over below the last digit of the responses is rounding.
  const isExact = fit.residualSumOfSquares <= 1e-30 * total;
  const varianceRatio = isExact ? null : explained / variance;
  const coefficients = names.map((name, k) => ({
    name,
    estimate: fit.coefficients[k] ?? 0,
    standardUncertainty: Math.sqrt(variance * (fit.covarianceFactor[k]?.[k] ?? 0)),
  }));
  const shown = (value: number) => String(Number(value.toPrecision(6)));
  return {
    coefficients,
    degreesOfFreedom,
    residualStandardDeviation: Math.sqrt(variance),
    residualSumOfSquares: fit.residualSumOfSquares,
    determination: total === 0 ? null : 1 - fit.residualSumOfSquares / total,
    varianceRatio,
    varianceRatioProbability:
      varianceRatio === null
        ? null
        : upperFisherProbability(varianceRatio, regressionDegrees, degreesOfFreedom),
    residuals: [...fit.weightedResiduals],
    words: `${coefficients.map((one) => `${one.name} ${shown(one.estimate)} (u ${shown(one.standardUncertainty)})`).join(', ')}. The responses lie about the fit with standard deviation ${shown(Math.sqrt(variance))}.`,
  };
}

function drawResiduals(_input: LeastSquaresInput, output: LeastSquaresOutput): Chart[] {
  return [
    {
      kind: 'chart',
      title: 'Residuals in the order of the rows',
      xTitle: 'Row',
      yTitle: 'Observed less fitted',
      series: [
        {
          label: 'residuals',
          kind: 'points',
          x: output.residuals.map((_, i) => i + 1),
          y: [...output.residuals],
        },
      ],
      levels: [{ y: 0, label: '0' }],
    },
  ];
}

export const leastSquaresCalculation = defineCalculation<LeastSquaresInput, LeastSquaresOutput>({
  id: 'least-squares',
  version: 1,
  topic: 'assay',
  title: 'Least squares with several terms',
  purpose:
    'Fits a polynomial of higher degree or several variables together, for matrix and interference corrections, with digits to spare where variables almost depend on each other.',
  source:
    'Å. Björck (1996), Numerical Methods for Least Squares Problems, 2.4; T. J. Dekker (1971), Numerische Mathematik 18, 224; checked on the NIST Statistical Reference Datasets',
  input: leastSquaresInput,
  output: leastSquaresOutput,
  // StRD NoInt1: 2.07438016528926 with standard deviation 0.0165289256198347.
  example: {
    withConstant: false,
    design: { kind: 'powers', degree: 1 },
    rows: Array.from({ length: 11 }, (_, i) => ({ response: 130 + i, variables: [60 + i] })),
  },
  compute: leastSquares,
  draw: drawResiduals,
});
