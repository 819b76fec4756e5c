import { DomainError } from '../quantity/domain.ts';
import type { MeasurementModel } from './algebra.ts';
import {
  type Correlation,
  correlatedSets,
  correlationFactor,
  correlationMatrix,
} from './correlation.ts';
import { type UncertaintyPart, welchSatterthwaite } from './coverage.ts';
import { type Differentiated, derivativeAlgebra, variable } from './derivatives.ts';
import type { Moments } from './input-moments.ts';

/** An input quantity by its name. */
export interface NamedInput<Name extends string = string> extends Moments {
  readonly name: Name;
}

/** What the law of propagation of first order makes of a model and its inputs. */
export interface FirstOrderPropagation {
  /** Value of the model at the estimates. */
  readonly value: number;
  /** First derivative by each input, in the order of the inputs. */
  readonly sensitivities: readonly number[];
  /** Sensitivity times standard uncertainty, with its sign. */
  readonly contributions: readonly number[];
  /** Share of each input in the first-order variance, correlations included; they add to that variance. */
  readonly varianceShares: readonly number[];
  /** Degrees of freedom of each input, null for infinite. */
  readonly degreesOfFreedom: readonly (number | null)[];
  readonly firstOrderVariance: number;
  /** Null for infinite. */
  readonly effectiveDegreesOfFreedom: number | null;
}

/** The same with the terms of second order. */
export interface Propagation extends FirstOrderPropagation {
  /** Null where the terms of higher order would make the variance negative. */
  readonly secondOrderVariance: number | null;
  /** Mean of the output less the value at the estimates, from the curvature of the model. */
  readonly meanShift: number;
}

/** Matrix of correlation coefficients and its triangular factor. */
interface Correlated {
  readonly matrix: Float64Array;
  readonly factor: Float64Array;
}

function differentiate(
  model: MeasurementModel,
  inputs: readonly NamedInput[],
  gradientOf: (index: number) => ArrayLike<number>,
  orders: 1 | 3,
): { value: number; parts: Float64Array } {
  const n = inputs.length;
  const algebra = derivativeAlgebra(n);
  const variables: Record<string, Differentiated> = {};
  inputs.forEach(({ name, estimate }, index) => {
    variables[name] = variable(estimate, gradientOf(index), orders);
  });
  const result = model(algebra, variables);
  const defect = algebra.defectOf(result);
  if (defect !== null) {
    throw new DomainError({
      field: 'model',
      value: defect,
      accepted: 'a model with a finite value and finite derivatives at the estimates',
    });
  }
  return { value: result.value, parts: result.parts ?? new Float64Array(n + 2 * n * n) };
}

/** Second and higher terms over independent variables of unit variance. */
function higherOrder(parts: Float64Array, scales: readonly number[]) {
  const n = scales.length;
  let squares = 0;
  let mixed = 0;
  let shift = 0;
  for (let i = 0; i < n; i += 1) {
    const ui = scales[i] as number;
    for (let j = 0; j < n; j += 1) {
      const uj = scales[j] as number;
      const at = n + i * n + j;
      const second = (parts[at] as number) * ui * uj;
      squares += 0.5 * second * second;
      mixed += (parts[i] as number) * ui * (parts[at + n * n] as number) * ui * uj * uj;
      if (i === j) shift += 0.5 * second;
    }
  }
  return { added: squares + mixed, shift };
}

function partsOfSets(
  contributions: readonly number[],
  inputs: readonly NamedInput[],
  matrix: Float64Array,
): UncertaintyPart[] {
  const n = inputs.length;
  return correlatedSets(matrix, n).map((set) => {
    let variance = 0;
    for (const i of set) {
      for (const j of set) {
        variance +=
          (matrix[i * n + j] as number) *
          (contributions[i] as number) *
          (contributions[j] as number);
      }
    }
    const known = set.flatMap((i) => inputs[i]?.degreesOfFreedom ?? []);
    return {
      contribution: Math.sqrt(Math.max(0, variance)),
      degreesOfFreedom: known.length > 0 ? Math.min(...known) : null,
    };
  });
}

