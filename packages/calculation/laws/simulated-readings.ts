import { seededIntegers } from '../src/sampling/seeded-integers.ts';

/** Seeded uniform and standard normal values for simulated weighings. */
export function seededNormals(seed: string): {
  readonly uniform: () => number;
  readonly normal: () => number;
} {
  const stream = seededIntegers(seed);
  // The half keeps zero out, which has no logarithm.
  const uniform = (): number => (stream.below(2 ** 52) + 0.5) / 2 ** 52;
  const normal = (): number =>
    Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
  return { uniform, normal };
}
