import { decimalOfNumber } from '../quantity/decimal.ts';
import { countProbabilities, type LotQuality } from './count-distribution.ts';

type OneLot = Extract<LotQuality, { basis: 'hypergeometric' }>;

/** Floating probabilities nearer to a limit than this are decided with whole numbers. */
const undecided = 1e-11;

/** Whole numbers are formed from at most so many factors; beyond, no tie is to be expected. */
const greatestFactors = 2000;

function falling(from: number, factors: number): bigint {
  let product = 1n;
  for (let index = 0; index < factors; index += 1) product *= BigInt(from - index);
  return product;
}

/**
 * Ways to find at most so many nonconforming pieces, and all ways, as whole numbers: sample and
 * nonconforming pieces may change places, so that the smaller of them gives the factors.
 */
function waysOf(sample: number, lot: OneLot, greatestCount: number): [bigint, bigint] {
  const { lotSizePieces, nonconformingPieces } = lot;
  const few = Math.min(sample, nonconformingPieces);
  const many = Math.max(sample, nonconformingPieces);
  let ways = 0n;
  let choices = 1n;
  for (let count = 0; count <= Math.min(few, greatestCount); count += 1) {
    const others = few - count;
    if (lotSizePieces - many >= others) {
      ways += choices * falling(many, count) * falling(lotSizePieces - many, others);
    }
    choices = (choices * BigInt(few - count)) / BigInt(count + 1);
  }
  return [ways, falling(lotSizePieces, few)];
}

function isDecidedExactly(sample: number, quality: LotQuality): quality is OneLot {
  return (
    quality.basis === 'hypergeometric' &&
    Math.min(sample, quality.nonconformingPieces) <= greatestFactors
  );
}

/**
 * Whether a plan accepts lots of a quality with at most a given probability. For one lot a tie is
 * decided with whole numbers, since the smallest plan often meets the risk exactly.
 */
export function acceptsAtMost(
  plan: { readonly sampleSizePieces: number; readonly acceptanceNumber: number },
  quality: LotQuality,
  probability: number,
): boolean {
  const { sampleSizePieces, acceptanceNumber } = plan;
  const { probabilities, above } = countProbabilities(sampleSizePieces, quality, acceptanceNumber);
  const accepted = probabilities.reduce((sum, value) => sum + value, 0);
  const difference = accepted < 0.5 ? accepted - probability : 1 - probability - above;
  if (Math.abs(difference) > undecided || !isDecidedExactly(sampleSizePieces, quality)) {
    return difference <= 0;
  }
  const [ways, all] = waysOf(sampleSizePieces, quality, acceptanceNumber);
  const { coefficient, places } = decimalOfNumber(probability);
  return ways * 10n ** BigInt(places) <= coefficient * all;
}

/** Whether a plan rejects lots of a quality with at most a given probability, ties as above. */
export function rejectsAtMost(
  plan: { readonly sampleSizePieces: number; readonly acceptanceNumber: number },
  quality: LotQuality,
  probability: number,
): boolean {
  const { sampleSizePieces, acceptanceNumber } = plan;
  const { above } = countProbabilities(sampleSizePieces, quality, acceptanceNumber);
  if (Math.abs(above - probability) > undecided || !isDecidedExactly(sampleSizePieces, quality)) {
    return above <= probability;
  }
  const [ways, all] = waysOf(sampleSizePieces, quality, acceptanceNumber);
  const { coefficient, places } = decimalOfNumber(probability);
  return (all - ways) * 10n ** BigInt(places) <= coefficient * all;
}
