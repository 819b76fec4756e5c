import { z } from 'zod';
import { massReadingSchema } from '../../../journal/reading.ts';
import { daySchema, idSchema, titleSchema } from '../../registers/index.ts';
import { portionParties } from './words.ts';

const portionInput = z
  .strictObject({
    portion: idSchema.meta({ title: 'Portion', description: 'The id on its label.' }),
    for: z
      .enum(portionParties, `one of ${portionParties.join(', ')}`)
      .meta({ title: 'For', description: 'Whose portion it is.' }),
    blanks: z.array(idSchema, 'a list of blanks').max(2000, 'at most 2000 blanks').meta({
      title: 'Blanks',
      description: 'Whole ones; none for cuttings, which are grams only.',
    }),
    gross: massReadingSchema.meta({ title: 'Mass', description: 'Without bag and seal.' }),
    seal: idSchema.meta({
      title: 'Seal',
      description: 'The number of its seal; a seal is used once.',
    }),
    place: titleSchema.meta({ title: 'Place', description: 'Shelf and box where it lies.' }),
    keptUntil: daySchema
      .nullable()
      .meta({ title: 'Kept until', description: 'A day for every reserve; else it may be none.' }),
  })
  .superRefine((portion, context) => {
    if (portion.for !== 'reserve' || portion.keptUntil !== null) return;
    const message = 'a day, since a reserve is kept until one';
    context.addIssue({ code: 'custom', path: ['keptUntil'], message });
  });

/** The portions of one melt as a command: every id, seal and blank once. */
export const sealInput = z
  .strictObject({
    melt: idSchema.meta({ title: 'Melt', description: 'Whose sample is divided.' }),
    portions: z
      .array(portionInput, 'a list of portions')
      .min(1, 'at least one portion')
      .max(50, 'at most 50 portions'),
    instrument: idSchema.meta({ title: 'Balance', description: 'That weighed them.' }),
  })
  .superRefine(({ portions: sealed }, context) => {
    const once = (texts: readonly string[], pathOf: (index: number) => PropertyKey[]) => {
      for (const [index, text] of texts.entries()) {
        if (texts.indexOf(text) === index) continue;
        context.addIssue({ code: 'custom', path: pathOf(index), message: 'each one once' });
      }
    };
    once(
      sealed.map(({ portion }) => portion),
      (index) => ['portions', index, 'portion'],
    );
    once(
      sealed.map(({ seal }) => seal),
      (index) => ['portions', index, 'seal'],
    );
    const named = sealed.flatMap((one, index) =>
      one.blanks.map((blank, at) => ({ blank, index, at })),
    );
    once(
      named.map(({ blank }) => blank),
      (place) => ['portions', named[place]?.index ?? 0, 'blanks', named[place]?.at ?? 0],
    );
  });

export type SealInput = z.infer<typeof sealInput>;
