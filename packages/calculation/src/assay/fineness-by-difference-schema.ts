import { z } from 'zod';
import { elementSymbols } from './element-symbols.ts';
import { byPolicyOutput } from './fields.ts';

/** What a content below its detection limit counts as. */
export const detectionLimitPolicies = ['zero', 'half', 'limit'] as const;

export type DetectionLimitPolicy = (typeof detectionLimitPolicies)[number];

/** Milligrams in a kilogram. */
export const wholeMilligramsPerKilogram = 1_000_000;
const content = 'a content from 0 to 1000000 mg/kg, or null when not detected';
const spread = 'a standard uncertainty of 0 mg/kg or more';
const limit = 'a detection limit from 0 to 1000000 mg/kg';
const symbol = 'the symbol of a chemical element, such as Ag or Cu';
const policyWords = 'one of zero, half, limit';
const baseElements = { gold: 'Au', silver: 'Ag' } as const;

const impurity = z.strictObject({
  element: z
    .string({ error: symbol })
    .refine((value) => elementSymbols.has(value), { error: symbol })
    .meta({ title: 'Element', description: 'Chemical symbol' }),
  contentMilligramsPerKilogram: z
    .number({ error: content })
    .min(0, { error: content })
    .max(wholeMilligramsPerKilogram, { error: content })
    .nullable()
    .meta({ title: 'Content found', description: 'Null when not detected', unit: 'mg/kg' }),
  standardUncertaintyMilligramsPerKilogram: z
    .number({ error: spread })
    .min(0, { error: spread })
    .max(wholeMilligramsPerKilogram, { error: spread })
    .meta({
      title: 'Standard uncertainty',
      description: 'Of the content found; not used below the detection limit',
      unit: 'mg/kg',
    }),
  detectionLimitMilligramsPerKilogram: z
    .number({ error: limit })
    .min(0, { error: limit })
    .max(wholeMilligramsPerKilogram, { error: limit })
    .meta({ title: 'Detection limit', unit: 'mg/kg' }),
});

export const finenessByDifferenceInputSchema = z
  .strictObject({
    metal: z
      .enum(['gold', 'silver'], { error: 'gold or silver' })
      .optional()
      .meta({ title: 'Base metal', description: 'Refused as its own impurity' }),
    impurities: z
      .array(impurity, { error: 'a list of at least one impurity' })
      .min(1, { error: 'at least one impurity' })
      .max(117, { error: 'at most 117 impurities' })
      .meta({ title: 'Impurities', description: 'Each element once' }),
    policy: z.enum(detectionLimitPolicies, { error: policyWords }).meta({
      title: 'Detection-limit policy',
      description: 'What a content below its detection limit counts as',
    }),
  })
  .superRefine((input, context) => {
    const seen = new Set<string>();
    for (const [index, { element }] of input.impurities.entries()) {
      const path = ['impurities', index, 'element'];
      if (seen.has(element)) {
        context.addIssue({ code: 'custom', path, message: 'each element once' });
      }
      if (input.metal !== undefined && element === baseElements[input.metal]) {
        const message = `an element other than the base metal ${element}`;
        context.addIssue({ code: 'custom', path, message });
      }
      seen.add(element);
    }
  });

const perMille = (title: string, description?: string) =>
  z.number().meta({ title, unit: '‰', ...(description === undefined ? {} : { description }) });
const milligramsPerKilogram = (title: string, description: string) =>
  z.number().meta({ title, description, unit: 'mg/kg' });

export const finenessByDifferenceOutputSchema = z.strictObject({
  sumMilligramsPerKilogram: milligramsPerKilogram('Sum of impurities', 'Under the chosen policy'),
  sumFoundMilligramsPerKilogram: milligramsPerKilogram(
    'Sum of impurities found',
    'Without the elements below their detection limits',
  ),
  finenessPerMille: perMille('Fineness', 'Under the chosen policy'),
  standardUncertaintyPerMille: perMille('Standard uncertainty'),
  byPolicy: byPolicyOutput,
  budget: z
    .array(
      z.strictObject({
        contribution: z.string().meta({ title: 'Element' }),
        handling: z.enum(['found', 'below detection limit']).meta({ title: 'Handling' }),
        usedMilligramsPerKilogram: milligramsPerKilogram('Counted as', 'Content in the sum'),
        standardUncertaintyPerMille: perMille('Standard uncertainty'),
        sharePercent: z.number().meta({ title: 'Share of the variance', unit: '%' }),
      }),
    )
    .meta({ title: 'Budget' }),
  scope: z.enum(['inside', 'outside']).meta({
    title: 'Scope of the method',
    description: 'Inside from 999 ‰',
  }),
  words: z.string().meta({ title: 'In words' }),
});

export type FinenessByDifferenceInput = z.infer<typeof finenessByDifferenceInputSchema>;
export type FinenessByDifferenceOutput = z.infer<typeof finenessByDifferenceOutputSchema>;