/**
 * Law of propagation of uncertainty: value, exact sensitivities, contributions and variance of a
 * result from the estimates and standard uncertainties of its inputs.
 *
 * Formula: first order u² = ΣᵢΣⱼ cᵢ·cⱼ·uᵢ·uⱼ·rᵢⱼ with cᵢ = ∂f/∂xᵢ. Second order adds
 * ΣᵢΣⱼ [½·(∂²f/∂xᵢ∂xⱼ)² + ∂f/∂xᵢ·∂³f/∂xᵢ∂xⱼ²]·uᵢ²·uⱼ², and shifts the mean by ½·Σᵢ ∂²f/∂xᵢ²·uᵢ²;
 * where inputs are correlated, x = estimate + u·L·z and both sums run over the independent z.
 * Degrees of freedom by Welch and Satterthwaite; correlated inputs count as one part with the
 * smallest of their degrees of freedom.
 *
 * @param model measurement model
 * @param inputs name, estimate, standard uncertainty of 0 or more, degrees of freedom or null
 * @param correlations pairs of names with a coefficient from −1 to 1
 * @returns value, sensitivities, contributions, variances, mean shift; nothing rounded
 * @throws DomainError for a negative standard uncertainty, coefficients that cannot hold together
 *   and a model without a finite value or derivative at the estimates
 * Validity: derivatives are exact (no step sizes). The second-order terms hold for inputs that are
 * about normal. Correlated inputs with degrees of freedom: exact for readings taken together,
 * cautious otherwise. See reference/gum and reference/jcgm-101.
 * Source: JCGM 100:2008, 5.1.2 with its note, 5.2.2, G.4.1
 * @example propagate((a, { x }) => a.multiply(x, x),
 *   [{ name: 'x', estimate: 3, standardUncertainty: 0.5, degreesOfFreedom: null }], [])
 *   .contributions[0] // 3
 */
export function propagate<Name extends string>(
  model: MeasurementModel<Name>,
  inputs: readonly NamedInput<Name>[],
  correlations: readonly Correlation[] = [],
): Propagation {
  const n = inputs.length;
  const scales = scalesOf(inputs);
  const correlated = correlatedOf(inputs, correlations);
  const plain = differentiate(model, inputs, unitGradient(n), 3);
  const first = firstOrder(plain, inputs, scales, correlated);
  const higher =
    correlated === null
      ? higherOrder(plain.parts, scales)
      : higherOrder(
          differentiate(model, inputs, independentGradient(correlated, scales), 3).parts,
          scales.map(() => 1),
        );
  const secondOrderVariance = first.firstOrderVariance + higher.added;
  return {
    ...first,
    secondOrderVariance: secondOrderVariance >= 0 ? secondOrderVariance : null,
    meanShift: higher.shift,
  };
}

/**
 * The law of propagation of first order alone, several times faster than `propagate`: for the same
 * model over many results.
 *
 * Formula: as `propagate`, first order.
 *
 * @param model measurement model
 * @param inputs as for `propagate`
 * @param correlations as for `propagate`
 * @returns the figures of first order, the same to the bit as those of `propagate`
 * @throws DomainError as `propagate`
 * Validity: as `propagate`, for models that are nearly straight over the uncertainties.
 * Source: JCGM 100:2008, 5.1.2, 5.2.2, G.4.1
 * @example propagateFirstOrder((a, { x }) => a.multiply(x, x),
 *   [{ name: 'x', estimate: 3, standardUncertainty: 0.5, degreesOfFreedom: null }], [])
 *   .firstOrderVariance // 9
 */
