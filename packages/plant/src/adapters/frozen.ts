/** What a JSON text says, frozen all the way down, so that everybody can be given the same one. */
export function frozenFrom<Value>(text: string): Value {
  return freeze(JSON.parse(text) as Value);
}

function freeze<Value>(value: Value): Value {
  if (typeof value !== 'object' || value === null) return value;
  Object.freeze(value);
  for (const name of Object.keys(value)) freeze((value as Record<string, unknown>)[name]);
  return value;
}
