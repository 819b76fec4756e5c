import { requireDomain } from '../quantity/domain.ts';

/** A stream of uniform whole numbers that a seed determines wholly. */
export interface SeededIntegers {
  /** The next 64 bits of the stream as a whole number. */
  nextWord(): bigint;
  /** The next whole number from 0 to below the bound, all equally probable; bound 1 to 2⁵³. */
  below(bound: number): number;
}

type State = [bigint, bigint, bigint, bigint];

const goldenGamma = 0x9e3779b97f4a7c15n;
const wordCount = 1n << 64n;
/** Steps thrown away so that every bit of the state has reached every word. */
const warmUpSteps = 64;

const word = (value: bigint): bigint => BigInt.asUintN(64, value);
const rotateLeft = (value: bigint, bits: bigint): bigint =>
  word((value << bits) | (value >> (64n - bits)));

/** The output mixing of SplitMix64: every bit of the word sways every bit of the result. */
export function mixWord(value: bigint): bigint {
  let mixed = word(value);
  mixed = word((mixed ^ (mixed >> 30n)) * 0xbf58476d1ce4e5b9n);
  mixed = word((mixed ^ (mixed >> 27n)) * 0x94d049bb133111ebn);
  return mixed ^ (mixed >> 31n);
}

/** One step of xoshiro256**: changes the state in place and returns the output word. */
export function stepXoshiro(state: State): bigint {
  const output = word(rotateLeft(word(state[1] * 5n), 7n) * 9n);
  const shifted = word(state[1] << 17n);
  state[2] ^= state[0];
  state[3] ^= state[1];
  state[1] ^= state[2];
  state[0] ^= state[3];
  state[2] ^= shifted;
  state[3] = rotateLeft(state[3], 45n);
  return output;
}

/**
 * State from all digits of the seed. Word i of the state starts as the mixed (i + 1)-fold golden
 * gamma, the first one with the number of digits added; the seed is cut into words of sixteen
 * digits from the left, the last one filled with zeros on the right, and each is joined by
 * exclusive or to the state words in turn, which are mixed again. Seeds of equal length up to 64
 * digits thus never share a state.
 */
function stateFromSeed(seed: string): State {
  const state: State = [0n, 0n, 0n, 0n];
  for (let index = 0; index < 4; index += 1) {
    state[index] = mixWord(
      BigInt(index + 1) * goldenGamma + (index === 0 ? BigInt(seed.length) : 0n),
    );
  }
  for (let start = 0; start < seed.length; start += 16) {
    const digits = BigInt(`0x${seed.slice(start, start + 16).padEnd(16, '0')}`);
    const index = (start / 16) % 4;
    state[index] = mixWord((state[index] as bigint) ^ digits);
  }
  // The generator would stand still in the state of four zeros.
  if (state.every((part) => part === 0n)) state[0] = goldenGamma;
  return state;
}

/**
 * Stream of whole numbers for a draw that anybody can repeat: the same seed gives the same numbers
 * on every platform, since only whole numbers of 64 bits are used.
 *
 * Formula: generator xoshiro256** (period 2²⁵⁶ − 1), its state made from every digit of the seed
 * with the mixing function of SplitMix64, 64 steps thrown away first. A number below a bound is
 * the 64-bit output modulo the bound, outputs at or above the greatest multiple of the bound
 * being passed over so that no number is favoured.
 *
 * @param seed at least 16 hexadecimal digits, capital or small, usually a SHA-256
 * @returns the stream at its beginning
 * @throws DomainError for a seed that is no such text; `below` throws for a bound that is not a
 * whole number from 1 to 2⁵³
 * Validity: for draws, not for secrets: who knows the seed knows the draw, which is the purpose.
 * Source: D. Blackman and S. Vigna (2021), Scrambled linear pseudorandom number generators, ACM
 * Transactions on Mathematical Software 47(4); G. Steele, D. Lea and C. Flood (2014), Fast
 * splittable pseudorandom number generators, OOPSLA 2014
 * @example seededIntegers('00000000000000000000000000000000').below(100) // 79
 */
export function seededIntegers(seed: string): SeededIntegers {
  requireDomain(/^[0-9a-f]{16,}$/i.test(seed), {
    field: 'seed',
    value: seed,
    accepted: 'at least 16 hexadecimal digits',
  });
  const state = stateFromSeed(seed.toLowerCase());
  for (let step = 0; step < warmUpSteps; step += 1) stepXoshiro(state);
  const nextWord = (): bigint => stepXoshiro(state);
  const below = (bound: number): number => {
    requireDomain(Number.isInteger(bound) && bound >= 1 && bound <= 2 ** 53, {
      field: 'bound',
      value: bound,
      accepted: 'a whole number from 1 to 2^53',
    });
    const size = BigInt(bound);
    const fairWords = wordCount - (wordCount % size);
    for (;;) {
      const next = nextWord();
      if (next < fairWords) return Number(next % size);
    }
  };
  return { nextWord, below };
}
