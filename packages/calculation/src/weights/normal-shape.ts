import { andersonDarling, andersonDarlingProbability } from '../quantity/anderson-darling.ts';
import { normalDistribution } from '../quantity/normal.ts';
import { probabilityText } from '../quantity/probability-text.ts';
import { sampleMoments } from '../quantity/sample-moments.ts';

/** Fewer pieces cannot show a cut edge or a second heap. */
const leastPiecesForShape = 20;
/**
 * Levels of the tests. Together they refuse about one truly normal sample in thirty: a refusal costs a
 * statement, an overlooked sorting makes the statement false.
 */
const shapeLevel = 0.02;
const emptyTailLevel = 0.02;
const strayLevel = 0.00125;

/** What the shape of a sample allows. */
export interface NormalShape {
  readonly normalTheory: 'usable' | 'refused';
  readonly reason: string;
}

const refuse = (reason: string): NormalShape => ({ normalTheory: 'refused', reason });

/** The end of a sample, when it is not that of a normal distribution; null otherwise. */
function strangeEnd(distance: number, count: number, side: 'light' | 'heavy'): string | null {
  const beyond = normalDistribution(-distance, 0, 1);
  const empty = Math.exp(count * Math.log1p(-beyond));
  const deviations = `${distance.toFixed(2)} standard deviations from the mean`;
  if (empty < emptyTailLevel) {
    return `the ${side} side ends ${deviations}, as if sorted (probability ${probabilityText(empty)})`;
  }
  const occupied = -Math.expm1(count * Math.log1p(-beyond));
  if (occupied < strayLevel) {
    return `a stray ${side} piece lies ${deviations} (probability ${probabilityText(occupied)})`;
  }
  return null;
}

/** The feature that most likely made the general test fail, in words. */
function namedFeature(skewness: number, kurtosis: number): string {
  // The coefficient of a uniform distribution is 5/9; two heaps lie above it.
  if ((skewness ** 2 + 1) / kurtosis > 5 / 9) return 'two heaps, or masses spread as if sorted';
  if (kurtosis < 2.5) return 'tails that are cut off';
  return Math.abs(skewness) > 0.3 ? 'a skewed shape' : 'small but certain departures from it';
}

/**
 * Whether a statement of normal theory may be made about these masses. Blanks are often sorted by
 * mass before they are sold: the light and heavy ones are cut out, or two sortings are mixed, and
 * a mean with a standard deviation then says nothing true about the tails.
 *
 * Formula: refused for fewer than 20 pieces; for equal masses; for a spread below two divisions of
 * the readings; when the normal distribution with the sample's mean and standard deviation would
 * leave a tail as empty as it is, (1 − Φ(−distance))ⁿ, with probability below 0.02, or put a piece as
 * far out, 1 − (1 − Φ(−distance))ⁿ, with probability below 0.00125; and when the Anderson–Darling
 * test gives a probability below 0.02.
 *
 * @param masses 1 or more masses in grams, in any order
 * @returns usable or refused, with the reason in words
 * @throws DomainError for an empty list
 * Validity: about one sample in thirty of truly normal masses is refused. Of samples cut one standard
 * deviation below the mean about nine in ten are found with 100 pieces and nearly all with 250, but
 * few with 30; two sortings four deviations apart are found in eight samples of ten with 50 pieces
 * (simulated in laws/weights). No test proves normality: usable means that nothing speaks against it.
 * Source: D'Agostino and Stephens (1986), Goodness-of-Fit Techniques, chapter 4; the tail check is
 * elementary probability; the limits are common practice
 * @example judgeNormalShape([7.5, 7.5]).normalTheory // 'refused'
 */
export function judgeNormalShape(masses: readonly number[]): NormalShape {
  const moments = sampleMoments(masses);
  const { mean, standardDeviation, skewness, kurtosis } = moments;
  const count = masses.length;
  if (count < leastPiecesForShape) {
    return refuse(`fewer than ${leastPiecesForShape} pieces cannot show the shape`);
  }
  if (!standardDeviation || skewness === null || kurtosis === null) {
    return refuse('all masses are equal: the readings do not show the spread');
  }
  const ascending = [...masses].sort((a, b) => a - b);
  if (standardDeviation < 2 * division(ascending)) {
    return refuse('the readings are coarse against the spread: fewer than two divisions');
  }
  const lowest = (mean - (ascending[0] ?? mean)) / standardDeviation;
  const highest = ((ascending[count - 1] ?? mean) - mean) / standardDeviation;
  const end = strangeEnd(lowest, count, 'light') ?? strangeEnd(highest, count, 'heavy');
  if (end) return refuse(end);
  const statistic = andersonDarling(ascending, { mean, standardDeviation });
  const probability = andersonDarlingProbability(statistic);
  return probability < shapeLevel
    ? refuse(
        `the masses are not those of one normal process: ${namedFeature(skewness, kurtosis)} (probability ${probabilityText(probability)})`,
      )
    : {
        normalTheory: 'usable',
        reason: `nothing speaks against a normal distribution (probability ${probabilityText(probability)})`,
      };
}

/** Smallest step between different readings, an upper bound of the division of the balance. */
function division(ascending: readonly number[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (let index = 1; index < ascending.length; index += 1) {
    const step = (ascending[index] ?? 0) - (ascending[index - 1] ?? 0);
    if (step > 0 && step < least) least = step;
  }
  return least;
}
