import { useNames } from './use-names.ts';

/** One person, or two who did it together, by their full names. */
export function PeopleNamed({
  author,
  witness = null,
}: {
  readonly author: string;
  readonly witness?: string | null;
}) {
  return useNames().namesOf(author, witness);
}
