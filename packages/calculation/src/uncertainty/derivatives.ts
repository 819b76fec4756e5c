import type { Algebra, ModelFunctionName } from './algebra.ts';

/**
 * A value with its derivatives by n variables. `parts` holds n first derivatives ∂i, then n × n
 * second ones ∂i∂j, then n × n third ones ∂i∂j∂j, the kind that the second-order law needs; or the
 * first derivatives alone. It is null where all are zero.
 */
export interface Differentiated {
  readonly value: number;
  readonly parts: Float64Array | null;
}

/** Value and first three derivatives of a function of one argument at one place. */
type Series = readonly [number, number, number, number];

const seriesOf: Readonly<Record<ModelFunctionName, (x: number) => Series>> = {
  // At 0 the slope of the absolute value jumps: no derivative.
  abs: (x) => [Math.abs(x), x === 0 ? Number.NaN : Math.sign(x), 0, 0],
  acos: (x) => {
    const [, first, second, third] = arcSineSeries(x);
    return [Math.acos(x), -first, -second, -third];
  },
  asin: arcSineSeries,
  atan: (x) => {
    const g = 1 / (1 + x * x);
    return [Math.atan(x), g, -2 * x * g * g, (6 * x * x - 2) * g * g * g];
  },
  cos: (x) => {
    const [sine, cosine] = [Math.sin(x), Math.cos(x)];
    return [cosine, -sine, -cosine, sine];
  },
  exp: (x) => {
    const value = Math.exp(x);
    return [value, value, value, value];
  },
  log: (x) => [Math.log(x), 1 / x, -1 / (x * x), 2 / (x * x * x)],
  log10: (x) => {
    const c = 1 / Math.LN10;
    return [Math.log10(x), c / x, -c / (x * x), (2 * c) / (x * x * x)];
  },
  sin: (x) => {
    const [sine, cosine] = [Math.sin(x), Math.cos(x)];
    return [sine, cosine, -sine, -cosine];
  },
  sqrt: (x) => {
    const root = Math.sqrt(x);
    return [root, 0.5 / root, -0.25 / (root * x), 0.375 / (root * x * x)];
  },
  tan: (x) => {
    const t = Math.tan(x);
    const g = 1 + t * t;
    return [t, g, 2 * t * g, 2 * g * (1 + 3 * t * t)];
  },
};

function arcSineSeries(x: number): Series {
  const g = 1 / (1 - x * x);
  const first = Math.sqrt(g);
  return [Math.asin(x), first, x * g * first, (1 + 2 * x * x) * g * g * first];
}

function reciprocalSeries(x: number): Series {
  const r = 1 / x;
  return [r, -r * r, 2 * r * r * r, -6 * r * r * r * r];
}

/** A coefficient of 0 ends the series, also where the power itself would be infinite. */
function term(coefficient: number, base: number, exponent: number): number {
  return coefficient === 0 ? 0 : coefficient * base ** exponent;
}

function powerSeries(x: number, p: number): Series {
  const second = p * (p - 1);
  return [x ** p, term(p, x, p - 1), term(second, x, p - 2), term(second * (p - 2), x, p - 3)];
}

/** First derivative of a function of one argument. */
export function slopeOf(name: ModelFunctionName, x: number): number {
  return seriesOf[name](x)[1];
}

/** Whether first derivatives alone are carried. */
function isFirstOrder(parts: Float64Array, n: number): boolean {
  return parts.length === n;
}

/** Chain rule for a function of one argument. */
function chain(argument: Differentiated, series: Series, n: number): Differentiated {
  const [value, f1, f2, f3] = series;
  const a = argument.parts;
  if (a === null) return { value, parts: null };
  if (isFirstOrder(a, n)) return { value, parts: scaled(a, f1) };
  const parts = new Float64Array(n + 2 * n * n);
  const third = n * n;
  for (let i = 0; i < n; i += 1) {
    const ai = a[i] as number;
    parts[i] = f1 * ai;
    for (let j = 0; j < n; j += 1) {
      const at = n + i * n + j;
      const aj = a[j] as number;
      const aij = a[at] as number;
      const ajj = a[n + j * n + j] as number;
      parts[at] = f1 * aij + f2 * ai * aj;
      parts[at + third] =
        f1 * (a[at + third] as number) + f2 * (ai * ajj + 2 * aj * aij) + f3 * ai * aj * aj;
    }
  }
  return { value, parts };
}

/** Product rule where both factors vary. */
function multiplyParts(
  left: Differentiated,
  right: Differentiated,
  a: Float64Array,
  b: Float64Array,
  n: number,
): Float64Array {
  const [u, v] = [left.value, right.value];
  const parts = new Float64Array(a.length);
  if (isFirstOrder(a, n)) {
    for (let i = 0; i < n; i += 1) parts[i] = (a[i] as number) * v + u * (b[i] as number);
    return parts;
  }
  const third = n * n;
  for (let i = 0; i < n; i += 1) {
    const ai = a[i] as number;
    const bi = b[i] as number;
    parts[i] = ai * v + u * bi;
    for (let j = 0; j < n; j += 1) {
      const at = n + i * n + j;
      const jj = n + j * n + j;
      const [aj, bj] = [a[j] as number, b[j] as number];
      const [aij, bij] = [a[at] as number, b[at] as number];
      parts[at] = aij * v + ai * bj + aj * bi + u * bij;
      parts[at + third] =
        (a[at + third] as number) * v +
        (a[jj] as number) * bi +
        ai * (b[jj] as number) +
        2 * (aij * bj + aj * bij) +
        u * (b[at + third] as number);
    }
  }
  return parts;
}

