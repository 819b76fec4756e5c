import { normalQuantile } from '../src/quantity/normal.ts';

/** Masses of a normal process of 31.1 g and 0.02 g, all below 31.08 g sorted out: its quantiles, stirred. */
export function cutNormal(count: number): number[] {
  const cut = 0.15865525393145707;
  return Array.from({ length: count }, (_, index) => {
    // Steps of a number without common factor visit every place once.
    const place = (index * 7919) % count;
    return 31.1 + 0.02 * normalQuantile(cut + ((1 - cut) * (place + 0.5)) / count);
  });
}
