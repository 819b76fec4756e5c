import { z } from 'zod';
import { massReadingSchema } from '../../journal/reading.ts';
import { defineCommand, draft } from '../../journal/station.ts';
import { idSchema } from '../registers/index.ts';
import { TubeWeighed } from './entries.ts';
import { judgeTube, type TubeFacts, type TubeOnBalance, tubeFacts } from './tube-weighing.ts';

const piecesAccepted = 'a whole number of 1 piece or more';

const tubeOnBalance = z.strictObject({
  tube: idSchema.meta({ title: 'Tube', description: 'Scan the tube.' }),
  melt: idSchema.meta({ title: 'Melt', description: 'The melt whose pieces are inside.' }),
  pieces: z
    .int(piecesAccepted)
    .min(1, piecesAccepted)
    .max(1000, 'at most 1000 pieces')
    .meta({ title: 'Pieces', description: 'As filled.', unit: 'pieces' }),
  gross: massReadingSchema.meta({ title: 'Gross', description: 'The closed tube.' }),
  tare: massReadingSchema
    .nullable()
    .meta({ title: 'Tare', description: 'This tube empty; nothing where it was not weighed.' }),
  instrument: idSchema.meta({ title: 'Balance', description: 'Scan the balance.' }),
});

/** Weighs a closed tube; always recorded, whatever it says of the count. */
export const weighTube = defineCommand<TubeOnBalance, TubeFacts>({
  command: 'weigh-tube',
  station: 'put-up',
  title: 'Record tube',
  input: tubeOnBalance,
  roles: ['custodian'],
  signature: 'none',
  facts: tubeFacts,
  decide: (input, facts) => {
    const judged = judgeTube(input, facts);
    if ('refusals' in judged) return judged;
    return {
      entries: [draft(TubeWeighed, judged.body, { instrument: input.instrument })],
      answer: { state: judged.body.state, words: judged.count.words },
    };
  },
});
