import gammainc from '@stdlib/math-base-special-gammainc';
import gammaln from '@stdlib/math-base-special-gammaln';
import { requireDomain } from '../quantity/domain.ts';
import { type Complex, fourierTransform } from './fourier.ts';

/** A Weibull life and, when the first die is not new, the strikes that it has made. */
export interface RenewalLife {
  readonly scaleStrikes: number;
  readonly shape: number;
  readonly firstAgeStrikes: number;
}

/** At most so many mean lives in one order. */
const greatestMeanLives = 200;
/** A first die older than all but this share of dies tells that the life is not the right one. */
const leastFirstSurvival = 1e-6;
/** What the damping leaves of a count that has gone once around the circle of the transform. */
const aliasing = 1e-9;
const negligible = 2e-9;
const finestCells = 4096;
const cellsPerSpread = 64;
const mostCells = 2 ** 17;

/** ∫ of the survival from 0 to t, in strikes. */
function survivalArea(life: RenewalLife, mean: number, t: number): number {
  return mean * gammainc((t / life.scaleStrikes) ** life.shape, 1 / life.shape);
}

/** ∫ of the survival of a die of an age over the next t strikes. */
function firstArea(life: RenewalLife, mean: number, t: number): number {
  const { firstAgeStrikes: age, scaleStrikes: scale, shape } = life;
  const survival = Math.exp(-((age / scale) ** shape));
  return (survivalArea(life, mean, age + t) - survivalArea(life, mean, age)) / survival;
}

/**
 * Lives on a lattice of equal cells: each life is shared between its two neighbours on the lattice in
 * the proportion that keeps the mean. Damped by r^cell for the transform.
 */
function latticeLives(
  area: (t: number) => number,
  cell: number,
  cells: number,
  size: number,
): Float64Array {
  const damping = aliasing ** (1 / size);
  const weights = new Float64Array(size);
  let before = 0;
  let here = area(cell);
  // The share at zero: what is not carried on to the first cell.
  weights[0] = 1 - here / cell;
  for (let index = 1; index <= cells; index += 1) {
    const after = area((index + 1) * cell);
    weights[index] = ((2 * here - before - after) / cell) * damping ** index;
    if (after === here && index > 1) break;
    before = here;
    here = after;
  }
  return weights;
}

/** Weight of each frequency in the sum over all cells before the order is struck, the last one half. */
function orderWeights(cells: number, size: number): Complex {
  const growth = aliasing ** (-1 / size);
  const sum = new Float64Array(size);
  for (let index = 0; index <= cells; index += 1) {
    sum[index] = growth ** index * (index === cells ? 0.5 : 1);
  }
  const { real, imaginary } = fourierTransform(sum);
  return {
    real: real.map((value) => value / size),
    imaginary: imaginary.map((value) => -value / size),
  };
}

/** Probability that the first life falls short of the order; exact. */
function firstShortfall(life: RenewalLife, orderStrikes: number): number {
  const { firstAgeStrikes: age, scaleStrikes: scale, shape } = life;
  return -Math.expm1((age / scale) ** shape - ((age + orderStrikes) / scale) ** shape);
}

/** Probabilities that 1, 2, 3 … lives together fall short of the order, on one lattice. */
function shortfallsOnLattice(life: RenewalLife, orderStrikes: number, cells: number): number[] {
  const mean = life.scaleStrikes * Math.exp(gammaln(1 + 1 / life.shape));
  const cell = orderStrikes / cells;
  let size = 2;
  while (size < 2 * (cells + 1)) size *= 2;
  const area = (t: number) => survivalArea(life, mean, t);
  const lives = fourierTransform(latticeLives(area, cell, cells, size));
  const first =
    life.firstAgeStrikes === 0
      ? lives
      : fourierTransform(latticeLives((t) => firstArea(life, mean, t), cell, cells, size));
  const weights = orderWeights(cells, size);
  const power = { real: first.real.slice(), imaginary: first.imaginary.slice() };
  const shortfalls: number[] = [];
  const half = size / 2;
  for (;;) {
    let total = 0;
    // The second half of the spectrum mirrors the first.
    for (let k = 0; k <= half; k += 1) {
      const a = power.real[k] as number;
      const b = power.imaginary[k] as number;
      const term = a * (weights.real[k] as number) - b * (weights.imaginary[k] as number);
      total += k === 0 || k === half ? term : 2 * term;
      const c = lives.real[k] as number;
      const d = lives.imaginary[k] as number;
      power.real[k] = a * c - b * d;
      power.imaginary[k] = a * d + b * c;
    }
    shortfalls.push(total);
    if (total < negligible) return shortfalls;
  }
}

