import type { CommandDescription } from './plant-client.ts';

/** Who does what a person may not do himself, in a sentence that names the act. */
export function doneByWords(
  label: string,
  { roles, signature }: Pick<CommandDescription, 'roles' | 'signature'>,
): string {
  const last = roles.at(-1) ?? '';
  const who = roles.length < 2 ? last : `${roles.slice(0, -1).join(', ')} or ${last}`;
  const witness = signature === 'author and witness' ? ', with a second person' : '';
  return `${label}: this is done by the ${who}${witness}.`;
}
