import { problemsOf } from '@cupel/calculation';
import type { z } from 'zod';
import type { Json } from '../ports/json.ts';
import { type Refusal, type RefusalMeanings, refuse } from './refusal.ts';
import type { Circumstances, Command, Person } from './station.ts';

/** The refusals that belong to no station. */
export const coreRefusals = {
  InputNotAccepted: {
    meaning: 'A field of the command is missing, malformed or outside its range.',
    nextStep: 'Put the field right and record it again.',
  },
  RequestKeyNotAccepted: {
    meaning: 'The key that makes a command count once is malformed, or belongs to another request.',
    nextStep: 'Send the command again with a new key.',
  },
  PersonUnknown: {
    meaning: 'The author is not enrolled in the plant, or has left.',
    nextStep: 'Let the chief assayer enrol the person.',
  },
  RoleMissing: {
    meaning: 'The author holds none of the roles that may do this.',
    nextStep: 'Ask a person who holds one of the roles named.',
  },
  SignatureMissing: {
    meaning: 'The act is signed, and its author has not proved who he is once more.',
    nextStep: 'Sign with your own password.',
  },
  WitnessMissing: {
    meaning: 'The act needs a second person, and none has proved who he is.',
    nextStep: 'Let a second person sign with his own password.',
  },
  WitnessIsAuthor: {
    meaning: 'The second person is the author himself.',
    nextStep: 'Let another person sign.',
  },
  WitnessRoleMissing: {
    meaning: 'The second person holds none of the roles that may witness this.',
    nextStep: 'Ask a person who holds one of the roles named.',
  },
  NotEnoughPieces: {
    meaning: 'A place would be left with fewer pieces than none.',
    nextStep: 'Count what lies at the place and record the moves that are missing.',
  },
  DiskFull: {
    meaning: 'The disk that holds the plant has no room left.',
    nextStep: 'Make room on the disk, then send the same command again.',
  },
} satisfies RefusalMeanings;

/** Longer values are shown by their beginning. */
const shownCharacters = 200;
/** So many problems are told at once; whoever mends them learns of the others. */
const toldProblems = 50;

function shown(text: string): string {
  return text.length > shownCharacters ? `${text.slice(0, shownCharacters).toWellFormed()}…` : text;
}

function asJson(value: unknown): Json {
  if (typeof value === 'string') return shown(value);
  if (typeof value === 'boolean' || value === null) return value;
  if (typeof value === 'number') return Number.isFinite(value) ? value : String(value);
  return value === undefined ? 'missing' : shown(JSON.stringify(value));
}

/** The problems of an input, each with its field, value and what would be accepted. */
export function inputRefusals(error: z.ZodError, input: unknown): readonly Refusal[] {
  // What is not even of the form is not told once more as out of its range.
  const told = new Set<string>();
  return problemsOf(error, input)
    .filter(({ field }) => !told.has(field) && told.add(field))
    .slice(0, toldProblems)
    .map((problem) => {
      const { accepted } = problem;
      const field = problem.field || 'input';
      const value = asJson(problem.value);
      return refuse(coreRefusals, 'InputNotAccepted', {
        message: `${field} is ${value === '' ? 'empty' : (value ?? 'missing')}: ${accepted}.`,
        field,
        figures: { field, value, accepted },
      });
    });
}

/** The texts of an input that no journal can keep: those with half of a surrogate pair. */
export function textRefusals(input: unknown, path: readonly string[] = []): readonly Refusal[] {
  if (typeof input === 'string') {
    if (input.isWellFormed()) return [];
    const field = path.join('.') || 'input';
    const accepted = 'text of whole Unicode characters';
    const value = shown(input.toWellFormed());
    return [
      refuse(coreRefusals, 'InputNotAccepted', {
        message: `${field} is ${value}: ${accepted}.`,
        field,
        figures: { field, value, accepted },
      }),
    ];
  }
  if (typeof input !== 'object' || input === null) return [];
  return Object.entries(input).flatMap(([key, value]) => {
    const here = [...path, key.toWellFormed()];
    return [...textRefusals(key, here), ...textRefusals(value, here)];
  });
}

/** Whether the people may do this; the answer lists the first reason why not, in a fixed order. */
export function checkAuthority(
  command: Command,
  request: { author: string; signed: boolean; witness?: string },
  circumstances: Omit<Circumstances, 'author'> & { author: Person | undefined },
): readonly Refusal[] {
  const { author, witness } = circumstances;
  if (!author?.active) {
    return [
      refuse(coreRefusals, 'PersonUnknown', {
        message: `${request.author} is not enrolled in this plant.`,
        figures: { person: request.author },
      }),
    ];
  }
  if (!command.roles.some((role) => author.roles.includes(role))) {
    return [
      refuse(coreRefusals, 'RoleMissing', {
        message: `${author.name} is ${author.roles.join(', ') || 'without a role'}; this is done by: ${command.roles.join(', ')}.`,
        figures: { person: author.person, roles: [...author.roles], accepted: [...command.roles] },
      }),
    ];
  }
  if (command.signature !== 'none' && !request.signed) {
    return [
      refuse(coreRefusals, 'SignatureMissing', {
        message: `${command.title} is signed: ${author.name} has to prove who he is.`,
        figures: { person: author.person },
      }),
    ];
  }
  const needsWitness = command.signature === 'author and witness';
  return needsWitness || request.witness !== undefined
    ? checkWitness(command, { author, witness, named: request.witness })
    : [];
}

/** A second person is held to the same conditions where he is needed and where he came along. */
function checkWitness(
  command: Command,
  people: { author: Person; witness: Person | null; named: string | undefined },
): readonly Refusal[] {
  const { author, witness, named } = people;
  if (!witness?.active) {
    const message =
      named === undefined
        ? `${command.title} needs a second person beside ${author.name}.`
        : `The second person ${named} is not enrolled in this plant.`;
    return [
      refuse(coreRefusals, 'WitnessMissing', { message, figures: { witness: named ?? null } }),
    ];
  }
  if (witness.person === author.person) {
    return [
      refuse(coreRefusals, 'WitnessIsAuthor', {
        message: `${author.name} records this act; its witness is somebody else.`,
        figures: { person: author.person },
      }),
    ];
  }
  const accepted = command.witnessRoles ?? [];
  if (accepted.length > 0 && !accepted.some((role) => witness.roles.includes(role))) {
    return [
      refuse(coreRefusals, 'WitnessRoleMissing', {
        message: `${witness.name} is ${witness.roles.join(', ')}; this is witnessed by: ${accepted.join(', ')}.`,
        figures: { person: witness.person, accepted: [...accepted] },
      }),
    ];
  }
  return [];
}
