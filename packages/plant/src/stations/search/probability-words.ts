import { probabilityText } from '@cupel/calculation/probability-text';

/** A probability beside words: three decimals, and never a certainty that is none. */
export const probabilityWords = (value: number): string => probabilityText(value, 3);
