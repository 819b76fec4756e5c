/** Functions of one argument that a measurement model may use, by the names of the text form. */
export const modelFunctionNames = [
  'abs',
  'acos',
  'asin',
  'atan',
  'cos',
  'exp',
  'log',
  'log10',
  'sin',
  'sqrt',
  'tan',
] as const;

export type ModelFunctionName = (typeof modelFunctionNames)[number];

/**
 * The operations in which a measurement model is written. A model written once over an algebra is
 * evaluated with plain numbers, with numbers that carry their derivatives, and over blocks of
 * simulated values.
 */
export interface Algebra<T> {
  constant(value: number): T;
  add(left: T, right: T): T;
  subtract(left: T, right: T): T;
  multiply(left: T, right: T): T;
  divide(dividend: T, divisor: T): T;
  power(base: T, exponent: T): T;
  negate(value: T): T;
  apply(name: ModelFunctionName, argument: T): T;
  /** Why a value cannot be used, in a few words; null when it can. */
  defectOf(value: T): string | null;
}

/** A measurement model: one output quantity as a function of named input quantities. */
export type MeasurementModel<Name extends string = string> = <T>(
  algebra: Algebra<T>,
  inputs: Readonly<Record<Name, T>>,
) => T;

const functionsOfNumbers: Readonly<Record<ModelFunctionName, (value: number) => number>> = {
  abs: Math.abs,
  acos: Math.acos,
  asin: Math.asin,
  atan: Math.atan,
  cos: Math.cos,
  exp: Math.exp,
  log: Math.log,
  log10: Math.log10,
  sin: Math.sin,
  sqrt: Math.sqrt,
  tan: Math.tan,
};

/**
 * Plain numbers: the value of a model and nothing else.
 *
 * @example numberAlgebra.multiply(2, 3) // 6
 */
export const numberAlgebra: Algebra<number> = {
  constant: (value) => value,
  add: (left, right) => left + right,
  subtract: (left, right) => left - right,
  multiply: (left, right) => left * right,
  divide: (dividend, divisor) => dividend / divisor,
  power: (base, exponent) => base ** exponent,
  negate: (value) => -value,
  apply: (name, argument) => functionsOfNumbers[name](argument),
  defectOf: (value) => (Number.isFinite(value) ? null : 'no finite value'),
};
