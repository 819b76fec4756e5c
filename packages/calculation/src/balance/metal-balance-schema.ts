import { z } from 'zod';

const number = (accepted: string) => z.number({ error: accepted });
/** Largest mass, deviation or number of readings or pieces that is accepted; a million tonnes. */
const most = 1_000_000_000_000;

const notNegative = (what: string, unit: string) => {
  const accepted = `a ${what} from 0 to ${most}${unit === '' ? '' : ` ${unit}`}`;
  return number(accepted).min(0, { error: accepted }).max(most, { error: accepted });
};
const name = (what: string) => {
  const accepted = `the name of a ${what}, 1 to 100 characters`;
  return z.string({ error: accepted }).min(1, { error: accepted }).max(100, { error: accepted });
};
const whole = (what: string, least: number) => {
  const accepted = `a whole number of ${what} from ${least} to ${most}`;
  return z.int({ error: accepted }).min(least, { error: accepted }).max(most, { error: accepted });
};
const factor = 'a factor above 0 and at most 100';
const factorField = () => number(factor).gt(0, { error: factor }).max(100, { error: factor });
const onePiece = `a mass of one piece above 0 g and at most ${most} g`;
const list = <Item extends z.ZodType>(item: Item, what: string) =>
  z.array(item, { error: `a list of ${what}` }).max(10_000, { error: `at most 10000 ${what}` });

const stratum = z.strictObject({
  label: name('stratum').meta({ title: 'Label' }),
  sign: z.union([z.literal(1), z.literal(-1)], { error: '1 or -1' }).meta({
    title: 'Sign',
    description: '1 for opening stock and what came in, -1 for what went out and closing stock',
  }),
  count: whole('readings', 1).meta({ title: 'Readings', description: 'Containers weighed' }),
  massGrams: notNegative('mass', 'g').meta({
    title: 'Net mass of one reading',
    description: 'Mean over the readings of the stratum',
    unit: 'g',
  }),
  scale: name('scale').meta({ title: 'Scale' }),
  randomStandardDeviationGrams: notNegative('standard deviation', 'g').meta({
    title: 'Random standard deviation of one reading',
    description: 'Repeatability, position on the pan, rounding',
    unit: 'g',
  }),
  tareGroup: name('tare group').optional().meta({
    title: 'Tare group',
    description: 'Containers booked with one tare value share its error',
  }),
  zeroing: name('zeroing').optional().meta({
    title: 'Zeroing',
    description: 'Readings between two zeroings of a scale share the error of the zero',
  }),
  lot: name('lot').optional().meta({
    title: 'Lot',
    description: 'Metal of one fineness; every stratum or none names its lot',
  }),
});

const scale = z.strictObject({
  scale: name('scale').meta({ title: 'Scale' }),
  gainRelativeStandardUncertainty: notNegative('relative standard uncertainty', '').meta({
    title: 'Relative standard uncertainty of the calibration',
    description:
      'Span error since the last adjustment, shared by all its readings; 0.00005 is 50 ppm',
  }),
});

const tareGroup = z.strictObject({
  tareGroup: name('tare group').meta({ title: 'Tare group' }),
  standardDeviationGrams: notNegative('standard deviation', 'g').meta({
    title: 'Standard deviation of the tare value',
    unit: 'g',
  }),
});

const zeroing = z.strictObject({
  zeroing: name('zeroing').meta({ title: 'Zeroing' }),
  standardDeviationGrams: notNegative('standard deviation', 'g').meta({
    title: 'Standard deviation of the zero',
    unit: 'g',
  }),
});

const fineness = 'a fineness from 0 to 1000 ‰';
const lot = z.strictObject({
  lot: name('lot').meta({ title: 'Lot' }),
  finenessPerMille: number(fineness)
    .min(0, { error: fineness })
    .max(1000, { error: fineness })
    .meta({ title: 'Fineness', unit: '‰' }),
  standardUncertaintyPerMille: notNegative('standard uncertainty', '‰').meta({
    title: "Standard uncertainty of the lot's own assay",
    description: 'Shared by all pieces of the lot',
    unit: '‰',
  }),
  assayMethod: name('assay method').optional().meta({ title: 'Assay method' }),
});

const assayMethod = z.strictObject({
  assayMethod: name('assay method').meta({ title: 'Assay method' }),
  biasStandardUncertaintyPerMille: notNegative('standard uncertainty', '‰').meta({
    title: 'Standard uncertainty of the bias',
    description: 'Shared by every lot assayed by the method',
    unit: '‰',
  }),
});

const pieces = z.strictObject({
  opening: whole('pieces', 0).meta({ title: 'Opening' }),
  received: whole('pieces', 0).meta({ title: 'Received' }),
  sent: whole('pieces', 0).meta({ title: 'Sent' }),
  closing: whole('pieces', 0).meta({ title: 'Closing' }),
});

