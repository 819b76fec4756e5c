import { useQuestion } from './use-question.ts';

/** The names of people as they are called; sign-in names stand only where they are typed. */
interface Names {
  /** The full name of a person; the sign-in name while nobody knows better. */
  readonly nameOf: (person: string) => string;
  /** One name, or two with their `with` between them. */
  readonly namesOf: (author: string, witness?: string | null) => string;
}

/** The full names of people, by their sign-in names. */
export function useNames(): Names {
  const { answer } = useQuestion<Readonly<Record<string, string>>>('people-names');
  const nameOf = (person: string) => answer?.[person] ?? person;
  return {
    nameOf,
    namesOf: (author, witness) =>
      witness ? `${nameOf(author)} with ${nameOf(witness)}` : nameOf(author),
  };
}
