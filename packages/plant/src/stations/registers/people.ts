import { z } from 'zod';
import { roles } from '../../journal/station.ts';
import { daySchema, idSchema, titleSchema } from './identity.ts';
import { assayMethods } from './piece-standard.ts';

const repeated = <Item>(items: readonly Item[]) => new Set(items).size < items.length;

/** That a person may carry out a method, and until when. */
const authorisationSchema = z.strictObject({
  method: z
    .enum(assayMethods, `one of ${assayMethods.join(', ')}`)
    .meta({ title: 'Method', description: 'The method the person has shown to master.' }),
  until: daySchema.meta({ title: 'Until', description: 'The last day of the authorisation.' }),
});

const rolesSchema = z
  .array(z.enum(roles, `one of ${roles.join(', ')}`), 'a list of roles')
  .min(1, 'at least one role')
  .refine((held) => !repeated(held), { error: 'each role once' })
  .refine((held) => !held.includes('auditor') || held.length === 1, {
    error: 'the auditor alone, since he reads everything and writes nothing',
  })
  .meta({ title: 'Roles', description: 'What the person is in the plant.' });

const methodsSchema = z
  .array(authorisationSchema, 'a list of authorisations')
  .refine((held) => !repeated(held.map((one) => one.method)), { error: 'each method once' })
  .meta({ title: 'Methods', description: 'Methods that the person may carry out and sign.' });

export const personId = idSchema
  .refine((id) => id !== 'plant', { error: 'another id than plant, which stands for the plant' })
  .meta({ title: 'Person', description: 'The id by which the person signs in.' });

export const personName = titleSchema.meta({
  title: 'Name',
  description: 'As it stands on papers and certificates.',
});

/** A person as the register keeps one. */
export const enrolledPersonSchema = z.strictObject({
  person: personId,
  name: personName,
  roles: rolesSchema,
  methods: methodsSchema,
  active: z
    .boolean('true or false')
    .meta({ title: 'Active', description: 'False once the person has left.' }),
});

export type EnrolledPerson = Readonly<z.infer<typeof enrolledPersonSchema>>;