const loss = z.strictObject({
  massGrams: notNegative('expected loss', 'g').meta({ title: 'Expected loss', unit: 'g' }),
  standardUncertaintyGrams: notNegative('standard uncertainty', 'g').meta({
    title: 'Standard uncertainty of the expected loss',
    unit: 'g',
  }),
});

export const metalBalanceInputSchema = z
  .strictObject({
    strata: list(stratum, 'strata')
      .min(1, { error: 'at least one stratum' })
      .meta({ title: 'Strata', description: 'Readings of one kind on one scale' }),
    scales: list(scale, 'scales').min(1, { error: 'at least one scale' }).meta({ title: 'Scales' }),
    tareGroups: list(tareGroup, 'tare groups').optional().meta({ title: 'Tare groups' }),
    zeroings: list(zeroing, 'zeroings').optional().meta({ title: 'Zeroings' }),
    lots: list(lot, 'lots').optional().meta({ title: 'Lots', description: 'For fine metal' }),
    assayMethods: list(assayMethod, 'assay methods').optional().meta({ title: 'Assay methods' }),
    expectedLoss: loss.optional().meta({
      title: 'Expected process loss, gross',
      description: 'Subtracted from the difference with its own uncertainty',
    }),
    expectedFineLoss: loss.optional().meta({ title: 'Expected process loss, fine' }),
    pieces: pieces.optional().meta({ title: 'Pieces' }),
    pieceMassGrams: number(onePiece)
      .gt(0, { error: onePiece })
      .max(most, { error: onePiece })
      .optional()
      .meta({ title: 'Mass of one piece', unit: 'g' }),
    warnFactor: factorField().meta({
      title: 'Warn beyond',
      description: 'In standard uncertainties; usually 2',
    }),
    actFactor: factorField().meta({
      title: 'Act beyond',
      description: 'In standard uncertainties; usually 3',
    }),
  })
  .superRefine((input, context) => {
    if (input.warnFactor <= input.actFactor) return;
    const message = `a factor not above that for acting, ${input.actFactor}`;
    context.addIssue({ code: 'custom', path: ['warnFactor'], message });
  });

const grams = (title: string, description?: string) =>
  z.number().meta({ title, unit: 'g', ...(description === undefined ? {} : { description }) });
const state = z.enum(['inside', 'warn', 'act']);

const contributions = z.array(
  z.strictObject({
    source: z.string().meta({ title: 'Source' }),
    lever: z.number().nullable().meta({
      title: 'Lever',
      description: 'Change of the difference per unit of the shared error; none for random errors',
    }),
    leverUnit: z.string().meta({ title: 'Unit of the lever' }),
    standardUncertaintyGrams: grams('Standard uncertainty'),
    sharePercent: z.number().meta({ title: 'Share of the variance', unit: '%' }),
    expectedPartGrams: grams('Expected part', 'Of the difference, if nothing was lost'),
  }),
);

export const metalBalanceOutputSchema = z.strictObject({
  differencePieces: z.int().nullable().meta({
    title: 'Difference in pieces',
    description: 'Positive is missing; must be 0; none when no pieces were given',
  }),
  differenceGrossGrams: grams('Gross difference', 'Positive is missing'),
  unexplainedGrossGrams: grams('Gross difference less the expected loss', 'Positive is missing'),
  standardUncertaintyGrams: grams('Standard uncertainty', 'Of the unexplained gross difference'),
  contributions: contributions.meta({ title: 'Contributions, gross' }),
  significance: z.number().nullable().meta({
    title: 'Significance',
    description: 'Unexplained difference in standard uncertainties; none when that is 0 g',
  }),
  state: state.meta({ title: 'State, gross' }),
  warnLimitGrams: grams('Warning limit', 'Either side'),
  actLimitGrams: grams('Action limit', 'Either side'),
  smallestLossFoundGrams: grams('Smallest loss found', 'With 5 % false alarms and 5 % misses'),
  canSeeOnePiece: z.boolean().nullable().meta({
    title: 'Can see one piece',
    description: 'Whether the action limit is within half a piece; none without a piece mass',
  }),
  onePieceAlarmProbability: z.number().nullable().meta({
    title: 'Chance that one missing piece is found',
    description: 'By the action limit; none without a piece mass',
  }),
  fine: z
    .strictObject({
      differenceFineGrams: grams('Fine difference', 'Positive is missing'),
      unexplainedFineGrams: grams('Fine difference less the expected loss'),
      standardUncertaintyGrams: grams('Standard uncertainty'),
      contributions: contributions.meta({ title: 'Contributions, fine' }),
      significance: z.number().nullable().meta({ title: 'Significance' }),
      state: state.meta({ title: 'State, fine' }),
    })
    .nullable()
    .meta({ title: 'Fine metal', description: 'None when no lots were given' }),
  words: z.string().meta({ title: 'In words' }),
});

export type MetalBalanceInput = z.infer<typeof metalBalanceInputSchema>;
export type MetalBalanceOutput = z.infer<typeof metalBalanceOutputSchema>;
export type BalanceState = z.infer<typeof state>;
