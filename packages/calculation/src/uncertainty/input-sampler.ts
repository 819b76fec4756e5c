import { requireDomain } from '../quantity/domain.ts';
import { gammaDeviate, normalDeviate, studentDeviate } from './deviates.ts';
import { momentsOfReadings } from './input-moments.ts';
import type { InputDistribution } from './input-quantity-schema.ts';
import type { RandomWords } from './random-words.ts';

/** Fills the first `count` places of a block with draws. */
export type Sampler = (block: Float64Array, count: number) => void;

/** Below it, t has no standard deviation, and a simulated standard uncertainty never settles. */
const leastStudentFreedom = 2;

/** A sampler that draws one value at a time. */
function each(draw: () => number): Sampler {
  return (block, count) => {
    for (let k = 0; k < count; k += 1) block[k] = draw();
  };
}

function normalSampler(random: RandomWords, mean: number, standardDeviation: number): Sampler {
  return (block, count) => {
    for (let k = 0; k < count; k += 1) block[k] = mean + standardDeviation * normalDeviate(random);
  };
}

function rectangularSampler(random: RandomWords, estimate: number, halfWidth: number): Sampler {
  return (block, count) => {
    const lower = estimate - halfWidth;
    for (let k = 0; k < count; k += 1) block[k] = lower + 2 * halfWidth * random.uniform();
  };
}

function studentSampler(
  random: RandomWords,
  mean: number,
  scale: number,
  freedom: number,
  field: string,
): Sampler {
  requireDomain(freedom > leastStudentFreedom, {
    field,
    value: freedom,
    accepted: `more than ${leastStudentFreedom} degrees of freedom (at least 4 readings), since t has no standard deviation below; or another distribution`,
  });
  return each(() => mean + scale * studentDeviate(random, freedom));
}

/**
 * Draws of an input quantity from its distribution.
 *
 * Formula: with r uniform on (0, 1) and a the half-width: rectangular a(2r − 1); triangular
 * a(r₁ + r₂ − 1); trapezoidal a((1 + β)r₁ + (1 − β)r₂ − 1); curvilinear trapezoidal with end
 * −s, s = a + d(2r₁ − 1), s(2r₂ − 1); arc-sine a·sin(2πr); exponential −x·ln r; normal, t and
 * gamma by their deviates.
 *
 * @param distribution what is known of the input
 * @param random stream of words of this input
 * @param field name of the distribution in the input, for the refusal
 * @returns a function that fills blocks
 * @throws DomainError for t with 2 degrees of freedom or fewer, readings fewer than 4 included
 * Validity: see `normalDeviate` and `gammaDeviate`.
 * Source: JCGM 101:2008, 6.4.2 to 6.4.11
 * @example samplerOf({ kind: 'exponential', estimate: 1 }, randomStream(1, 0)).length // 2
 */
export function samplerOf(
  distribution: InputDistribution,
  random: RandomWords,
  field = 'distribution',
): Sampler {
  switch (distribution.kind) {
    case 'normal':
      return normalSampler(random, distribution.estimate, distribution.standardUncertainty);
    case 't': {
      const { estimate, standardUncertainty, degreesOfFreedom } = distribution;
      const name = `${field}.degreesOfFreedom`;
      return studentSampler(random, estimate, standardUncertainty, degreesOfFreedom, name);
    }
    case 'readings': {
      const { estimate, standardUncertainty } = momentsOfReadings(distribution.readings);
      const freedom = distribution.readings.length - 1;
      return studentSampler(random, estimate, standardUncertainty, freedom, `${field}.readings`);
    }
    case 'rectangular':
      return rectangularSampler(random, distribution.estimate, distribution.halfWidth);
    case 'exponential':
      return each(() => -distribution.estimate * Math.log(random.uniform()));
    case 'gamma':
      return each(() => distribution.scale * gammaDeviate(random, distribution.shape));
    default:
      return boundedSampler(distribution, random);
  }
}

type Bounded = Extract<
  InputDistribution,
  { kind: 'triangular' | 'trapezoidal' | 'curvilinear trapezoidal' | 'arc-sine' }
>;

function boundedSampler(distribution: Bounded, random: RandomWords): Sampler {
  const { estimate, halfWidth: a } = distribution;
  switch (distribution.kind) {
    case 'triangular':
      return each(() => estimate + a * (random.uniform() + random.uniform() - 1));
    case 'trapezoidal': {
      const { topShare } = distribution;
      const [long, short] = [1 + topShare, 1 - topShare];
      return each(() => estimate + a * (long * random.uniform() + short * random.uniform() - 1));
    }
    case 'curvilinear trapezoidal': {
      const d = distribution.halfWidthTolerance;
      return each(() => {
        const end = a + d * (2 * random.uniform() - 1);
        return estimate + end * (2 * random.uniform() - 1);
      });
    }
    case 'arc-sine':
      return each(() => estimate + a * Math.sin(2 * Math.PI * random.uniform()));
  }
}
