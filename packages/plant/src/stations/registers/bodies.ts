import { z } from 'zod';
import { daySchema, idSchema, titleSchema } from './identity.ts';
import { calibrationDue, instrumentId, weighingFields } from './instruments.ts';
import { personId, personName } from './people.ts';

function isTimeZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: name });
    return true;
  } catch {
    return false;
  }
}

export const plantFounded = z.strictObject({
  title: titleSchema.meta({ title: 'Title', description: 'Its name as it stands on papers.' }),
  timeZone: z
    .string('the name of a time zone, such as Europe/Vienna')
    .refine(isTimeZone, { error: 'the name of a time zone, such as Europe/Vienna' })
    .meta({ title: 'Time zone', description: 'Where the plant stands, such as Europe/Vienna.' }),
});

export const firstPerson = z
  .strictObject({ person: personId, name: personName })
  .meta({ title: 'First person', description: 'The chief assayer, who enrols everybody else.' });

const approvedUntil = daySchema.meta({
  title: 'Approved until',
  description: 'The last day of the approval; a past day ends it.',
});

export const supplierBody = z.strictObject({
  supplier: idSchema.meta({ title: 'Supplier', description: 'The id of the supplier.' }),
  name: titleSchema.meta({ title: 'Name', description: 'As it stands on papers.' }),
  approvedUntil,
});

export const purchaserBody = z.strictObject({
  purchaser: idSchema.meta({ title: 'Purchaser', description: 'The id of the purchaser.' }),
  name: titleSchema.meta({ title: 'Name', description: 'As it stands on papers.' }),
  approvedUntil,
});

export const calibrationBody = z.strictObject({
  instrument: instrumentId,
  calibrationDue,
  document: titleSchema.meta({
    title: 'Document',
    description: 'The calibration certificate or check record.',
  }),
  ...weighingFields,
});

const dieParts = ['obverse', 'reverse', 'collar'] as const;

export const dieBody = z.strictObject({
  die: idSchema.meta({ title: 'Die', description: 'The id engraved on the die or collar.' }),
  part: z
    .enum(dieParts, `one of ${dieParts.join(', ')}`)
    .meta({ title: 'Part', description: 'Which face or edge it gives.' }),
  pieceStandard: idSchema.meta({ title: 'Piece standard', description: 'What it strikes.' }),
});
