import { z } from 'zod';

const idForm = '1 to 40 letters, digits or . _ / -, beginning with a letter or digit';
const dayForm = 'a day as 2026-11-25';
const titleForm = 'a title of 1 to 120 characters';

/** An id that people print, scan and type: of a melt, drum, tube, box, die, person and so on. */
export const idSchema = z
  .string(idForm)
  .regex(/^[A-Za-z0-9][A-Za-z0-9._/-]{0,39}$/, idForm)
  .meta({ title: 'Id', description: idForm });

/** A calendar day that exists. */
export const daySchema = z.iso.date(dayForm).meta({ title: 'Day', description: dayForm });

/** A name as people read it. */
export const titleSchema = z
  .string(titleForm)
  .min(1, titleForm)
  .max(120, titleForm)
  .refine((text) => text.trim() === text && !/\p{Cc}/u.test(text), {
    error: `${titleForm}, without line breaks and without blanks at the ends`,
  })
  .meta({ title: 'Title', description: titleForm });

/** Why somebody did something, in his own words. */
export const reasonSchema = z
  .string('a reason of 3 to 500 characters')
  .min(3, 'a reason of 3 to 500 characters')
  .max(500, 'a reason of 3 to 500 characters')
  .refine((text) => text.trim().length >= 3, { error: 'a reason of 3 to 500 characters' })
  .refine((text) => !/[^\P{Cc}\n\r\t]/u.test(text), {
    error: 'a reason of 3 to 500 characters, without control characters',
  })
  .meta({ title: 'Reason', description: 'Why, in your own words.' });
