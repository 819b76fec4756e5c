import type { RandomWords } from './random-words.ts';

/** Layers of equal area under the normal density. */
const layers = 256;
/** Where the tail begins, and the area of a layer, for 256 layers of exp(−x²/2). */
const tailStart = 3.6541528853610088;
const layerArea = 0.00492867323399;

const edges = new Float64Array(layers + 1);
const ratios = new Float64Array(layers);
const heights = new Float64Array(layers + 1);

function fillLayers(): void {
  const density = (x: number) => Math.exp(-0.5 * x * x);
  edges[0] = layerArea / density(tailStart);
  edges[1] = tailStart;
  for (let layer = 2; layer < layers; layer += 1) {
    const below = edges[layer - 1] as number;
    edges[layer] = Math.sqrt(-2 * Math.log(layerArea / below + density(below)));
  }
  for (let layer = 0; layer < layers; layer += 1) {
    ratios[layer] = (edges[layer + 1] as number) / (edges[layer] as number);
  }
  for (let layer = 0; layer <= layers; layer += 1) heights[layer] = density(edges[layer] as number);
}

fillLayers();

function normalTail(random: RandomWords): number {
  for (;;) {
    const x = -Math.log(random.uniform()) / tailStart;
    const y = -Math.log(random.uniform());
    if (2 * y >= x * x) return tailStart + x;
  }
}

/**
 * A standard normal deviate.
 *
 * Formula: layers of equal area under the density; a point of a layer is taken at once where the
 * layer lies wholly under the curve (98.8 % of all), else accepted or refused by the density; beyond
 * the last layer the tail by two exponential deviates.
 *
 * @param random stream of words
 * @returns a deviate with mean 0 and standard deviation 1
 * Validity: steps of 2⁻⁵² of a layer; moments and distribution are tested beside the code.
 * Source: G. Marsaglia and W. W. Tsang (2000), The ziggurat method for generating random
 * variables, Journal of Statistical Software 5(8); J. A. Doornik (2005), An improved ziggurat
 * method to generate normal random samples (independent bits for layer and place)
 * @example normalDeviate(randomStream(1, 0)) === normalDeviate(randomStream(1, 0)) // true
 */
export function normalDeviate(random: RandomWords): number {
  for (;;) {
    const low = random.next();
    const layer = low & 0xff;
    // 52 bits with sign for the place: 32 from one word, 20 more from the rest of the other.
    const place = (random.next() + (low >>> 12) / 0x100000) / 0x80000000;
    if (Math.abs(place) < (ratios[layer] as number)) return place * (edges[layer] as number);
    if (layer === 0) {
      const tail = normalTail(random);
      return place < 0 ? -tail : tail;
    }
    const x = place * (edges[layer] as number);
    const [lower, upper] = [heights[layer] as number, heights[layer + 1] as number];
    if (lower + random.uniform() * (upper - lower) < Math.exp(-0.5 * x * x)) return x;
  }
}

/**
 * A gamma deviate with scale 1.
 *
 * Formula: d·v with d = shape − 1/3, v = (1 + z/√(9d))³ of a normal z, accepted by its density;
 * for a shape below 1 a deviate of shape + 1 times the power 1/shape of a uniform one.
 *
 * @param random stream of words
 * @param shape above 0
 * @returns a deviate above 0 with mean and variance equal to the shape
 * Validity: exact method; moments and distribution are tested beside the code.
 * Source: G. Marsaglia and W. W. Tsang (2000), A simple method for generating gamma variables, ACM
 * Transactions on Mathematical Software 26(3), 363-372
 * @example gammaDeviate(randomStream(1, 0), 2) > 0 // true
 */
export function gammaDeviate(random: RandomWords, shape: number): number {
  if (shape < 1) return gammaDeviate(random, shape + 1) * random.uniform() ** (1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const z = normalDeviate(random);
    const root = 1 + c * z;
    if (root <= 0) continue;
    const v = root * root * root;
    const u = random.uniform();
    if (u < 1 - 0.0331 * z * z * z * z) return d * v;
    if (Math.log(u) < 0.5 * z * z + d * (1 - v + Math.log(v))) return d * v;
  }
}

/**
 * A deviate of Student's t: a normal one over the root of a mean square.
 *
 * Formula: z / √(2g/ν), z normal, g a gamma deviate of shape ν/2.
 *
 * @param random stream of words
 * @param degreesOfFreedom ν, above 0
 * @returns a deviate with mean 0 where ν > 1 and variance ν/(ν − 2) where ν > 2
 * Validity: as `gammaDeviate`. Source: JCGM 101:2008, 6.4.9 and C.6
 * @example Number.isFinite(studentDeviate(randomStream(1, 0), 4)) // true
 */
export function studentDeviate(random: RandomWords, degreesOfFreedom: number): number {
  const square = (2 * gammaDeviate(random, degreesOfFreedom / 2)) / degreesOfFreedom;
  return normalDeviate(random) / Math.sqrt(square);
}
