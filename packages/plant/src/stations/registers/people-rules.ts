import { z } from 'zod';
import { refuse } from '../../journal/refusal.ts';
import { defineCommand, draft } from '../../journal/station.ts';
import { firstPerson, plantFounded } from './bodies.ts';
import { people } from './books.ts';
import { PersonChanged, PersonEnrolled, PlantFounded } from './entries.ts';
import { plantOf } from './index.ts';
import { enrolledPersonSchema } from './people.ts';
import { otherChiefAssayers } from './read-model.ts';
import { registersRefusals } from './refusals.ts';

const station = 'registers';

export const foundPlant = defineCommand({
  command: 'found-plant',
  station,
  title: 'Found the plant',
  input: z.strictObject({ ...plantFounded.shape, firstPerson }),
  roles: ['chief assayer'],
  signature: 'none',
  facts: async (books) => ({ plant: await plantOf(books) }),
  decide: ({ firstPerson: first, title, timeZone }, { plant }) => {
    if (plant) {
      const refusal = refuse(registersRefusals, 'PlantAlreadyFounded', {
        message: `This journal belongs to ${plant.title}, founded in entry ${plant.entry}.`,
        figures: { plant: plant.title, entry: plant.entry },
      });
      return { refusals: [refusal] };
    }
    const person = { ...first, roles: ['chief assayer' as const], methods: [], active: true };
    return {
      entries: [draft(PlantFounded, { title, timeZone }), draft(PersonEnrolled, person)],
    };
  },
});

export const enrolPerson = defineCommand({
  command: 'enrol-person',
  station,
  title: 'Enrol a person',
  input: enrolledPersonSchema.omit({ active: true }),
  roles: ['chief assayer'],
  signature: 'author',
  facts: async (books, input) => ({ present: await books.get(people, input.person) }),
  decide: (input, { present }) => {
    if (present) {
      const refusal = refuse(registersRefusals, 'PersonAlreadyEnrolled', {
        message: `${input.person} is the id of ${present.name}, entry ${present.entry}.`,
        field: 'person',
        figures: { person: input.person, name: present.name, entry: present.entry },
      });
      return { refusals: [refusal] };
    }
    return { entries: [draft(PersonEnrolled, { ...input, active: true })] };
  },
});

export const changePerson = defineCommand({
  command: 'change-person',
  station,
  title: 'Change a person',
  input: enrolledPersonSchema,
  roles: ['chief assayer'],
  signature: 'author',
  facts: async (books, input) => ({
    present: await books.get(people, input.person),
    otherChiefAssayers: await otherChiefAssayers(books, input.person),
  }),
  decide: (input, facts) => {
    if (!facts.present) {
      const refusal = refuse(registersRefusals, 'PersonNotEnrolled', {
        message: `${input.person} is not the id of a person in the register.`,
        field: 'person',
        figures: { person: input.person },
      });
      return { refusals: [refusal] };
    }
    const wasChief = facts.present.active && facts.present.roles.includes('chief assayer');
    const staysChief = input.active && input.roles.includes('chief assayer');
    if (wasChief && !staysChief && facts.otherChiefAssayers.length === 0) {
      const refusal = refuse(registersRefusals, 'LastChiefAssayer', {
        message: `${facts.present.name} is the only chief assayer of the plant.`,
        field: input.active ? 'roles' : 'active',
        figures: { person: input.person, otherChiefAssayers: 0 },
      });
      return { refusals: [refusal] };
    }
    return { entries: [draft(PersonChanged, input)] };
  },
});
