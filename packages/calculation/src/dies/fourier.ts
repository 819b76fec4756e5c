/** Complex numbers as two lists of equal length. */
export interface Complex {
  readonly real: Float64Array;
  readonly imaginary: Float64Array;
}

/** Puts the values at the places whose binary digits are reversed. */
function reverseOrder({ real, imaginary }: Complex): void {
  const size = real.length;
  for (let index = 1, mirrored = 0; index < size; index += 1) {
    let bit = size >> 1;
    for (; mirrored & bit; bit >>= 1) mirrored ^= bit;
    mirrored ^= bit;
    if (index >= mirrored) continue;
    for (const part of [real, imaginary]) {
      const kept = part[index] as number;
      part[index] = part[mirrored] as number;
      part[mirrored] = kept;
    }
  }
}

/**
 * Discrete Fourier transform of real values, their number a power of two.
 *
 * Formula: X(k) = Σ x(j)·exp(−2πi·jk/n), by repeated halving.
 *
 * @param values 2, 4, 8 … real values
 * @returns all n complex values
 * Validity: relative accuracy about 1e-15 times the number of halvings.
 * Source: J. W. Cooley and J. W. Tukey (1965), Mathematics of Computation 19, 297-301
 * @example fourierTransform(Float64Array.of(1, 2, 3, 4)).real[0] // 10
 */
export function fourierTransform(values: Float64Array): Complex {
  const size = values.length;
  const real = Float64Array.from(values);
  const imaginary = new Float64Array(size);
  reverseOrder({ real, imaginary });
  for (let span = 1; span < size; span *= 2) {
    for (let offset = 0; offset < span; offset += 1) {
      const cosine = Math.cos((-Math.PI * offset) / span);
      const sine = Math.sin((-Math.PI * offset) / span);
      for (let low = offset; low < size; low += 2 * span) {
        const high = low + span;
        const a = real[high] as number;
        const b = imaginary[high] as number;
        const x = a * cosine - b * sine;
        const y = a * sine + b * cosine;
        real[high] = (real[low] as number) - x;
        imaginary[high] = (imaginary[low] as number) - y;
        real[low] = (real[low] as number) + x;
        imaginary[low] = (imaginary[low] as number) + y;
      }
    }
  }
  return { real, imaginary };
}