function scaled(parts: Float64Array | null, factor: number): Float64Array | null {
  if (parts === null) return null;
  const product = new Float64Array(parts.length);
  for (let at = 0; at < parts.length; at += 1) product[at] = (parts[at] as number) * factor;
  return product;
}

function summed(
  left: Float64Array | null,
  right: Float64Array | null,
  sign: 1 | -1,
): Float64Array | null {
  if (right === null) return left;
  if (left === null) return sign === 1 ? right : scaled(right, -1);
  const sum = new Float64Array(left.length);
  for (let at = 0; at < left.length; at += 1) {
    sum[at] = (left[at] as number) + sign * (right[at] as number);
  }
  return sum;
}

/**
 * The algebra of values that carry their exact derivatives by n variables: rules of
 * differentiation applied step by step, no differences and no step sizes.
 *
 * Formula: (u·v)ᵢⱼⱼ = uᵢⱼⱼv + uⱼⱼvᵢ + uᵢvⱼⱼ + 2uᵢⱼvⱼ + 2uⱼvᵢⱼ + u·vᵢⱼⱼ, and
 * g(u)ᵢⱼⱼ = g′uᵢⱼⱼ + g″(uᵢuⱼⱼ + 2uⱼuᵢⱼ) + g‴uᵢuⱼ²; lower orders likewise.
 *
 * @param n number of variables, 1 or more
 * @returns an algebra for `MeasurementModel`; make its inputs with `variable`
 * Validity: exact but for rounding, where the derivatives exist; where they do not, a part is not
 * finite and `defectOf` says so.
 * Source: A. Griewank and A. Walther (2008), Evaluating Derivatives, 2nd edition, SIAM, chapter 13
 * @example derivativeAlgebra(1).apply('exp', variable(0, [1])).value // 1
 */
export function derivativeAlgebra(n: number): Algebra<Differentiated> {
  const multiply = (left: Differentiated, right: Differentiated): Differentiated => {
    const value = left.value * right.value;
    if (left.parts === null) return { value, parts: scaled(right.parts, left.value) };
    if (right.parts === null) return { value, parts: scaled(left.parts, right.value) };
    return { value, parts: multiplyParts(left, right, left.parts, right.parts, n) };
  };
  const apply = (name: ModelFunctionName, argument: Differentiated): Differentiated =>
    chain(argument, seriesOf[name](argument.value), n);
  return {
    constant: (value) => ({ value, parts: null }),
    add: (left, right) => ({
      value: left.value + right.value,
      parts: summed(left.parts, right.parts, 1),
    }),
    subtract: (left, right) => ({
      value: left.value - right.value,
      parts: summed(left.parts, right.parts, -1),
    }),
    multiply,
    divide: (dividend, divisor) => {
      if (divisor.parts === null) {
        const value = dividend.value / divisor.value;
        return { value, parts: scaled(dividend.parts, 1 / divisor.value) };
      }
      const quotient = multiply(dividend, chain(divisor, reciprocalSeries(divisor.value), n));
      return { value: dividend.value / divisor.value, parts: quotient.parts };
    },
    power: (base, exponent) => {
      if (exponent.parts === null) return chain(base, powerSeries(base.value, exponent.value), n);
      const { parts } = apply('exp', multiply(exponent, apply('log', base)));
      return { value: base.value ** exponent.value, parts };
    },
    negate: ({ value, parts }) => ({ value: -value, parts: scaled(parts, -1) }),
    apply,
    defectOf: ({ value, parts }) => {
      if (!Number.isFinite(value)) return 'no finite value';
      if (parts === null) return null;
      for (let at = 0; at < parts.length; at += 1) {
        if (!Number.isFinite(parts[at])) return 'no finite derivative';
      }
      return null;
    },
  };
}

/**
 * An input quantity for `derivativeAlgebra`.
 *
 * @param value its estimate
 * @param gradient its derivative by each of the n variables: 1 by itself and 0 by the others, or
 *   a row of factors where correlated inputs are made of independent ones
 * @param orders 1 to carry first derivatives only, 3 for all; the same for every input of a model
 * @returns the value with its derivatives
 * Source: as `derivativeAlgebra`
 * @example variable(2, [1, 0]).value // 2
 */
export function variable(
  value: number,
  gradient: ArrayLike<number>,
  orders: 1 | 3 = 3,
): Differentiated {
  const n = gradient.length;
  const parts = new Float64Array(orders === 1 ? n : n + 2 * n * n);
  parts.set(gradient);
  return { value, parts };
}
