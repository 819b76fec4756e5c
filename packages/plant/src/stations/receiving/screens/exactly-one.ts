/**
 * The one thing that a text names: its id, where no other id begins with it. What is typed letter by
 * letter would otherwise stop at D-1 on the way to D-10.
 */
export function exactlyOne<Thing extends { readonly id: string }>(
  things: readonly Thing[],
  text: string,
): Thing | undefined {
  const found = things.filter(({ id }) => id.startsWith(text));
  return found.length === 1 && found[0]?.id === text ? found[0] : undefined;
}
