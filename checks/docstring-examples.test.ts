import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const source = join(import.meta.dirname, '../packages/calculation/src');

interface Example {
  readonly expression: string;
  readonly expected: string;
}

/** The examples of a text: the expression, up to the last `//` of its last line; and what it gives. */
function examplesOf(text: string): readonly Example[] {
  return [...text.matchAll(/@example ([\s\S]*?)(?:\n \*\/|\n \* @|\n \* Source)/g)].map(
    ([, raw]) => {
      const lines = (raw as string).replace(/\n \* ?/g, '\n');
      const at = lines.lastIndexOf('//');
      return { expression: lines.slice(0, at).trim(), expected: lines.slice(at + 2).trim() };
    },
  );
}

function evaluate(expression: string, scope: Readonly<Record<string, unknown>>): unknown {
  const names = Object.keys(scope);
  return new Function(...names, `return (${expression});`)(...names.map((name) => scope[name]));
}

/** As many significant digits as a printed number shows, at most what a double surely holds. */
function digitsOf(printed: string): number {
  const digits = printed
    .replace(/e.*$/i, '')
    .replace(/[^0-9]/g, '')
    .replace(/^0+/, '');
  return Math.min(14, Math.max(1, digits.length));
}

/** Numbers that differ by less than the last printed digit become the expected ones. */
function settled(value: unknown, expected: unknown, digits: number): unknown {
  if (typeof value === 'number' && typeof expected === 'number') {
    const near = Math.abs(value - expected) <= Math.abs(expected) * 10 ** (1 - digits);
    return near ? expected : value;
  }
  if (Array.isArray(value) && Array.isArray(expected)) {
    return value.map((part, at) => settled(part, expected[at], digits));
  }
  return value;
}

function compare(example: Example, scope: Readonly<Record<string, unknown>>): void {
  const value = evaluate(example.expression, scope);
  const expected = evaluate(example.expected, scope);
  // One number is compared to the digits printed; several to the digits of the longest of them.
  const numbers = example.expected.match(/[0-9.]+(?:e[-+]?[0-9]+)?/gi) ?? [];
  const digits = Math.max(1, ...numbers.map(digitsOf));
  expect(settled(value, expected, digits)).toEqual(expected);
}

const files = readdirSync(source, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.ts') && !name.endsWith('.test.ts'))
  .map((name) => ({ name, examples: examplesOf(readFileSync(join(source, name), 'utf8')) }))
  .filter(({ examples }) => examples.length > 0);

/** Everything that any module of the library exports. */
async function wholeLibrary(): Promise<Readonly<Record<string, unknown>>> {
  const modules = await Promise.all(files.map(({ name }) => import(join(source, name))));
  return Object.assign({}, ...modules) as Record<string, unknown>;
}

describe('the examples of the documentation', () => {
  it('are found', () => {
    expect(files.length).toBeGreaterThan(15);
    expect(examplesOf('/**\n * @example twice(\n *   2) // 4\n */')).toEqual([
      { expression: 'twice(\n  2)', expected: '4' },
    ]);
  });

  it.each(files.map(({ name, examples }) => [name, examples] as const))(
    '%s gives what it says',
    async (name, examples) => {
      const own = (await import(join(source, name))) as Record<string, unknown>;
      const scope = { ...(await wholeLibrary()), ...own };
      for (const example of examples) compare(example, scope);
    },
  );
});
