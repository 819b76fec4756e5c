import { requireDomain } from '../quantity/domain.ts';
import type { SeededIntegers } from './seeded-integers.ts';

/**
 * Share of a sample that falls to each container, proportional to its pieces.
 *
 * Formula: when there are at least as many pieces to draw as containers, every container whose
 * proportional share is below one gets one piece, and the rest is shared among the others: the
 * whole part of each share first, what is left to the largest remainders, equal remainders in an
 * order that the stream decides. When there are fewer pieces than containers, the containers are
 * laid end to end in an order that the stream decides and met at equal distances from a start that
 * the stream decides, so that every piece of the lot has the same chance.
 *
 * @param containerPieces pieces of each container, 1 or more each
 * @param sampleSizePieces pieces to draw, 1 to the sum of the containers
 * @param stream decides ties, order and start
 * @returns pieces to draw from each container in the same order; sums to the sample size and never
 * exceeds what a container holds
 * @throws DomainError for more pieces than there are, or fewer than one
 * Validity: exact, by whole numbers.
 * Source: W. G. Cochran (1977), Sampling Techniques, 3rd edition, 5.5 and 9A.5 (proportional
 * allocation, systematic selection with probability proportional to size); largest remainders are
 * common practice
 * @example allocateSample([100, 50, 50], 8, seededIntegers('0123456789abcdef')) // [4, 2, 2]
 */
export function allocateSample(
  containerPieces: readonly number[],
  sampleSizePieces: number,
  stream: SeededIntegers,
): number[] {
  const total = containerPieces.reduce((sum, pieces) => sum + pieces, 0);
  requireDomain(
    Number.isSafeInteger(sampleSizePieces) && sampleSizePieces >= 1 && sampleSizePieces <= total,
    {
      field: 'sampleSizePieces',
      value: sampleSizePieces,
      accepted: `a whole number from 1 to the ${total} pieces in the containers`,
    },
  );
  return sampleSizePieces >= containerPieces.length
    ? allocateByLargestRemainder(containerPieces, sampleSizePieces, stream)
    : allocateSystematically(containerPieces, sampleSizePieces, stream);
}

function allocateByLargestRemainder(
  containerPieces: readonly number[],
  sampleSizePieces: number,
  stream: SeededIntegers,
): number[] {
  let proportional = containerPieces.map((_, index) => index);
  let sample = sampleSizePieces;
  let total = 0n;
  // Raising a share to one lowers the others, so that further ones may come to lie below one.
  for (;;) {
    total = proportional.reduce((sum, index) => sum + BigInt(containerPieces[index] ?? 0), 0n);
    const kept = proportional.filter(
      (index) => BigInt(sample) * BigInt(containerPieces[index] ?? 0) >= total,
    );
    if (kept.length === proportional.length) break;
    sample -= proportional.length - kept.length;
    proportional = kept;
  }
  const allocation = containerPieces.map(() => 1);
  const shares = shuffled(proportional, stream).map((index) => {
    const product = BigInt(sample) * BigInt(containerPieces[index] ?? 0);
    return { index, whole: Number(product / total), remainder: product % total };
  });
  for (const { index, whole } of shares) allocation[index] = whole;
  const left = sample - shares.reduce((sum, share) => sum + share.whole, 0);
  shares.sort((a, b) => (a.remainder < b.remainder ? 1 : a.remainder > b.remainder ? -1 : 0));
  for (const { index, whole } of shares.slice(0, left)) allocation[index] = whole + 1;
  return allocation;
}

function allocateSystematically(
  containerPieces: readonly number[],
  sampleSizePieces: number,
  stream: SeededIntegers,
): number[] {
  const total = containerPieces.reduce((sum, pieces) => sum + pieces, 0);
  const sample = BigInt(sampleSizePieces);
  const order = shuffled(
    containerPieces.map((_, index) => index),
    stream,
  );
  const allocation = containerPieces.map(() => 0);
  // Lengths are multiplied by the sample size, so that the distance between points is the total.
  let point = BigInt(stream.below(total));
  let end = 0n;
  for (const index of order) {
    end += sample * BigInt(containerPieces[index] ?? 0);
    while (point < end) {
      allocation[index] = (allocation[index] ?? 0) + 1;
      point += BigInt(total);
    }
  }
  return allocation;
}

/** The items in an order that the stream decides, every order equally probable. */
function shuffled<Item>(items: readonly Item[], stream: SeededIntegers): Item[] {
  const result = [...items];
  for (let last = result.length - 1; last > 0; last -= 1) {
    const other = stream.below(last + 1);
    const moved = result[last] as Item;
    result[last] = result[other] as Item;
    result[other] = moved;
  }
  return result;
}
