import { z } from 'zod';

const strikeAccepted = 'a whole strike number from 1 to 10000000';
const strike = () => z.int(strikeAccepted).min(1, strikeAccepted).max(10_000_000, strikeAccepted);
const countAccepted = 'a whole number from 1 to 100000';
const count = () => z.int(countAccepted).min(1, countAccepted).max(100_000, countAccepted);
const badAccepted = 'a whole number from 0 to 100000';
const bad = () => z.int(badAccepted).min(0, badAccepted).max(100_000, badAccepted);
const errorAccepted = 'a probability of at least 0 and below 1';
const errorRate = () => z.number(errorAccepted).min(0, errorAccepted).lt(1, errorAccepted);

const missProbability = () =>
  errorRate().meta({
    title: 'Miss probability',
    description: 'Probability that one look at a faulty piece finds it good',
  });
const falseAlarmProbability = () =>
  errorRate().meta({
    title: 'False alarm probability',
    description: 'Probability that one look at a good piece finds the fault',
  });

const onStrike = () =>
  strike().meta({
    title: 'Strike',
    description: 'Counted since the die was new; the pieces looked at were struck there',
    unit: 'strikes',
  });

const check = z.strictObject({
  kind: z.literal('check').meta({ title: 'Kind of evidence' }),
  strike: onStrike(),
  sampleSizePieces: count().meta({ title: 'Pieces examined', unit: 'pieces' }),
  badPieces: bad().meta({ title: 'Of these found faulty', unit: 'pieces' }),
  missProbability: missProbability().optional(),
  falseAlarmProbability: falseAlarmProbability().optional(),
});

const photograph = z.strictObject({
  kind: z.literal('photograph').meta({ title: 'Kind of evidence' }),
  strike: onStrike(),
  readings: count().meta({
    title: 'Readings',
    description: 'By different persons, or by one who does not know the others',
  }),
  badReadings: bad().meta({ title: 'Of these that saw the fault' }),
  missProbability: missProbability().optional(),
  falseAlarmProbability: falseAlarmProbability().optional(),
});

const priorAccepted = 'uniform over the strikes, or a Weibull life';
const share = 'a probability above 0 and at most 1';
const scale = 'a number of strikes above 0 and at most 1000000000000';
const shape = 'a shape from 0.05 to 100';

const uniformPrior = z.strictObject({
  kind: z.literal('uniform').meta({ title: 'Before any look' }),
  faultProbability: z.number(share).positive(share).max(1, share).meta({
    title: 'Probability that the fault began in this run at all',
    description: '1 when the fault is certain and only its beginning is asked for',
  }),
});

const weibullPrior = z.strictObject({
  kind: z.literal('weibull').meta({ title: 'Before any look' }),
  scaleStrikes: z.number(scale).positive(scale).max(1e12, scale).meta({
    title: 'Scale of the life up to this fault',
    unit: 'strikes',
  }),
  shape: z.number(shape).min(0.05, shape).max(100, shape).meta({ title: 'Shape' }),
});

const riskAccepted = 'a risk from 0 to 0.5';
const evidenceAccepted = 'a list of 1 to 10000 checks and photographs';

export const dieFaultOnsetInput = z.strictObject({
  firstStrike: strike().meta({
    title: 'First strike in question',
    description: 'Of the run, counted since the die was new; the fault was not there before it',
    unit: 'strikes',
  }),
  lastStrike: strike().meta({ title: 'Last strike in question', unit: 'strikes' }),
  prior: z
    .discriminatedUnion('kind', [uniformPrior, weibullPrior], { error: priorAccepted })
    .meta({ title: 'Before any look' }),
  missProbability: missProbability(),
  falseAlarmProbability: falseAlarmProbability().optional(),
  evidence: z
    .array(
      z.discriminatedUnion('kind', [check, photograph], { error: 'a check or a photograph' }),
      evidenceAccepted,
    )
    .min(1, evidenceAccepted)
    .max(10_000, evidenceAccepted)
    .meta({ title: 'Evidence', description: 'In any order; a strike may come up several times' }),
  risk: z.number(riskAccepted).min(0, riskAccepted).max(0.5, riskAccepted).meta({
    title: 'Risk',
    description: 'Greatest probability that a faulty piece is among those let go',
  }),
});

const probability = (title: string, description?: string) =>
  z.number().meta({ title, ...(description === undefined ? {} : { description }) });
const strikes = (title: string, description?: string) =>
  z
    .int()
    .nullable()
    .meta({ title, unit: 'strikes', ...(description === undefined ? {} : { description }) });

const onsetSummary = z.strictObject({
  faultProbability: probability('Probability that the fault began by the last strike'),
  lowerOnsetStrike: strikes('Onset, 5 % point', 'Given that it began; none when it cannot have'),
  medianOnsetStrike: strikes('Onset, even chances', 'Given that it began'),
  upperOnsetStrike: strikes('Onset, 95 % point', 'Given that it began'),
  expectedFaultyPieces: z
    .number()
    .meta({ title: 'Faulty pieces struck, expected', unit: 'pieces' }),
  holdFromStrike: strikes('Hold from strike', 'None: nothing needs to be held at this risk'),
  heldPieces: z.int().meta({ title: 'Pieces to hold', unit: 'pieces' }),
  releasedRisk: probability('Probability that a faulty piece is among those let go'),
  releasedFaultyPieces: z
    .number()
    .meta({ title: 'Faulty pieces among those let go, expected', unit: 'pieces' }),
});

export const dieFaultOnsetOutput = z.strictObject({
  all: onsetSummary.meta({ title: 'With all evidence' }),
  checksOnly: onsetSummary.nullable().meta({
    title: 'With the checks alone',
    description: 'None when there are no photographs, or no checks',
  }),
  intervals: z
    .array(
      z.strictObject({
        fromStrike: z.int().meta({ title: 'From strike', unit: 'strikes' }),
        toStrike: z.int().meta({ title: 'To strike', unit: 'strikes' }),
        priorProbability: probability('Before any look'),
        probability: probability('Probability that the fault began here'),
      }),
    )
    .meta({ title: 'Between the looks' }),
  lastCleanStrike: strikes('Last strike before the first finding at which nothing was found'),
  firstFindingStrike: strikes('First strike at which the fault was found'),
  cleanChecksHeld: z.int().meta({
    title: 'Clean looks that the hold reaches behind',
    description: 'Looks at which nothing was found and which are not trusted at this risk',
  }),
  words: z.string().meta({ title: 'In words' }),
});

export type DieFaultOnsetInput = z.infer<typeof dieFaultOnsetInput>;
export type DieFaultOnsetOutput = z.infer<typeof dieFaultOnsetOutput>;
export type OnsetSummary = z.infer<typeof onsetSummary>;