export function propagateFirstOrder<Name extends string>(
  model: MeasurementModel<Name>,
  inputs: readonly NamedInput<Name>[],
  correlations: readonly Correlation[] = [],
): FirstOrderPropagation {
  const plain = differentiate(model, inputs, unitGradient(inputs.length), 1);
  return firstOrder(plain, inputs, scalesOf(inputs), correlatedOf(inputs, correlations));
}

function scalesOf(inputs: readonly NamedInput[]): readonly number[] {
  return inputs.map(({ standardUncertainty: u }, index) => {
    if (u >= 0 && Number.isFinite(u)) return u;
    const field = `inputs.${index}.standardUncertainty`;
    throw new DomainError({ field, value: u, accepted: 'a standard uncertainty of 0 or more' });
  });
}

/** Null where no two inputs are correlated. */
function correlatedOf(
  inputs: readonly NamedInput[],
  correlations: readonly Correlation[],
): Correlated | null {
  if (correlations.length === 0) return null;
  const names = inputs.map(({ name }) => name);
  const matrix = correlationMatrix(names, correlations);
  const factor = correlationFactor(matrix, names);
  return correlations.some(({ coefficient }) => coefficient !== 0) ? { matrix, factor } : null;
}

function unitGradient(n: number): (index: number) => ArrayLike<number> {
  return (index) => {
    const gradient = new Float64Array(n);
    gradient[index] = 1;
    return gradient;
  };
}

/** Gradient of an input by the independent variables of unit variance that it is made of. */
function independentGradient({ factor }: Correlated, scales: readonly number[]) {
  const n = scales.length;
  return (index: number): readonly number[] =>
    Array.from(factor.subarray(index * n, index * n + n), (f) => f * (scales[index] as number));
}

function firstOrder(
  plain: { value: number; parts: Float64Array },
  inputs: readonly NamedInput[],
  scales: readonly number[],
  correlated: Correlated | null,
): FirstOrderPropagation {
  const sensitivities: number[] = [];
  const contributions: number[] = [];
  const squares: number[] = [];
  const degreesOfFreedom: (number | null)[] = [];
  let variance = 0;
  for (let index = 0; index < inputs.length; index += 1) {
    // A negative zero becomes a plain one: it would not survive a record in JSON.
    const sensitivity = (plain.parts[index] as number) + 0;
    const contribution = sensitivity * (scales[index] as number) + 0;
    sensitivities.push(sensitivity);
    contributions.push(contribution);
    squares.push(contribution * contribution);
    degreesOfFreedom.push((inputs[index] as NamedInput).degreesOfFreedom);
    variance += contribution * contribution;
  }
  const own = { value: plain.value, sensitivities, contributions, degreesOfFreedom };
  if (correlated === null) {
    return {
      ...own,
      varianceShares: squares,
      firstOrderVariance: variance,
      effectiveDegreesOfFreedom: welchSatterthwaite(
        contributions.map((contribution, index) => ({
          contribution,
          degreesOfFreedom: degreesOfFreedom[index] ?? null,
        })),
      ),
    };
  }
  // A sum of squares cannot turn negative by rounding, as a sum of shares could.
  const effects = independentEffects(contributions, correlated.factor);
  return {
    ...own,
    varianceShares: sharesOf(contributions, correlated.matrix),
    firstOrderVariance: effects.reduce((sum, effect) => sum + effect * effect, 0),
    effectiveDegreesOfFreedom: welchSatterthwaite(
      partsOfSets(contributions, inputs, correlated.matrix),
    ),
  };
}

function sharesOf(contributions: readonly number[], matrix: Float64Array): number[] {
  const n = contributions.length;
  return contributions.map((own, i) =>
    contributions.reduce((sum, other, j) => sum + own * other * (matrix[i * n + j] as number), 0),
  );
}

/** Effects of the independent variables that the correlated inputs are made of. */
function independentEffects(contributions: readonly number[], factor: Float64Array): number[] {
  const n = contributions.length;
  return contributions.map((_, k) =>
    contributions.reduce((sum, c, i) => sum + c * (factor[i * n + k] as number), 0),
  );
}
