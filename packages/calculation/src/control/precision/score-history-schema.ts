import { z } from 'zod';
import { nameField, nullableField, ratioField, wordsField } from './precision-fields.ts';

const roundWords = '1 to 500 rounds';
const scoreWords = 'a score from -1000 to 1000';

export const scoreHistoryInput = z.strictObject({
  participant: nameField('Participant'),
  characteristic: nameField('Characteristic'),
  rounds: z
    .array(
      z.strictObject({
        name: nameField('Round'),
        z: z
          .number({ error: scoreWords })
          .min(-1000, scoreWords)
          .max(1000, scoreWords)
          .meta({ title: 'z score' }),
      }),
      { error: roundWords },
    )
    .min(1, roundWords)
    .max(500, roundWords)
    .meta({ title: 'Rounds', description: 'In the order of time' }),
});

const signals = ['beyond-action', 'two-of-three-beyond-warning', 'six-on-one-side'] as const;

export const scoreHistoryOutput = z.strictObject({
  roundCount: z.int().meta({ title: 'Rounds' }),
  meanScore: ratioField('Mean score'),
  standardDeviation: nullableField('Standard deviation of the scores', 'None for one round'),
  rescaledSum: ratioField('Rescaled sum', 'Sum over √ of the number: a z score of the bias'),
  sumOfSquares: ratioField('Sum of squares', 'About the number of rounds where all is in order'),
  sumOfSquaresProbability: ratioField('Probability', 'Of a sum of squares as large in good order'),
  warningCount: z.int().meta({ title: 'Scores beyond 2 and below 3' }),
  actionCount: z.int().meta({ title: 'Scores of 3 and more' }),
  signals: z
    .array(
      z.strictObject({
        round: z.string().meta({ title: 'Round' }),
        signal: z.enum(signals).meta({ title: 'Signal' }),
      }),
    )
    .meta({ title: 'Signals' }),
  words: wordsField,
});

export type ScoreHistoryInput = z.infer<typeof scoreHistoryInput>;
export type ScoreHistoryOutput = z.infer<typeof scoreHistoryOutput>;
