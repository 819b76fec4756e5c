import { z } from 'zod';
import { lookingPlace } from './looking.ts';

const above = (accepted: string) => z.number(accepted).gt(0, accepted).max(1e9, accepted);
const atLeastNothing = (accepted: string) => z.number(accepted).min(0, accepted).max(1e9, accepted);
const grams = (accepted: string) => z.number(accepted).min(-1e9, accepted).max(1e9, accepted);
const share = (accepted: string) => z.number(accepted).min(0, accepted).max(1, accepted);
const open = (accepted: string) => z.number(accepted).gt(0, accepted).lt(1, accepted);

const whole = 'a whole number of pieces within ten million';

const checkOption = z.strictObject({
  pieces: z.int(whole).min(-10_000_000, whole).max(10_000_000, whole).meta({
    title: 'Pieces more or fewer than recorded',
    description: '0 where the record is right',
    unit: 'pieces',
  }),
  probability: share('a probability from 0 to 1').meta({
    title: 'Probability now',
    description: 'With everything that is known, the weighings so far among it',
  }),
});

const weighingAct = z.strictObject({
  kind: z.literal('weighing').meta({ title: 'Weigh it again' }),
  pieceMassGrams: above('a mass above 0 g').meta({ title: 'Mean mass of a piece', unit: 'g' }),
  weighings: z
    .int('a whole number of weighings from 0 to 1000')
    .min(0, 'a whole number of weighings from 0 to 1000')
    .max(1000, 'a whole number of weighings from 0 to 1000')
    .meta({ title: 'Weighings so far' }),
  deviationGrams: grams('a number of grams').meta({
    title: 'Mean of the weighings less the recorded count',
    description: 'Net mass less recorded count times the mean piece mass; 0 where not weighed yet',
    unit: 'g',
  }),
  predictedGrams: grams('a number of grams').meta({
    title: 'Deviation foretold by the other containers',
    unit: 'g',
  }),
  lastingStandardUncertaintyGrams: atLeastNothing('grams from 0').meta({
    title: 'Standard uncertainty that a new weighing leaves as it is',
    description: 'Masses of its pieces, tare, what the others foretell',
    unit: 'g',
  }),
  repeatStandardUncertaintyGrams: above('grams above 0').meta({
    title: 'Standard uncertainty of one weighing by itself',
    description: 'Repeatability and rounding: what each weighing draws anew',
    unit: 'g',
  }),
  badWeighingProbability: open('a probability above 0 and below 1').meta({
    title: 'Chance that a weighing is worthless',
  }),
  badWeighingSpreadGrams: above('grams above 0').meta({
    title: 'Spread of worthless weighings',
    unit: 'g',
  }),
});

const countAct = z.strictObject({
  kind: z.literal('count').meta({ title: 'Count it again, or look' }),
  seenIfThere: z
    .number('a probability above 0 and up to 1')
    .gt(0, 'a probability above 0 and up to 1')
    .max(1, 'a probability above 0 and up to 1')
    .meta({ title: 'Chance to see what is wrong where something is' }),
  newErrorProbability: share('a probability from 0 to 1').meta({
    title: 'Chance that the new count is worth nothing',
    description: 'It then shows any of the numbers, each as likely as the other',
  }),
});

export const reweighingCheck = z.strictObject({
  name: z.string().min(1, 'a name').max(200).meta({ title: 'Container or place' }),
  recordedPieces: z
    .int('a whole number of pieces from 0')
    .min(0, 'a whole number of pieces from 0')
    .max(1_000_000_000, 'at most a thousand million pieces')
    .meta({ title: 'Pieces recorded', unit: 'pieces' }),
  minutes: above('minutes above 0').meta({ title: 'Doing it takes', unit: 'min' }),
  options: z
    .array(checkOption)
    .min(2, '2 to 25 numbers that it can hold')
    .max(25, '2 to 25 numbers that it can hold')
    .meta({ title: 'What it can hold' }),
  act: z.discriminatedUnion('kind', [weighingAct, countAct]).meta({ title: 'What would be done' }),
});

export const reweighingInput = z.strictObject({
  checks: z
    .array(reweighingCheck)
    .min(1, '1 to 200 containers or places')
    .max(200, '1 to 200 containers or places')
    .meta({ title: 'What could be weighed or counted again' }),
  places: z.array(lookingPlace).max(500, 'at most 500 places').meta({
    title: 'Places to look',
    description:
      'With these a weighing is worth minutes; the place of the same name is where the container is opened and seen',
  }),
});

export type ReweighingCheck = z.infer<typeof reweighingCheck>;
export type ReweighingInput = z.infer<typeof reweighingInput>;

const outcome = z.strictObject({
  shows: z.int().nullable().meta({
    title: 'It shows so many pieces more or fewer',
    description: 'Nothing where the reading fits no number',
    unit: 'pieces',
  }),
  probability: z.number().meta({ title: 'Probability of this outcome' }),
  options: z
    .array(
      z.strictObject({
        pieces: z.int().meta({ title: 'Pieces more or fewer than recorded', unit: 'pieces' }),
        probability: z.number().meta({ title: 'Probability then' }),
      }),
    )
    .meta({ title: 'What it holds, after this outcome' }),
});

export const reweighingOutput = z.strictObject({
  checks: z
    .array(
      z.strictObject({
        name: z.string().meta({ title: 'Container or place' }),
        openBits: z.number().meta({ title: 'Not known yet', unit: 'bit' }),
        informationBits: z.number().meta({ title: 'Expected to be told', unit: 'bit' }),
        bitsPerMinute: z.number().meta({ title: 'Told per minute', unit: 'bit/min' }),
        savedMinutes: z.number().nullable().meta({
          title: 'Minutes of looking saved, its own taken off',
          description:
            'Negative where it costs more than it saves; nothing for a count, which is a look, and where its place is not given',
          unit: 'min',
        }),
        worthlessProbability: z.number().nullable().meta({
          title: 'Probability that the weighing so far is worthless',
          description: 'Nothing where it was not weighed',
        }),
        outcomes: z.array(outcome).meta({ title: 'What it can show' }),
        words: z.string().meta({ title: 'In words' }),
      }),
    )
    .meta({ title: 'Checks, those first that tell most in a minute' }),
  words: z.string().meta({ title: 'In words' }),
});

export type ReweighingOutput = z.infer<typeof reweighingOutput>;
export type CheckedOutcome = z.infer<typeof outcome>;
