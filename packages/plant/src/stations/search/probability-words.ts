/** A probability beside words: three decimals, and never a certainty that is none. */
export const probabilityWords = (value: number): string =>
  value > 0.9995 && value < 1 ? 'over 0.999' : value.toFixed(3);
