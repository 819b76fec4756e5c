import gammaln from '@stdlib/math-base-special-gammaln';
import { requireDomain } from '../../quantity/domain.ts';

/*
 * The largest deviate of a normal sample from its mean, T = (x_max − x̄)/√Σ(x − x̄)², is written as an
 * angle: T = √((n − 1)/n)·sin θ. When the largest value is taken away, the rest is a normal sample of
 * n − 1 whose own angle φ is independent of θ but for the order of the values, which allows angles
 * up to sin φ = √(n/(n − 2))·tan θ, and Σ(x − x̄)² shrinks by cos²θ. The distribution of the angle for
 * n follows from that for n − 1 by one integral.
 */

const halfPi = Math.PI / 2;
/**
 * Cells of the table for up to 25 results; the distribution is interpolated by cubics between their
 * ends. It grows steeper with the number of results, which doubles the cells as often as that number. A
 * multiple of three puts an end at π/6, where the distribution for three results begins.
 */
const fewestCells = 768;
const fewResults = 25;
const integralWidth = halfPi / fewestCells;
/** Three-point rule of Gauss and Legendre on the unit interval. */
const ruleNodes = [0.5 - Math.sqrt(0.15), 0.5, 0.5 + Math.sqrt(0.15)] as const;
const ruleWeights = [5 / 18, 8 / 18, 5 / 18] as const;
const greatestSize = 200;

interface AngleTable {
  readonly size: number;
  readonly cells: number;
  /** Factor of the density of the angle for one result more. */
  readonly nextFactor: number;
  /** Distribution and density of the angle at the ends of the cells. */
  readonly probability: Float64Array;
  readonly density: Float64Array;
}

/** Factor of the density of the angle of one chosen value among n, times n. */
function angleFactor(size: number): number {
  const logRatio = gammaln((size - 1) / 2) - gammaln((size - 2) / 2);
  return (size * Math.exp(logRatio)) / Math.sqrt(Math.PI);
}

/** Greatest angle of the rest that the order of the values allows. */
function angleOfRest(angle: number, size: number): number {
  const sine = Math.sqrt(size / (size - 2)) * Math.tan(angle);
  return sine >= 1 ? halfPi : Math.asin(sine);
}

/** Distribution of the angle between the ends of the cells, by cubics. */
function probabilityAt(table: AngleTable, angle: number): number {
  if (angle >= halfPi) return 1;
  // Two values: the larger one always lies at the end.
  if (angle <= 0 || table.size === 2) return 0;
  const { cells } = table;
  const cellWidth = halfPi / cells;
  const place = angle / cellWidth;
  const cell = Math.min(cells - 1, Math.floor(place));
  const u = place - cell;
  const v = 1 - u;
  const [p0, p1] = [table.probability[cell] as number, table.probability[cell + 1] as number];
  const [d0, d1] = [table.density[cell] as number, table.density[cell + 1] as number];
  return (
    p0 * v * v * (1 + 2 * u) + p1 * u * u * (1 + 2 * v) + cellWidth * u * v * (d0 * v - d1 * u)
  );
}

/** Density of the angle for n from the distribution for n − 1. */
function densityAt(rest: AngleTable, angle: number): number {
  const size = rest.size + 1;
  const below = probabilityAt(rest, angleOfRest(angle, size));
  return below === 0 ? 0 : rest.nextFactor * Math.cos(angle) ** (size - 3) * below;
}

function integrated(from: number, to: number, integrand: (angle: number) => number): number {
  let sum = 0;
  ruleNodes.forEach((node, index) => {
    sum += (ruleWeights[index] as number) * integrand(from + node * (to - from));
  });
  return sum * (to - from);
}

/** Integral up to a bend at the upper end, in steps that shrink towards it. */
function towards(from: number, bend: number, integrand: (angle: number) => number): number {
  let sum = 0;
  let start = from;
  for (let step = 0; step < 8; step += 1) {
    const end = step === 7 ? bend : bend - (bend - start) / 4;
    sum += integrated(start, end, integrand);
    start = end;
  }
  return sum;
}

function nextTable(rest: AngleTable): AngleTable {
  const { cells } = rest;
  const cellWidth = halfPi / cells;
  const probability = new Float64Array(cells + 1);
  const density = new Float64Array(cells + 1);
  const at = (angle: number) => densityAt(rest, angle);
  // From here on the order of the values no longer binds the rest; the density bends, for 4 as a root.
  const kink = Math.atan(Math.sqrt((rest.size - 1) / (rest.size + 1)));
  for (let cell = 1; cell <= cells; cell += 1) {
    const end = cell * cellWidth;
    density[cell] = at(Math.min(end, halfPi - 1e-15));
    const own =
      end - cellWidth < kink && kink < end
        ? towards(end - cellWidth, kink, at) + integrated(kink, end, at)
        : integrated(end - cellWidth, end, at);
    probability[cell] = (probability[cell - 1] as number) + own;
  }
  const size = rest.size + 1;
  return { size, cells, nextFactor: angleFactor(size + 1), probability, density };
}

function tableOf(size: number): AngleTable {
  const cells = fewestCells * 2 ** Math.max(0, Math.ceil(Math.log2(size / fewResults)));
  let table: AngleTable = {
    size: 2,
    cells,
    nextFactor: angleFactor(3),
    probability: new Float64Array(cells + 1),
    density: new Float64Array(cells + 1),
  };
  while (table.size < size) table = nextTable(table);
  return table;
}

function requireSize(size: number, least: number): void {
  requireDomain(Number.isInteger(size) && size >= least && size <= greatestSize, {
    field: 'count',
    value: size,
    accepted: `a whole number of results from ${least} to ${greatestSize}`,
  });
}

