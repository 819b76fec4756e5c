import { requireDomain } from '../quantity/domain.ts';
import { gaussLegendre } from '../quantity/gauss-legendre.ts';
import { normalDistribution, normalLogDensity } from '../quantity/normal.ts';
import { compensatedSum } from '../quantity/sum.ts';

/** Probability between two bounds, taken in the tail where the difference keeps its figures. */
function intervalProbability(
  lower: number,
  upper: number,
  distribution: { readonly mean: number; readonly standardDeviation: number },
): number {
  const { mean, standardDeviation } = distribution;
  return lower > mean
    ? normalDistribution(-lower, -mean, standardDeviation) -
        normalDistribution(-upper, -mean, standardDeviation)
    : normalDistribution(upper, mean, standardDeviation) -
        normalDistribution(lower, mean, standardDeviation);
}

/**
 * Probability that a scale which rounds to its division shows a reading, given a normal net mass.
 *
 * Formula: Φ((x + d/2 − m)/s) − Φ((x − d/2 − m)/s), x reading, d division, m expected mass, s
 * standard uncertainty without the rounding term.
 *
 * @param reading reading and division in grams, division above 0
 * @param mass expected mass in grams and its standard uncertainty without rounding, above 0
 * @returns probability in [0, 1], not rounded
 * @throws DomainError for a division or an uncertainty not above 0
 * Validity: exact. To be used where s is below a quarter of the division; above that a normal
 * density with the rounding term agrees with it. Shown in reference/counting.
 * Source: W. F. Sheppard (1898) for grouped normal data; elementary probability
 * @example roundedReadingLikelihood({ readingGrams: 622, divisionGrams: 1 },
 *   { expectedGrams: 622, standardUncertaintyGrams: 0.3 }) // 0.9044
 */
export function roundedReadingLikelihood(
  reading: { readonly readingGrams: number; readonly divisionGrams: number },
  mass: { readonly expectedGrams: number; readonly standardUncertaintyGrams: number },
): number {
  const { readingGrams, divisionGrams } = reading;
  requireDomain(divisionGrams > 0, {
    field: 'divisionGrams',
    value: divisionGrams,
    accepted: 'a division above 0 g',
  });
  return intervalProbability(readingGrams - divisionGrams / 2, readingGrams + divisionGrams / 2, {
    mean: mass.expectedGrams,
    standardDeviation: mass.standardUncertaintyGrams,
  });
}

/** How the errors of repeated weighings of one container divide. */
export interface RepeatedWeighing {
  /** Shared by all weighings of the container: pieces, lot, reference mean, gain, tare. */
  readonly sharedStandardUncertaintyGrams: number;
  /** Of each weighing for itself. */
  readonly noiseStandardUncertaintyGrams: number;
}

/**
 * Logarithm of the joint density of repeated net readings of one container.
 *
 * Formula: with g readings of mean x̄, shared variance S² and noise variance v the readings are
 * normal with covariance S² + v on and S² off the diagonal; the density is that of x̄ with variance
 * S² + v/g, times that of the residuals about x̄.
 *
 * @param readingsGrams 1 or more net readings
 * @param expectedGrams mass for the count in question
 * @param weighing shared part above 0; noise above 0 where there is more than one reading
 * @returns natural logarithm of the density, not rounded
 * @throws DomainError for uncertainties outside their range
 * Validity: normal errors. Repeating a weighing removes noise only, not the shared part.
 * Source: multivariate normal distribution, compound symmetry; elementary
 * @example repeatedReadingLogDensity([0], 0, { sharedStandardUncertaintyGrams: 0.6,
 *   noiseStandardUncertaintyGrams: 0.8 }) // -0.9189385332046727
 */
export function repeatedReadingLogDensity(
  readingsGrams: readonly number[],
  expectedGrams: number,
  weighing: RepeatedWeighing,
): number {
  const count = readingsGrams.length;
  const shared = weighing.sharedStandardUncertaintyGrams ** 2;
  const noise = weighing.noiseStandardUncertaintyGrams ** 2;
  requireDomain(count === 1 || noise > 0, {
    field: 'noiseStandardUncertaintyGrams',
    value: weighing.noiseStandardUncertaintyGrams,
    accepted: 'a standard uncertainty above 0 g where there are several readings',
  });
  const mean = compensatedSum(readingsGrams) / count;
  const meanDensity = normalLogDensity(mean, expectedGrams, Math.sqrt(shared + noise / count));
  if (count === 1) return meanDensity;
  const squares = compensatedSum(readingsGrams.map((reading) => (reading - mean) ** 2));
  return (
    meanDensity -
    ((count - 1) / 2) * Math.log(2 * Math.PI * noise) -
    0.5 * Math.log(count) -
    squares / (2 * noise)
  );
}

