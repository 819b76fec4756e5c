/** Deeper than any entry: beyond it a value may contain itself, and is left to the careful way. */
const greatestDepth = 64;

/** Characters that stand in JSON text as they are. */
const asIs = /^[ !#-[\]-~]*$/;

function inOrder(names: readonly string[]): boolean {
  for (let at = 1; at < names.length; at += 1) {
    if ((names[at - 1] as string) > (names[at] as string)) return false;
  }
  return true;
}

function textOfString(value: string): string | undefined {
  if (asIs.test(value)) return `"${value}"`;
  return value.isWellFormed() ? JSON.stringify(value) : undefined;
}

function textOfList(values: readonly unknown[], depth: number): string | undefined {
  let text = '[';
  for (let at = 0; at < values.length; at += 1) {
    const part = textOfPlain(values[at], depth);
    if (part === undefined) return undefined;
    text += at === 0 ? part : `,${part}`;
  }
  return `${text}]`;
}

function textOfObject(value: Readonly<Record<string, unknown>>, depth: number): string | undefined {
  if (typeof value['toJSON'] === 'function') return undefined;
  const names = Object.keys(value);
  // UTF-16 code units, the order of RFC 8785.
  if (!inOrder(names)) names.sort();
  let text = '';
  for (const name of names) {
    const part = value[name];
    if (part === undefined) continue;
    const [nameText, partText] = [textOfString(name), textOfPlain(part, depth)];
    if (nameText === undefined || partText === undefined) return undefined;
    text += text === '' ? `${nameText}:${partText}` : `,${nameText}:${partText}`;
  }
  return `{${text}}`;
}

/**
 * RFC 8785 canonical JSON text of plain data, written in one pass; nothing where a value is not
 * plain: what is no JSON, what writes itself, half of a surrogate pair, a number that is not finite.
 */
export function textOfPlain(value: unknown, depth = 0): string | undefined {
  switch (typeof value) {
    case 'string':
      return textOfString(value);
    case 'number':
      return Number.isFinite(value) ? String(value) : undefined;
    case 'boolean':
      return value ? 'true' : 'false';
    case 'object':
      break;
    default:
      return undefined;
  }
  if (value === null) return 'null';
  if (depth > greatestDepth) return undefined;
  return Array.isArray(value)
    ? textOfList(value, depth + 1)
    : textOfObject(value as Record<string, unknown>, depth + 1);
}
