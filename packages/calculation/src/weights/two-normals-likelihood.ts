/** Different values with the number of times each occurs. */
export interface Tally {
  readonly values: Float64Array;
  readonly numbers: Float64Array;
}

/** Logit of the share, two means, two logarithms of the deviations; in units of the sample. */
export type Parameters = readonly [number, number, number, number, number];

export interface Slope {
  readonly logLikelihood: number;
  readonly gradient: number[];
  readonly hessian: number[][];
}

const halfLogTwoPi = 0.5 * Math.log(2 * Math.PI);
const classes = 400;

/** Ascending values, equal ones together. */
export function tally(ascending: Float64Array): Tally {
  const values: number[] = [];
  const numbers: number[] = [];
  for (const value of ascending) {
    if (values[values.length - 1] === value) {
      numbers[numbers.length - 1] = (numbers[numbers.length - 1] as number) + 1;
    } else {
      values.push(value);
      numbers.push(1);
    }
  }
  return { values: Float64Array.from(values), numbers: Float64Array.from(numbers) };
}

/** The tally in classes, each at the mean of its values, for starts that need no last figure. */
export function classed(full: Tally): Tally {
  if (full.values.length <= classes) return full;
  const least = full.values[0] as number;
  const width = ((full.values[full.values.length - 1] as number) - least) / classes;
  const sums = new Float64Array(classes);
  const numbers = new Float64Array(classes);
  for (let index = 0; index < full.values.length; index += 1) {
    const value = full.values[index] as number;
    const at = Math.min(classes - 1, Math.floor((value - least) / width));
    const number = full.numbers[index] as number;
    numbers[at] = (numbers[at] as number) + number;
    sums[at] = (sums[at] as number) + number * value;
  }
  const kept = Array.from({ length: classes }, (_, index) => index).filter(
    (index) => (numbers[index] as number) > 0,
  );
  return {
    values: Float64Array.from(kept, (at) => (sums[at] as number) / (numbers[at] as number)),
    numbers: Float64Array.from(kept, (at) => numbers[at] as number),
  };
}

/** Logarithm of the likelihood with its first and second derivatives, in one pass. */
export function slopeAt(data: Tally, parameters: Parameters): Slope {
  const [logit, mean1, mean2, log1, log2] = parameters;
  const share = 1 / (1 + Math.exp(-logit));
  const rest = 1 / (1 + Math.exp(logit));
  const inverse1 = Math.exp(-log1);
  const inverse2 = Math.exp(-log2);
  const constant1 = Math.log(share) - log1 - halfLogTwoPi;
  const constant2 = Math.log(rest) - log2 - halfLogTwoPi;
  const s = new Float64Array(20);
  let logLikelihood = 0;
  for (let index = 0; index < data.values.length; index += 1) {
    const x = data.values[index] as number;
    const number = data.numbers[index] as number;
    const z1 = (x - mean1) * inverse1;
    const z2 = (x - mean2) * inverse2;
    const term1 = constant1 - 0.5 * z1 * z1;
    const term2 = constant2 - 0.5 * z2 * z2;
    const difference = term2 - term1;
    const ratio = Math.exp(-Math.abs(difference));
    const larger = 1 / (1 + ratio);
    const r1 = difference > 0 ? ratio * larger : larger;
    const r2 = difference > 0 ? larger : ratio * larger;
    logLikelihood += number * (Math.max(term1, term2) + Math.log1p(ratio));
    const w1 = number * r1;
    const w2 = number * r2;
    const cross = number * r1 * r2;
    const q1 = z1 * z1;
    const q2 = z2 * z2;
    const a1 = z1 * inverse1;
    const a2 = z2 * inverse2;
    const b1 = q1 - 1;
    const b2 = q2 - 1;
    s[0] = (s[0] as number) + w1;
    s[1] = (s[1] as number) + w1 * a1;
    s[2] = (s[2] as number) + w2 * a2;
    s[3] = (s[3] as number) + w1 * b1;
    s[4] = (s[4] as number) + w2 * b2;
    s[5] = (s[5] as number) + cross;
    s[6] = (s[6] as number) + cross * a1;
    s[7] = (s[7] as number) + cross * a2;
    s[8] = (s[8] as number) + cross * b1;
    s[9] = (s[9] as number) + cross * b2;
    s[10] = (s[10] as number) + cross * a1 * a1;
    s[11] = (s[11] as number) + cross * a1 * a2;
    s[12] = (s[12] as number) + cross * a2 * a2;
    s[13] = (s[13] as number) + cross * a1 * b1;
    s[14] = (s[14] as number) + cross * a1 * b2;
    s[15] = (s[15] as number) + cross * a2 * b1;
    s[16] = (s[16] as number) + cross * a2 * b2;
    s[17] = (s[17] as number) + cross * b1 * b1;
    s[18] = (s[18] as number) + cross * b1 * b2;
    s[19] = (s[19] as number) + cross * b2 * b2;
  }
  return assemble(s, data, { share, rest, inverse1, inverse2, logLikelihood });
}

/**
 * Gradient and Hessian from the sums: the second derivative of ln(f₁ + f₂) is the mean of the second
 * derivatives of the two logarithms plus r₁·r₂ times the square of the difference of their slopes.
 */
function assemble(
  s: Float64Array,
  data: Tally,
  at: { share: number; rest: number; inverse1: number; inverse2: number; logLikelihood: number },
): Slope {
  const [w1, g1, g2, h1, h2] = s as unknown as [number, number, number, number, number];
  const [, , , , , c, ca1, ca2, cb1, cb2, caa, ca1a2, caa2, ca1b1, ca1b2] = Array.from(s) as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const [ca2b1, ca2b2, cbb, cb1b2, cbb2] = Array.from(s.subarray(15)) as [
    number,
    number,
    number,
    number,
    number,
  ];
  let total = 0;
  for (const number of data.numbers) total += number;
  const w2 = total - w1;
  const i1 = at.inverse1 ** 2;
  const i2 = at.inverse2 ** 2;
  // Slopes of ln f₁ less those of ln f₂: (1, a₁, −a₂, b₁, −b₂).
  const hessian = [
    [c - total * at.share * at.rest, ca1, -ca2, cb1, -cb2],
    [ca1, caa - w1 * i1, -ca1a2, ca1b1 - 2 * g1, -ca1b2],
    [-ca2, -ca1a2, caa2 - w2 * i2, -ca2b1, ca2b2 - 2 * g2],
    [cb1, ca1b1 - 2 * g1, -ca2b1, cbb - 2 * (h1 + w1), -cb1b2],
    [-cb2, -ca1b2, ca2b2 - 2 * g2, -cb1b2, cbb2 - 2 * (h2 + w2)],
  ];
  return {
    logLikelihood: at.logLikelihood,
    gradient: [w1 - total * at.share, g1, g2, h1, h2],
    hessian,
  };
}
