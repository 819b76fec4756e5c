import { z } from 'zod';

/** Bounds that leave products and squares of inputs inside the range of doubles. */
const greatest = 1e100;
const most = 'a number from -1e100 to 1e100';
const notNegative = 'a number from 0 to 1e100';
const positive = 'a number above 0 and at most 1e100';

const anyNumber = () => z.number({ error: most }).min(-greatest, most).max(greatest, most);
const zeroOrMore = () => z.number({ error: notNegative }).min(0, notNegative).max(greatest, most);
const aboveZero = () => z.number({ error: positive }).gt(0, positive).max(greatest, positive);

const estimate = () => anyNumber().meta({ title: 'Estimate', description: 'Unit of the input' });
const kind = <Kind extends string>(name: Kind) => z.literal(name).meta({ title: 'Distribution' });
const halfWidth = () =>
  zeroOrMore().meta({
    title: 'Half-width',
    description: 'The value lies within the estimate ± this; unit of the input',
  });
const freedom = 'degrees of freedom of 1 or more';
const degreesOfFreedom = () =>
  z.number({ error: freedom }).min(1, freedom).max(1e9, 'degrees of freedom of at most 1e9');

/** What is known of an input quantity: the distributions of JCGM 101:2008, Table 1, and readings. */
export const inputDistribution = z.discriminatedUnion(
  'kind',
  [
    z.strictObject({
      kind: kind('normal'),
      estimate: estimate(),
      standardUncertainty: zeroOrMore().meta({
        title: 'Standard uncertainty',
        description: 'Unit of the input; an expanded uncertainty divided by its coverage factor',
      }),
      degreesOfFreedom: degreesOfFreedom().nullable().meta({
        title: 'Degrees of freedom',
        description: 'Of the standard uncertainty; none where it is taken as known exactly',
      }),
    }),
    z.strictObject({
      kind: kind('t'),
      estimate: estimate(),
      standardUncertainty: zeroOrMore().meta({
        title: 'Standard uncertainty',
        description: 'Standard deviation of the mean of the readings; unit of the input',
      }),
      degreesOfFreedom: degreesOfFreedom().meta({
        title: 'Degrees of freedom',
        description: 'Number of readings less one',
      }),
    }),
    z.strictObject({
      kind: kind('readings'),
      readings: z
        .array(
          anyNumber().meta({ title: 'Reading', description: 'Unit of the input' }),
          'a list of readings',
        )
        .min(2, 'at least 2 readings')
        .max(10_000, 'at most 10 000 readings')
        .meta({ title: 'Readings', description: 'Independent readings whose mean is used' }),
    }),
    z.strictObject({
      kind: kind('rectangular'),
      estimate: estimate(),
      halfWidth: halfWidth(),
    }),
    z.strictObject({
      kind: kind('triangular'),
      estimate: estimate(),
      halfWidth: halfWidth(),
    }),
    z.strictObject({
      kind: kind('trapezoidal'),
      estimate: estimate(),
      halfWidth: halfWidth(),
      topShare: z
        .number({ error: 'a share from 0 to 1' })
        .min(0, 'a share from 0 to 1')
        .max(1, 'a share from 0 to 1')
        .meta({ title: 'Share of the flat top', description: '0 is triangular, 1 rectangular' }),
    }),
    z.strictObject({
      kind: kind('curvilinear trapezoidal'),
      estimate: estimate(),
      halfWidth: aboveZero().meta({
        title: 'Half-width',
        description: 'Half-width as it is best known; unit of the input',
      }),
      halfWidthTolerance: aboveZero().meta({
        title: 'Tolerance of the half-width',
        description: 'Each end lies within ± this; unit of the input, below the half-width',
      }),
    }),
    z.strictObject({
      kind: kind('arc-sine'),
      estimate: estimate(),
      halfWidth: halfWidth().meta({
        title: 'Half-width',
        description: 'Amplitude of a cycle that is met at a random moment; unit of the input',
      }),
    }),
    z.strictObject({
      kind: kind('exponential'),
      estimate: aboveZero().meta({
        title: 'Estimate',
        description: 'Of a quantity that cannot be negative, when nothing else is known',
      }),
    }),
    z.strictObject({
      kind: kind('gamma'),
      shape: aboveZero().meta({
        title: 'Shape',
        description: 'For a mean from one count of q things: q + 1',
      }),
      scale: aboveZero().meta({
        title: 'Scale',
        description: 'Unit of the input; 1 for a mean from one count',
      }),
    }),
  ],
  {
    error:
      'a distribution of kind normal, t, readings, rectangular, triangular, trapezoidal, curvilinear trapezoidal, arc-sine, exponential or gamma',
  },
);

export type InputDistribution = z.infer<typeof inputDistribution>;

const nameText = 'a name of letters, digits and _, no digit first, at most 40 characters';

export const inputName = () =>
  z
    .string({ error: nameText })
    .max(40, nameText)
    .regex(/^[A-Za-z_]\w*$/, nameText);

export const sourceId = () =>
  z
    .string({ error: 'the name of a source, 1 to 100 characters' })
    .min(1, 'the name of a source, 1 to 100 characters')
    .max(100, 'the name of a source, 1 to 100 characters');

/** An input quantity of a measurement model that is written as text. */
export const inputQuantity = z.strictObject({
  name: inputName().meta({ title: 'Name', description: 'As it stands in the model' }),
  unit: z
    .string({ error: 'a unit, at most 30 characters' })
    .max(30, 'a unit, at most 30 characters')
    .meta({ title: 'Unit', description: '1 for a number without a unit' }),
  source: sourceId().nullable().optional().meta({
    title: 'Source',
    description:
      'Instrument, reference material or solution that the input comes from, under the same name in every result that uses it; none where the input belongs to this result alone',
  }),
  distribution: inputDistribution,
});

export type InputQuantity = z.infer<typeof inputQuantity>;

export const inputQuantities = z
  .array(inputQuantity, 'a list of inputs')
  .min(1, 'at least 1 input')
  .max(50, 'at most 50 inputs');

const coefficient = 'a correlation coefficient from -1 to 1';

export const correlationList = (title: string, of: string) =>
  z
    .array(
      z.strictObject({
        first: z.string({ error: `the name of ${of}` }).meta({ title: `Name of ${of}` }),
        second: z
          .string({ error: `the name of another ${of}` })
          .meta({ title: `Name of the other ${of}` }),
        coefficient: z
          .number({ error: coefficient })
          .min(-1, coefficient)
          .max(1, coefficient)
          .meta({ title: 'Correlation coefficient' }),
      }),
      'a list of correlations, empty for none',
    )
    .max(500, 'at most 500 correlations')
    .meta({ title, description: 'Pairs that are left out are not correlated' });

const covers = 'a probability from 0.5 to 0.9999, such as 0.95';

export const coverageProbability = () =>
  z.number({ error: covers }).min(0.5, covers).max(0.9999, covers).meta({
    title: 'Coverage probability',
    description: 'Of the expanded uncertainty and its interval',
  });

const modelLength = 'the text of a model, 1 to 2000 characters';

export const modelText = () =>
  z.string({ error: modelLength }).min(1, modelLength).max(2000, modelLength).meta({
    title: 'Model',
    description:
      'The result as a formula of the inputs: + - * / ^ ( ) pi abs acos asin atan cos exp log (natural) log10 sin sqrt tan, angles in radians',
  });
