import { DomainError, requireDomain } from '../quantity/domain.ts';
import type { Algebra, MeasurementModel } from './algebra.ts';
import { type ModelTree, modelTree, reservedNames } from './model-text.ts';

const operations = {
  '+': 'add',
  '-': 'subtract',
  '*': 'multiply',
  '/': 'divide',
  '^': 'power',
} as const;

function evaluate<T>(tree: ModelTree, algebra: Algebra<T>, inputs: Readonly<Record<string, T>>): T {
  // Inputs and numbers have what they were given; only what is computed can lack a value.
  if (tree.kind === 'input') return inputs[tree.name] as T;
  if (tree.kind === 'number') return algebra.constant(tree.value);
  const value = computed(tree, algebra, inputs);
  const defect = algebra.defectOf(value);
  if (defect === null) return value;
  const what = tree.kind === 'call' ? tree.name : tree.kind === 'operation' ? tree.operator : '-';
  throw new DomainError({
    field: 'model',
    value: `'${what}' at character ${tree.at}, which has ${defect} at the estimates`,
    accepted: 'a model with a finite value and finite derivatives at the estimates',
  });
}

function computed<T>(
  tree: Exclude<ModelTree, { kind: 'input' | 'number' }>,
  algebra: Algebra<T>,
  inputs: Readonly<Record<string, T>>,
): T {
  if (tree.kind === 'operation') {
    const left = evaluate(tree.left, algebra, inputs);
    return algebra[operations[tree.operator]](left, evaluate(tree.right, algebra, inputs));
  }
  const argument = evaluate(tree.argument, algebra, inputs);
  return tree.kind === 'negate' ? algebra.negate(argument) : algebra.apply(tree.name, argument);
}

function namesIn(tree: ModelTree, found: Set<string>): Set<string> {
  if (tree.kind === 'input') found.add(tree.name);
  if (tree.kind === 'negate' || tree.kind === 'call') namesIn(tree.argument, found);
  if (tree.kind === 'operation') namesIn(tree.right, namesIn(tree.left, found));
  return found;
}

/** Refuses names that repeat, that the text form keeps for itself, or that the model never uses. */
function requireNames(names: readonly string[], used: ReadonlySet<string>, field: string): void {
  names.forEach((name, index) => {
    const refuse = (condition: boolean, accepted: string): void =>
      requireDomain(condition, { field: `${field}.${index}.name`, value: name, accepted });
    refuse(!reservedNames.includes(name), `a name other than ${reservedNames.join(', ')}`);
    refuse(names.indexOf(name) === index, 'a name that no other input has');
    refuse(used.has(name), 'a name that occurs in the model');
  });
}

/**
 * A measurement model from its text, ready for every algebra. See `modelTree` for the writing.
 *
 * @param text right-hand side of the model
 * @param names names of the inputs; each has to occur in the text
 * @param field name of the list that the inputs come from, for the refusals
 * @returns the model; evaluated where it has no finite value or derivative, it refuses with the
 *   place in the text
 * @throws DomainError for text that is no model, and for a name that repeats, is reserved or is
 *   not used
 * Source: as `modelTree`
 * @example textModel('a / b', ['a', 'b'])(numberAlgebra, { a: 6, b: 3 }) // 2
 */
export function textModel(
  text: string,
  names: readonly string[],
  field = 'inputs',
): MeasurementModel {
  const tree = modelTree(text, names);
  requireNames(names, namesIn(tree, new Set()), field);
  return (algebra, inputs) => evaluate(tree, algebra, inputs);
}
