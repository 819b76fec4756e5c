import type { FaultModel, FaultOption, FaultVariable } from './fault-model.ts';

/** A fault is large when it moves more pieces than people miscount by. */
const mostOfSmall = 4;

const isSmall = (vector: readonly number[]): boolean =>
  vector.every((value) => Math.abs(value) <= mostOfSmall);

const difference = (from: readonly number[], less: readonly number[]): number[] =>
  from.map((value, at) => value - (less[at] ?? 0));

/** The residual in which a vector is largest. */
const tallest = (vector: readonly number[]): number =>
  vector.reduce(
    (best, value, at) => (Math.abs(value) > Math.abs(vector[best] ?? 0) ? at : best),
    0,
  );

/** Vectors by what they add to one residual. */
function byValue(vectors: readonly (readonly number[])[], at: number) {
  const found = new Map<number, (readonly number[])[]>();
  for (const vector of vectors) {
    const value = vector[at] ?? 0;
    const alike = found.get(value);
    if (alike) alike.push(vector);
    else found.set(value, [vector]);
  }
  return found;
}

/** Signatures of large faults that alone, or with one other large fault, leave only small ones to find. */
function matching(residual: readonly number[], large: readonly (readonly number[])[]): Set<string> {
  const indices = residual.map((_, at) => byValue(large, at));
  const kept = new Set<string>();
  for (const vector of large) {
    const rest = difference(residual, vector);
    if (isSmall(rest)) {
      kept.add(vector.join(' '));
      continue;
    }
    const at = tallest(rest);
    const aim = rest[at] ?? 0;
    const near = Array.from({ length: 2 * mostOfSmall + 1 }, (_, step) => aim - mostOfSmall + step);
    const fits = near
      .flatMap((value) => indices[at]?.get(value) ?? [])
      .some((other) => isSmall(difference(rest, other)));
    if (fits) kept.add(vector.join(' '));
  }
  return kept;
}

/**
 * A model without the large faults that cannot matter: those that neither alone nor with a second
 * large one bring the residuals to where small faults can explain them. Sets of three large faults
 * that cancel one another are given up with this, and nothing else.
 */
export function withoutIdleLargeFaults(model: FaultModel): FaultModel {
  const isLarge = ({ signature }: FaultOption): boolean => !isSmall(signature);
  const signatures = new Map(
    model.variables.flatMap(({ options }) =>
      options.filter(isLarge).map(({ signature }) => [signature.join(' '), signature] as const),
    ),
  );
  const kept = matching(model.residual, [...signatures.values()]);
  const variables = model.variables.flatMap((variable): FaultVariable[] => {
    const options = variable.options.filter(
      (option) => !isLarge(option) || kept.has(option.signature.join(' ')),
    );
    return options.length > 0 ? [{ ...variable, options }] : [];
  });
  return { ...model, variables };
}
