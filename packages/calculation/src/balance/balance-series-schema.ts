import { z } from 'zod';
import { periodSources } from './balance-residuals.ts';

const most = 1_000_000_000_000;
const mass = `a mass from -${most} to ${most} g`;
const uncertainty = `a standard uncertainty from 0 to ${most} g`;
const name = 'a name of 1 to 100 characters';
const reference = 'a number from 0 to 5 standard deviations';
const interval = 'a number above 0 and up to 60 standard deviations';
const runLength = 'an average run length from 2 to 10000000 periods';
const headstart = 'a part from 0 to 0.9 of the decision interval';

/** More would make the work grow with the square of their number. */
const mostSources = 50;

/** Place of the first name that stands there a second time; -1 for none. */
function firstRepeated(names: readonly string[]): number {
  const seen = new Set<string>();
  return names.findIndex((one) => seen.size === seen.add(one).size);
}

const signedGrams = () => z.number(mass).min(-most, mass).max(most, mass);
const deviation = () => z.number(uncertainty).min(0, uncertainty).max(most, uncertainty);
const text = () => z.string(name).min(1, name).max(100, name);

const period = z.strictObject({
  label: text().meta({ title: 'Period', description: 'The shift or day that was closed' }),
  differenceGrams: signedGrams().meta({
    title: 'Difference',
    description: 'Of the gross balance, less the expected loss; positive is missing',
    unit: 'g',
  }),
  openingStandardUncertaintyGrams: deviation().nullable().meta({
    title: 'Standard uncertainty of the opening stock',
    description: 'None where it is the measured ending stock of the period before',
    unit: 'g',
  }),
  endingStandardUncertaintyGrams: deviation().meta({
    title: 'Standard uncertainty of the ending stock',
    description: 'Of its own readings; a calibration that lasts belongs to the persistent errors',
    unit: 'g',
  }),
  transferStandardUncertaintyGrams: deviation().meta({
    title: 'Standard uncertainty of what came in and went out',
    description: 'Of its own readings',
    unit: 'g',
  }),
  persistent: z
    .array(
      z.strictObject({
        source: text().meta({ title: 'Source', description: 'As the calibration of a scale' }),
        effectGrams: signedGrams().meta({
          title: 'Effect of its standard uncertainty',
          description: 'On the difference of this period, with its sign',
          unit: 'g',
        }),
      }),
      'a list of persistent errors',
    )
    .max(20, 'at most 20 persistent errors in a period')
    .meta({ title: 'Persistent errors', description: 'The same in every period' }),
});

const decision = z
  .discriminatedUnion(
    'by',
    [
      z.strictObject({
        by: z.literal('interval').meta({ title: 'By' }),
        decisionInterval: z.number(interval).positive(interval).max(60, interval).meta({
          title: 'Decision interval h',
          description: 'In standard deviations of a residual; often 5',
        }),
      }),
      z.strictObject({
        by: z.literal('run length').meta({ title: 'By' }),
        inControlRunLengthPeriods: z
          .number(runLength)
          .min(2, runLength)
          .max(10_000_000, runLength)
          .meta({
            title: 'Average run length without a loss',
            description: 'Periods from one false alarm to the next, both sides together',
            unit: 'periods',
          }),
      }),
    ],
    'a decision by interval or by run length',
  )
  .meta({ title: 'Decision' });

export const balanceSeriesInput = z
  .strictObject({
    periods: z
      .array(period, 'a list of periods')
      .min(1, 'at least one period')
      .max(2000, 'at most 2000 periods')
      .meta({ title: 'Periods', description: 'One place and piece standard, in order of time' }),
    referenceValue: z.number(reference).min(0, reference).max(5, reference).meta({
      title: 'Reference value k',
      description: 'Half of the shift to be found; often 0.5',
    }),
    decision,
    headstartFraction: z.number(headstart).min(0, headstart).max(0.9, headstart).meta({
      title: 'Headstart, as a part of the decision interval',
      description: '0 is usual; 0.5 answers faster after a start',
    }),
    sumsBeginAtPeriod: z
      .int('the number of a period, from 1')
      .min(1, 'the number of a period, from 1')
      .meta({
        title: 'First period of the sums',
        description: '1, or the one after a signal that has been resolved',
      }),
  })
  .superRefine(({ periods, sumsBeginAtPeriod }, context) => {
    if (periods[0]?.openingStandardUncertaintyGrams === null) {
      context.addIssue({
        code: 'custom',
        path: ['periods', 0, 'openingStandardUncertaintyGrams'],
        message: `${uncertainty}: no period stands before the first`,
      });
    }
    if (sumsBeginAtPeriod > periods.length) {
      const message = `the number of a period, from 1 to ${periods.length}`;
      context.addIssue({ code: 'custom', path: ['sumsBeginAtPeriod'], message });
    }
    const repeated = firstRepeated(periods.map(({ label }) => label));
    if (repeated >= 0) {
      const message = 'a name that no other period bears';
      context.addIssue({ code: 'custom', path: ['periods', repeated, 'label'], message });
    }
    for (const [index, { persistent }] of periods.entries()) {
      const twice = firstRepeated(persistent.map(({ source }) => source));
      if (twice < 0) continue;
      const path = ['periods', index, 'persistent', twice, 'source'];
      context.addIssue({ code: 'custom', path, message: 'each source once in a period' });
    }
    const taken = periods.findIndex(({ persistent }) =>
      persistent.some(({ source }) => Object.values<string>(periodSources).includes(source)),
    );
    if (taken >= 0) {
      const message = `a name other than ${Object.values(periodSources).join(', ')}`;
      context.addIssue({ code: 'custom', path: ['periods', taken, 'persistent'], message });
    }
    const sources = new Set(periods.flatMap((one) => one.persistent.map(({ source }) => source)));
    if (sources.size > mostSources) {
      const message = `at most ${mostSources} persistent errors in the whole series`;
      context.addIssue({ code: 'custom', path: ['periods'], message });
    }
  });