/** Integral over the angle in equal steps, each by the three-point rule. */
function integral(from: number, to: number, integrand: (angle: number) => number): number {
  if (to <= from) return 0;
  const steps = Math.max(1, Math.ceil((to - from) / integralWidth));
  const width = (to - from) / steps;
  let sum = 0;
  for (let step = 0; step < steps; step += 1) {
    sum += integrated(from + step * width, from + (step + 1) * width, integrand);
  }
  return sum;
}

/**
 * Probability that the largest of n normal results stands farther above their mean than a given
 * number of sample standard deviations: the exact one-sided test of Grubbs.
 *
 * Formula: recursion from 2 results on; the angle of the largest result has the density
 * n·Γ((n−1)/2)/(√π·Γ((n−2)/2))·cosⁿ⁻³θ times the distribution of the angle of the other results.
 *
 * @param deviate (largest − mean)/standard deviation, 0 or more
 * @param count number of results, 3 to 200
 * @returns probability in [0, 1], not rounded
 * @throws DomainError for a number of results outside 3 to 200
 * Validity: absolute accuracy about 1e-6, 1e-5 from 50 results on.
 * Source: F. E. Grubbs (1950), Annals of Mathematical Statistics 21, 27-58, section 3
 * @example exactLargestDeviateProbability(2.031652, 8) // 0.05
 */
export function exactLargestDeviateProbability(deviate: number, count: number): number {
  requireSize(count, 3);
  const sine = (deviate * Math.sqrt(count)) / (count - 1);
  if (sine >= 1) return 0;
  const rest = tableOf(count - 1);
  return integral(Math.asin(sine), halfPi, (angle) => densityAt(rest, angle));
}

/** Probability that the ratio of the sums of squares lies below a value, for one prepared table. */
function probabilityOfPairRatio(ratio: number, rest: AngleTable): number {
  const size = rest.size + 1;
  const root = Math.sqrt(ratio);
  const whole = Math.acos(root);
  const part = integral(0, whole, (angle) => {
    const greatest = angleOfRest(angle, size);
    const least = Math.acos(Math.min(1, root / Math.cos(angle)));
    if (greatest <= least) return 0;
    const between = probabilityAt(rest, greatest) - probabilityAt(rest, least);
    return rest.nextFactor * Math.cos(angle) ** (size - 3) * between;
  });
  return part + integral(whole, halfPi, (angle) => densityAt(rest, angle));
}

/**
 * Probability that the two largest of n normal results stand as far apart from the others as found:
 * the exact distribution of Grubbs' statistic for a pair on one side.
 *
 * Formula: the statistic is Σ(x − x̄)² without the two largest over Σ(x − x̄)² of all, cos²θ·cos²φ of
 * the angles of the largest result among n and of the next among n − 1; P = ∫ density of θ times
 * the distribution of φ between arccos(√ratio/cos θ) and its greatest value.
 *
 * @param ratio statistic, open range (0, 1)
 * @param count number of results, 4 to 200
 * @returns probability of a ratio as small, one-sided, not rounded
 * @throws DomainError for an argument outside its range
 * Validity: absolute accuracy about 1e-6, 1e-5 from 50 results on. See reference/iso-5725-2.
 * Source: F. E. Grubbs (1950), Annals of Mathematical Statistics 21, 27-58, sections 4 and 5
 * @example grubbsPairProbability(0.1864, 10) // 0.0250
 */
export function grubbsPairProbability(ratio: number, count: number): number {
  requireSize(count, 4);
  requireDomain(ratio >= 0 && ratio <= 1, {
    field: 'ratio',
    value: ratio,
    accepted: 'a ratio from 0 to 1',
  });
  return ratio === 0 ? 0 : Math.min(1, probabilityOfPairRatio(ratio, tableOf(count - 1)));
}

/**
 * Critical value of Grubbs' statistic for a pair of results on one side: a ratio below it is
 * significant.
 *
 * Formula: inverse of `grubbsPairProbability` by the secant method on logarithms.
 *
 * @param upperProbability one-sided significance, from 1e-5 to 0.5
 * @param count number of results, 4 to 200
 * @returns ratio, not rounded
 * @throws DomainError for an argument outside its range
 * Validity: accurate to about 1e-6, relative 1e-3 for 4 results. See reference/iso-5725-2.
 * Source: F. E. Grubbs and G. Beck (1972), Technometrics 14, 847-854; ISO 5725-2:1994, Table 5,
 * whose 5 % and 1 % are 2.5 % and 0.5 % here
 * @example grubbsPairCritical(0.025, 10) // 0.1864
 */
export function grubbsPairCritical(upperProbability: number, count: number): number {
  requireSize(count, 4);
  requireDomain(upperProbability >= 1e-5 && upperProbability <= 0.5, {
    field: 'upperProbability',
    value: upperProbability,
    accepted: 'a probability from 0.00001 to 0.5',
  });
  const rest = tableOf(count - 1);
  const logGoal = Math.log(upperProbability);
  // The logarithm of the probability is nearly a line in that of the ratio, of slope (n − 3)/2.
  const excess = (logRatio: number) =>
    Math.log(probabilityOfPairRatio(Math.exp(logRatio), rest)) - logGoal;
  let previous = -Math.LN2;
  let previousExcess = excess(previous);
  let current = Math.min(-1e-3, previous - (2 * previousExcess) / (count - 3));
  for (let step = 0; step < 30; step += 1) {
    const currentExcess = excess(current);
    const slope = (currentExcess - previousExcess) / (current - previous);
    if (!Number.isFinite(slope) || slope <= 0) break;
    previous = current;
    previousExcess = currentExcess;
    current = Math.min(-1e-6, current - currentExcess / slope);
    if (Math.abs(current - previous) < 1e-9) break;
  }
  return Math.exp(current);
}