/**
 * Logarithm of the joint probability of repeated readings of a scale that rounds to its division.
 *
 * Formula: for one reading the interval of `roundedReadingLikelihood` with both parts of the
 * uncertainty together; for several the product of the intervals given the true net mass, integrated
 * over that mass with its shared uncertainty.
 *
 * @param readingsGrams 1 or more net readings
 * @param expectedGrams mass for the count in question
 * @param weighing shared part above 0, noise 0 or more, both without rounding; division above 0
 * @returns natural logarithm of the probability; minus infinity where it underflows
 * @throws DomainError for uncertainties or a division outside their range
 * Validity: normal errors; integration error below 1e-6 of the probability, held against simulation.
 * Source: elementary probability; Gauss–Legendre rule, Abramowitz and Stegun (1964), 25.4.30
 * @example repeatedRoundedLogProbability([622], 622, { sharedStandardUncertaintyGrams: 0.18,
 *   noiseStandardUncertaintyGrams: 0.24, divisionGrams: 1 }) // -0.10046
 */
export function repeatedRoundedLogProbability(
  readingsGrams: readonly number[],
  expectedGrams: number,
  weighing: RepeatedWeighing & { readonly divisionGrams: number },
): number {
  const { sharedStandardUncertaintyGrams: shared, noiseStandardUncertaintyGrams: noise } = weighing;
  const half = weighing.divisionGrams / 2;
  if (readingsGrams.length === 1) {
    const reading = { readingGrams: readingsGrams[0] as number, divisionGrams: 2 * half };
    const standardUncertaintyGrams = Math.hypot(shared, noise);
    return Math.log(roundedReadingLikelihood(reading, { expectedGrams, standardUncertaintyGrams }));
  }
  if (noise === 0) {
    const lower = Math.max(...readingsGrams) - half;
    const upper = Math.min(...readingsGrams) + half;
    if (lower >= upper) return Number.NEGATIVE_INFINITY;
    const distribution = { mean: expectedGrams, standardDeviation: shared };
    return Math.log(intervalProbability(lower, upper, distribution));
  }
  const integrand = (mass: number): number => {
    const density = Math.exp(normalLogDensity(mass, expectedGrams, shared));
    return readingsGrams.reduce(
      (product, reading) =>
        product *
        intervalProbability(reading - half, reading + half, {
          mean: mass,
          standardDeviation: noise,
        }),
      density,
    );
  };
  return Math.log(integrate(integrand, panels(readingsGrams, expectedGrams, weighing)));
}

/** Bounds of the panels: steps of the shared uncertainty, and finer ones where an interval ends. */
function panels(
  readingsGrams: readonly number[],
  expectedGrams: number,
  weighing: RepeatedWeighing & { readonly divisionGrams: number },
): number[] {
  const { sharedStandardUncertaintyGrams: shared, noiseStandardUncertaintyGrams: noise } = weighing;
  const least = expectedGrams - 9 * shared;
  const greatest = expectedGrams + 9 * shared;
  const bounds = new Set<number>();
  for (let step = -18; step <= 18; step += 1) bounds.add(expectedGrams + (step * shared) / 2);
  for (const reading of new Set(readingsGrams)) {
    for (const edge of [
      reading - weighing.divisionGrams / 2,
      reading + weighing.divisionGrams / 2,
    ]) {
      for (let step = -16; step <= 16; step += 1) bounds.add(edge + (step * noise) / 2);
    }
  }
  return [...bounds].filter((bound) => bound >= least && bound <= greatest).sort((a, b) => a - b);
}

const rule = gaussLegendre(5, -1, 1);

function integrate(integrand: (value: number) => number, bounds: readonly number[]): number {
  const parts: number[] = [];
  for (let index = 1; index < bounds.length; index += 1) {
    const lower = bounds[index - 1] as number;
    const upper = bounds[index] as number;
    const half = (upper - lower) / 2;
    rule.nodes.forEach((node, at) => {
      parts.push((rule.weights[at] as number) * half * integrand(lower + half * (1 + node)));
    });
  }
  return compensatedSum(parts);
}
