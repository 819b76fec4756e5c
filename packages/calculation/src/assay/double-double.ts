/**
 * Columns of numbers carried as the unevaluated sum of a double and a second, far smaller one:
 * about 31 decimal digits. It is for sums in which doubles alone would cancel to nothing.
 */
export interface LongColumn {
  readonly high: Float64Array;
  readonly low: Float64Array;
}

/** One number of that kind. */
export interface LongNumber {
  readonly high: number;
  readonly low: number;
}

/** 2²⁷ + 1: cuts a double into two halves whose products are exact. */
const splitter = 134_217_729;

/** What the rounded product of two doubles lost. */
function productError(x: number, y: number, product: number): number {
  const cutX = splitter * x;
  const highX = cutX - (cutX - x);
  const lowX = x - highX;
  const cutY = splitter * y;
  const highY = cutY - (cutY - y);
  const lowY = y - highY;
  return lowX * lowY - (product - highX * highY - lowX * highY - highX * lowY);
}

/** What the rounded sum of two doubles lost. */
function sumError(x: number, y: number, sum: number): number {
  const part = sum - x;
  return x - (sum - part) + (y - part);
}

const renormalised = (high: number, low: number): LongNumber => {
  const sum = high + low;
  return { high: sum, low: low - (sum - high) };
};

export const longNumber = (value: number): LongNumber => ({ high: value, low: 0 });

export function addLong(x: LongNumber, y: LongNumber): LongNumber {
  const sum = x.high + y.high;
  return renormalised(sum, sumError(x.high, y.high, sum) + x.low + y.low);
}

export const negateLong = (x: LongNumber): LongNumber => ({ high: -x.high, low: -x.low });

export function multiplyLong(x: LongNumber, y: LongNumber): LongNumber {
  const product = x.high * y.high;
  const error = productError(x.high, y.high, product) + x.high * y.low + x.low * y.high;
  return renormalised(product, error);
}

export function divideLong(x: LongNumber, y: LongNumber): LongNumber {
  const first = x.high / y.high;
  const rest = addLong(x, negateLong(multiplyLong(longNumber(first), y)));
  const second = rest.high / y.high;
  const left = addLong(rest, negateLong(multiplyLong(longNumber(second), y)));
  return addLong(renormalised(first, second), longNumber(left.high / y.high));
}

/** Square root of a number of 0 or more, by one step of Newton from the double nearest to it. */
export function squareRootLong(x: LongNumber): LongNumber {
  if (x.high <= 0) return longNumber(0);
  const root = longNumber(Math.sqrt(x.high));
  const rest = addLong(x, negateLong(multiplyLong(root, root)));
  return addLong(root, longNumber(rest.high / (2 * root.high)));
}

/** A column of plain doubles as a long one. */
export const longColumn = (values: ArrayLike<number>): LongColumn => ({
  high: Float64Array.from(values),
  low: new Float64Array(values.length),
});

/** Elementwise product of two columns. */
export function multiplyColumns(x: LongColumn, y: LongColumn): LongColumn {
  const { high, low } = longColumn(x.high);
  for (let i = 0; i < high.length; i += 1) {
    const a = x.high[i] as number;
    const b = y.high[i] as number;
    const product = a * b;
    const error = productError(a, b, product) + a * (y.low[i] as number) + (x.low[i] as number) * b;
    high[i] = product + error;
    low[i] = error - ((high[i] as number) - product);
  }
  return { high, low };
}

/** Sum of products of two columns. */
export function dotLong(x: LongColumn, y: LongColumn): LongNumber {
  let sum = 0;
  let lost = 0;
  for (let i = 0; i < x.high.length; i += 1) {
    const a = x.high[i] as number;
    const b = y.high[i] as number;
    const product = a * b;
    const error = productError(a, b, product) + a * (y.low[i] as number) + (x.low[i] as number) * b;
    const next = sum + product;
    lost += sumError(sum, product, next) + error;
    sum = next;
  }
  return renormalised(sum, lost);
}

/** Takes a multiple of one column from another, in place. */
export function subtractMultiple(from: LongColumn, factor: LongNumber, column: LongColumn): void {
  const { high: f, low: fLow } = factor;
  for (let i = 0; i < from.high.length; i += 1) {
    const c = column.high[i] as number;
    const product = f * c;
    const error = productError(f, c, product) + f * (column.low[i] as number) + fLow * c;
    const old = from.high[i] as number;
    const sum = old - product;
    const low = sumError(old, -product, sum) + (from.low[i] as number) - error;
    const high = sum + low;
    from.high[i] = high;
    from.low[i] = low - (high - sum);
  }
}
