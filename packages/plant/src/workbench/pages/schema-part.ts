import type { InputProblem } from '../plant-client.ts';
import type { Draft, Schema } from './schema-draft.ts';

/** A part of the form with where it stands in the input. */
export interface SchemaPartProps {
  readonly schema: Schema;
  readonly name: string;
  readonly draft: Draft;
  readonly onChange: (draft: Draft) => void;
  /** Path of the part in the input, joined by dots. */
  readonly path: string;
  readonly optional: boolean;
  readonly problems: readonly InputProblem[];
}

/** Why the calculation did not accept what stands at a path. */
export function problemAt(problems: readonly InputProblem[], path: string): string | undefined {
  const problem = problems.find(({ field }) => field === path);
  return problem?.message ?? (problem ? `Accepted here: ${problem.accepted}.` : undefined);
}