/**
 * Probabilities that one, two, three … dies, one after the other, fall short of an order: the
 * distribution of the number of dies that it needs.
 *
 * Formula: P(T₁ + … + Tₖ < order), the lives Weibull and independent, the first one conditional on the
 * strikes its die has made. Lives on a lattice that keeps their mean, their sums by the discrete
 * Fourier transform with damping, two lattices extrapolated to cell width zero.
 *
 * @param life scale in strikes above 0, shape from 0.3 to 20, age of the first die in strikes
 * @param orderStrikes above 0, at most 200 mean lives
 * @returns shortfall[k − 1] for k = 1, 2 …, until it is below 1e-9; each in [0, 1], not rising
 * @throws DomainError for a shape or order outside its range, or a first die that would have outlived
 *   all but a millionth of its like
 * Validity: absolute accuracy 1e-6, for orders below 50 mean lives and shapes of 1 and more 1e-7; held
 * against closed forms and simulation in laws/dies.
 * Source: D. R. Cox (1962), Renewal Theory, 3.1; damping: J. Abate and W. Whitt (1992), Queueing
 * Systems 10, 5-88
 * @example renewalShortfalls({ scaleStrikes: 1, shape: 1, firstAgeStrikes: 0 }, 1)[0] // 0.6321206
 */
export function renewalShortfalls(life: RenewalLife, orderStrikes: number): readonly number[] {
  requireDomain(life.shape >= 0.3 && life.shape <= 20, {
    field: 'shape',
    value: life.shape,
    accepted: 'a shape from 0.3 to 20',
  });
  const mean = life.scaleStrikes * Math.exp(gammaln(1 + 1 / life.shape));
  requireDomain(orderStrikes > 0 && orderStrikes <= greatestMeanLives * mean, {
    field: 'orderStrikes',
    value: orderStrikes,
    accepted: `an order above 0 and at most ${greatestMeanLives} mean lives of ${Math.round(mean)} strikes`,
  });
  requireDomain(
    Math.exp(-((life.firstAgeStrikes / life.scaleStrikes) ** life.shape)) >= leastFirstSurvival,
    {
      field: 'firstAgeStrikes',
      value: life.firstAgeStrikes,
      accepted: 'an age that at least a millionth of the dies of this life reach',
    },
  );
  // So short an order lies below the finest life that a double can tell from none on a lattice.
  const first = firstShortfall(life, orderStrikes);
  if (first < negligible) return [first];
  const second = gammaln(1 + 2 / life.shape) - 2 * gammaln(1 + 1 / life.shape);
  const spread = mean * Math.min(1, Math.sqrt(Math.expm1(second)));
  const wanted = Math.ceil((cellsPerSpread * orderStrikes) / spread);
  const cells = Math.min(mostCells, Math.max(finestCells, 2 * Math.ceil(wanted / 2)));
  const coarse = shortfallsOnLattice(life, orderStrikes, cells / 2);
  const fine = shortfallsOnLattice(life, orderStrikes, cells);
  // The error of a lattice falls with the square of its cell width.
  let least = 1;
  return fine.map((value, index) => {
    least = Math.max(0, Math.min(least, (4 * value - (coarse[index] ?? value)) / 3));
    return least;
  });
}
