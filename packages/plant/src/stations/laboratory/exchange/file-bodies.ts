import { z } from 'zod';
import { reasonSchema } from '../../registers/index.ts';

const lineForm = 'a line of the file';

/** The line of a file on which something stands, the first being 1; 0 for what no line says alone. */
export const fileLine = z
  .int(lineForm)
  .min(0, lineForm)
  .max(10_000_000, lineForm)
  .meta({ title: 'Line' });

const nameForm = 'a name of 1 to 200 characters';

/** A file that is kept beside the journal. */
export const keptFileSchema = z.strictObject({
  name: z.string(nameForm).min(1, nameForm).max(200, nameForm).meta({ title: 'Name' }),
  sha256: z
    .string('64 hexadecimal digits')
    .regex(/^[0-9a-f]{64}$/, '64 hexadecimal digits')
    .meta({ title: 'SHA-256', description: 'Of the bytes that are kept.' }),
  kept: z.enum(['as sent', 'as read'], 'as sent or as read').meta({
    title: 'Kept',
    description: 'As read: the cells as text, where the file itself is of no type that is kept.',
  }),
});

export const setAsideSchema = z
  .array(z.strictObject({ line: fileLine, reason: reasonSchema }), 'a list of lines')
  .max(1000, 'at most 1000 lines')
  .meta({ title: 'Set aside', description: 'Lines that are not taken, and why.' });

export type SetAside = Readonly<z.infer<typeof setAsideSchema>[number]>;
