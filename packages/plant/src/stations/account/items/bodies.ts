import { z } from 'zod';

/** What is bought with a number of its own, and the name under which entries speak of its use. */
export const numberedItems = { seal: 'seal', 'tube label': 'tube', 'box label': 'box' } as const;

export type NumberedItem = keyof typeof numberedItems;

export const itemNames = Object.keys(numberedItems) as [NumberedItem, ...NumberedItem[]];

const number = z.number().int().min(0).max(999_999_999);

export const numbersReceived = z.strictObject({
  series: z.string(),
  item: z.enum(itemNames),
  /** What stands before the digits. */
  prefix: z.string(),
  digits: z.number().int().min(1).max(9),
  first: number,
  last: number,
  document: z.string(),
});

export const numbersSpoiled = z.strictObject({
  series: z.string(),
  first: number,
  last: number,
  reason: z.string(),
});

export const numbersCounted = z.strictObject({
  series: z.string(),
  item: z.enum(itemNames),
  received: z.number().int(),
  used: z.number().int(),
  spoiled: z.number().int(),
  /** Counted by two people who were not told how many there should be. */
  found: z.number().int().min(0),
  /** Found less what should be there. */
  difference: z.number().int(),
});

export type NumbersReceived = z.infer<typeof numbersReceived>;
export type NumbersSpoiled = z.infer<typeof numbersSpoiled>;
export type NumbersCounted = z.infer<typeof numbersCounted>;
