import { DomainError } from '../quantity/domain.ts';
import { type ModelFunctionName, modelFunctionNames } from './algebra.ts';

/** A model as a tree; `at` is the place of its first or deciding character, counted from 1. */
export type ModelTree =
  | { readonly kind: 'number'; readonly at: number; readonly value: number }
  | { readonly kind: 'input'; readonly at: number; readonly name: string }
  | { readonly kind: 'negate'; readonly at: number; readonly argument: ModelTree }
  | {
      readonly kind: 'operation';
      readonly at: number;
      readonly operator: '+' | '-' | '*' | '/' | '^';
      readonly left: ModelTree;
      readonly right: ModelTree;
    }
  | {
      readonly kind: 'call';
      readonly at: number;
      readonly name: ModelFunctionName;
      readonly argument: ModelTree;
    };

interface Token {
  readonly kind: 'number' | 'name' | 'sign' | 'end';
  readonly text: string;
  readonly at: number;
}

/** Deepest nesting of parentheses, signs and powers; no model of a measurement comes near it. */
const greatestDepth = 100;

const tokenPattern = /\s*(?:((?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)|([A-Za-z_]\w*)|([-+*/^()]))/y;

/** Names that an input may not take. */
export const reservedNames: readonly string[] = [...modelFunctionNames, 'pi'];

function refuse(what: string, at: number, accepted: string): never {
  throw new DomainError({ field: 'model', value: `${what} at character ${at}`, accepted });
}

function describe(token: Token): string {
  return token.kind === 'end' ? 'the end of the text' : `'${token.text}'`;
}

function tokensOf(text: string): readonly Token[] {
  const tokens: Token[] = [];
  tokenPattern.lastIndex = 0;
  while (tokenPattern.lastIndex < text.trimEnd().length) {
    const from = tokenPattern.lastIndex;
    const match = tokenPattern.exec(text);
    if (match === null) {
      const blank = text.slice(from).search(/\S/);
      const at = from + blank + 1;
      refuse(
        `'${String.fromCodePoint(text.codePointAt(at - 1) ?? 0)}'`,
        at,
        'names of inputs, numbers such as 2.5 or 1e-3, + - * / ^ and parentheses',
      );
    }
    const [, number, name, sign] = match;
    const read = number ?? name ?? sign ?? '';
    const kind = number !== undefined ? 'number' : name !== undefined ? 'name' : 'sign';
    tokens.push({ kind, text: read, at: tokenPattern.lastIndex - read.length + 1 });
  }
  return tokens;
}

/** Reads tokens from left to right, one rule of the grammar per method. */
class Reader {
  readonly #tokens: readonly Token[];
  readonly #names: readonly string[];
  readonly #end: Token;
  #next = 0;
  #depth = 0;

  constructor(text: string, names: readonly string[]) {
    this.#tokens = tokensOf(text);
    this.#names = names;
    this.#end = { kind: 'end', text: '', at: text.trimEnd().length + 1 };
  }

  whole(): ModelTree {
    const tree = this.#sum();
    const rest = this.#peek();
    if (rest.kind !== 'end') {
      refuse(describe(rest), rest.at, 'one of + - * / ^ or the end of the model');
    }
    return tree;
  }

  #peek(): Token {
    return this.#tokens[this.#next] ?? this.#end;
  }

  /** The next token if it is one of these signs; it is then used up. */
  #sign<Sign extends string>(...signs: readonly Sign[]): { sign: Sign; at: number } | null {
    const token = this.#peek();
    const sign = signs.find((one) => token.kind === 'sign' && token.text === one);
    if (sign === undefined) return null;
    this.#next += 1;
    return { sign, at: token.at };
  }

  #nested(at: number, read: () => ModelTree): ModelTree {
    this.#depth += 1;
    if (this.#depth > greatestDepth) {
      refuse('nesting', at, `at most ${greatestDepth} levels of parentheses, signs and powers`);
    }
    const tree = read();
    this.#depth -= 1;
    return tree;
  }

  #sum(): ModelTree {
    let left = this.#product();
    for (let next = this.#sign('+', '-'); next !== null; next = this.#sign('+', '-')) {
      const right = this.#product();
      left = { kind: 'operation', at: next.at, operator: next.sign, left, right };
    }
    return left;
  }

  #product(): ModelTree {
    let left = this.#signed();
    for (let next = this.#sign('*', '/'); next !== null; next = this.#sign('*', '/')) {
      const right = this.#signed();
      left = { kind: 'operation', at: next.at, operator: next.sign, left, right };
    }
    return left;
  }

  /** A sign stands before the power: -x^2 is -(x^2). */
  #signed(): ModelTree {
    const next = this.#sign('-', '+');
    if (next === null) return this.#power();
    const argument = this.#nested(next.at, () => this.#signed());
    return next.sign === '+' ? argument : { kind: 'negate', at: next.at, argument };
  }

  /** Powers are read from the right: 2^3^2 is 2^(3^2). */
  #power(): ModelTree {
    const left = this.#atom();
    const next = this.#sign('^');
    if (next === null) return left;
    const right = this.#nested(next.at, () => this.#signed());
    return { kind: 'operation', at: next.at, operator: '^', left, right };
  }

  #atom(): ModelTree {
    const token = this.#peek();
    const { at } = token;
    if (this.#sign('(') !== null) return this.#closed(at);
    if (token.kind === 'number') {
      this.#next += 1;
      return { kind: 'number', at, value: this.#number(token) };
    }
    if (token.kind === 'name') {
      this.#next += 1;
      return this.#named(token);
    }
    return refuse(describe(token), at, this.#acceptedAtoms());
  }

  #number(token: Token): number {
    const value = Number(token.text);
    if (!Number.isFinite(value)) {
      refuse(describe(token), token.at, 'a number of at most about 1.8e308');
    }
    return value;
  }

  #closed(at: number): ModelTree {
    const inner = this.#nested(at, () => this.#sum());
    const next = this.#peek();
    if (this.#sign(')') === null) {
      refuse(describe(next), next.at, `the ) that closes the ( at character ${at}`);
    }
    return inner;
  }

  #named(token: Token): ModelTree {
    const { at, text } = token;
    const name = modelFunctionNames.find((one) => one === text);
    if (name !== undefined) {
      const open = this.#peek();
      if (this.#sign('(') === null) {
        refuse(describe(open), open.at, `a ( after the function ${name}`);
      }
      return { kind: 'call', at, name, argument: this.#closed(open.at) };
    }
    if (text === 'pi') return { kind: 'number', at, value: Math.PI };
    if (!this.#names.includes(text)) refuse(`'${text}'`, at, this.#acceptedAtoms());
    return { kind: 'input', at, name: text };
  }

  #acceptedAtoms(): string {
    const functions = modelFunctionNames.join(', ');
    return `an input (${this.#names.join(', ')}), a number, pi, a parenthesis or a function (${functions})`;
  }
}

/**
 * Reads the text of a measurement model: inputs by name, numbers, pi, + − * / ^, signs,
 * parentheses and the functions of `modelFunctionNames`; log is the natural logarithm. Nothing
 * else is understood and nothing is executed.
 *
 * Formula: ^ binds before signs, signs before * and /, these before + and −; powers are read from
 * the right, the others from the left.
 *
 * @param text the right-hand side of the model, such as 'mass / (1 + ratio)'
 * @param names names of the inputs, each letters, digits and _ and no digit first
 * @returns the tree, with places counted from 1
 * @throws DomainError that names the place in the text and what would be accepted there
 * Validity: precedence of common mathematical writing, ISO 80000-2:2019, clause 10.
 * Source: ISO 80000-2:2019, clauses 10 and 13 (operations and functions)
 * @example modelTree('2 * x', ['x']).kind // 'operation'
 */
export function modelTree(text: string, names: readonly string[]): ModelTree {
  return new Reader(text, names).whole();
}
