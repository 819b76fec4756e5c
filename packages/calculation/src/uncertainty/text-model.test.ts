import { describe, expect, it } from 'vitest';
import { DomainError } from '../quantity/domain.ts';
import { numberAlgebra } from './algebra.ts';
import { derivativeAlgebra, variable } from './derivatives.ts';
import { textModel } from './text-model.ts';

const value = (text: string, inputs: Record<string, number> = {}): number =>
  textModel(text, Object.keys(inputs))(numberAlgebra, inputs);

function refusalOf(text: string, names: readonly string[] = ['x']): DomainError {
  try {
    textModel(text, names);
  } catch (error) {
    if (error instanceof DomainError) return error;
    throw error;
  }
  throw new Error('was not refused');
}

describe('a model as text', () => {
  // Origin: the same sums by hand, in the precedence of mathematical writing.
  it.each([
    ['2 + 3 * 4', 14],
    ['(2 + 3) * 4', 20],
    ['8 / 4 / 2', 1],
    ['7 - 4 - 2', 1],
    ['2^3^2', 512],
    ['-2^2', -4],
    ['(-2)^2', 4],
    ['2^-2', 0.25],
    ['-2^-2', -0.25],
    ['2 * -3', -6],
    ['- - 2', 2],
    ['+3 - +1', 2],
    ['1.5e2 + .5 + 2.', 152.5],
    ['2*pi', 2 * Math.PI],
  ])('%s is %d', (text, expected) => {
    expect(value(text)).toBe(expected);
  });

  // Origin: the functions of the language itself.
  it.each([
    ['abs(-3)', 3],
    ['acos(0.3)', Math.acos(0.3)],
    ['asin(0.3)', Math.asin(0.3)],
    ['atan(0.3)', Math.atan(0.3)],
    ['cos(0.3)', Math.cos(0.3)],
    ['exp(0.3)', Math.exp(0.3)],
    ['log(0.3)', Math.log(0.3)],
    ['log10(1000)', Math.log10(1000)],
    ['sin(0.3)', Math.sin(0.3)],
    ['sqrt(2)', Math.SQRT2],
    ['tan(0.3)', Math.tan(0.3)],
  ])('%s is %d', (text, expected) => {
    expect(value(text)).toBe(expected);
  });

  it('takes inputs by name, with spaces and line breaks between', () => {
    expect(value('mass_1\n / ( mass_2 - 1 )', { mass_1: 6, mass_2: 4 })).toBe(2);
  });
});

describe('refused text', () => {
  it.each([
    ['x % 2', "'%' at character 3", /\+ - \* \/ \^/],
    ['x; 2', "';' at character 2", /names of inputs/],
    ['2 x', "'x' at character 3", /one of \+ - \* \/ \^ or the end/],
    ['x +', 'the end of the text at character 4', /an input \(x\), a number, pi/],
    ['* x', "'*' at character 1", /an input/],
    ['(x + 1', 'the end of the text at character 7', /\) that closes the \( at character 1/],
    ['x)', "')' at character 2", /the end of the model/],
    ['sin x', "'x' at character 5", /a \( after the function sin/],
    ['y + x', "'y' at character 1", /an input \(x\)/],
    ['Math.exp(x)', "'.' at character 5", /names of inputs/],
    ['x[0]', "'[' at character 2", /names of inputs/],
    ['"x"', "'\"' at character 1", /names of inputs/],
    ['constructor(x)', "'constructor' at character 1", /an input/],
    ['x + 1e999', "'1e999' at character 5", /at most about/],
    ['', 'the end of the text at character 1', /an input/],
    ['   ', 'the end of the text at character 1', /an input/],
    ['x + 😀', "'😀' at character 5", /names of inputs/],
  ])('%j names the place and what is accepted', (text, found, accepted) => {
    const { field, value: got, accepted: says } = refusalOf(text);
    expect(field).toBe('model');
    expect(got).toBe(found);
    expect(says).toMatch(accepted);
  });

  it('refuses nesting without end', () => {
    expect(refusalOf(`${'('.repeat(500)}x${')'.repeat(500)}`).accepted).toMatch(/100 levels/);
    expect(refusalOf(`${'-'.repeat(500)}x`).accepted).toMatch(/100 levels/);
    expect(refusalOf(`${'2^'.repeat(500)}x`).accepted).toMatch(/100 levels/);
  });

  it('refuses names that repeat, are reserved or are not used', () => {
    expect(refusalOf('x', ['x', 'x'])).toMatchObject({ field: 'inputs.1.name', value: 'x' });
    expect(refusalOf('x + pi', ['x', 'pi']).accepted).toMatch(/other than abs.*pi/);
    expect(refusalOf('x', ['x', 'y'])).toMatchObject({
      field: 'inputs.1.name',
      value: 'y',
      accepted: 'a name that occurs in the model',
    });
  });
});

describe('a model without value or derivative at the estimates', () => {
  const algebra = derivativeAlgebra(1);
  it.each([
    ['1 / x', 0, "'/' at character 3, which has no finite value at the estimates"],
    ['2 + abs(x)', 0, "'abs' at character 5, which has no finite derivative at the estimates"],
    ['sqrt(x)', 0, "'sqrt' at character 1, which has no finite derivative at the estimates"],
    ['log(x - 1)', 0, "'log' at character 1, which has no finite value at the estimates"],
    ['asin(x)', 1, "'asin' at character 1, which has no finite derivative at the estimates"],
    ['x^1.5', -1, "'^' at character 2, which has no finite value at the estimates"],
    ['x^0.5', 0, "'^' at character 2, which has no finite derivative at the estimates"],
  ])('%s at %d is refused by its place', (text, x, found) => {
    const model = textModel(text, ['x']);
    const evaluate = () => model(algebra, { x: variable(x, [1]) });
    expect(evaluate).toThrow(DomainError);
    expect(evaluate).toThrow(found);
  });

  it('accepts whole powers at 0', () => {
    const { value: square, parts } = textModel('x^2', ['x'])(algebra, { x: variable(0, [1]) });
    expect(square).toBe(0);
    expect([...(parts ?? [])]).toEqual([0, 2, 0]);
  });
});