export type BalanceSeriesInput = z.infer<typeof balanceSeriesInput>;

const grams = (title: string, description?: string) =>
  z.number().meta({ title, unit: 'g', ...(description === undefined ? {} : { description }) });
const sum = (title: string) => z.number().nullable().meta({ title, unit: 'standard deviations' });

const seriesPeriod = z.strictObject({
  label: z.string().meta({ title: 'Period' }),
  differenceGrams: grams('Difference', 'Positive is missing'),
  standardUncertaintyGrams: grams('Standard uncertainty', 'Of this difference taken alone'),
  correlationWithBefore: z
    .number()
    .nullable()
    .meta({ title: 'Correlation with the period before; none for the first' }),
  residual: z.number().meta({
    title: 'Residual',
    description: 'What the periods before do not let expect, in its standard uncertainties',
  }),
  residualStandardUncertaintyGrams: grams('Standard uncertainty given the periods before'),
  cumulativeDifferenceGrams: grams('Cumulative difference'),
  cumulativeStandardUncertaintyGrams: grams('Standard uncertainty of the cumulative difference'),
  upperSum: sum('Sum for missing metal; none before the sums begin'),
  lowerSum: sum('Sum for metal too much; none before the sums begin'),
});

const seriesSignal = z.strictObject({
  way: z.enum(['missing', 'too much']).meta({ title: 'Way' }),
  firstPeriod: z.string().meta({ title: 'First period that signals' }),
  lastPeriod: z.string().meta({ title: 'Last period that signals without a break' }),
  sincePeriod: z.string().meta({ title: 'First period after the estimated beginning' }),
  isPresent: z.boolean().meta({ title: 'Whether the newest period signals' }),
});

const blamed = z.strictObject({
  source: z.string().meta({ title: 'Source' }),
  standardUncertaintyGrams: grams('Standard uncertainty'),
  sharePercent: z.number().meta({ title: 'Share of the variance', unit: '%' }),
  expectedPartGrams: grams('Expected part', 'Of the newest difference taken alone'),
  expectedPartOfSeriesGrams: grams('Expected part by the whole series'),
});

export const balanceSeriesOutput = z.strictObject({
  periods: z.array(seriesPeriod).meta({ title: 'Periods' }),
  decisionInterval: z.number().meta({ title: 'Decision interval h' }),
  inControlRunLengthPeriods: z.number().nullable().meta({
    title: 'Average run length without a loss; none above 10^12',
    unit: 'periods',
  }),
  shiftedRunLengthPeriods: z.number().nullable().meta({
    title: 'Average run length at a shift of 2k; none for k = 0',
    unit: 'periods',
  }),
  signals: z.array(seriesSignal).meta({ title: 'Signals of the sums' }),
  newest: z.array(blamed).meta({ title: 'Newest difference, split over its sources' }),
  quadraticStatistic: z.number().meta({ title: 'Sum of the squared residuals' }),
  quadraticProbability: z.number().meta({
    title: 'Probability of such a sum without a loss',
    description: 'Chi-square with as many degrees of freedom as periods; a second opinion',
  }),
  steadyLossGrams: grams('Estimated steady loss per period', 'By generalised least squares'),
  steadyLossStandardUncertaintyGrams: grams('Standard uncertainty of the steady loss'),
  history: z
    .strictObject({
      residuals: z.int().meta({ title: 'Residuals before the newest' }),
      mean: z.number().meta({ title: 'Their mean' }),
      standardDeviation: z.number().meta({ title: 'Their standard deviation' }),
      lowerLimit: z.number().meta({ title: 'Lower limit', description: 'Mean − 3 deviations' }),
      upperLimit: z.number().meta({ title: 'Upper limit', description: 'Mean + 3 deviations' }),
    })
    .nullable()
    .meta({ title: 'Limits from history; none with fewer than 8 residuals before the newest' }),
  words: z.string().meta({ title: 'In words' }),
});

export type BalanceSeriesOutput = z.infer<typeof balanceSeriesOutput>;
