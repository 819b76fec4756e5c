import type { ComponentType } from 'react';
import type { InputProblem } from '../plant-client.ts';
import type { Draft, Schema } from './schema-draft.ts';

/** A field that a page draws itself. */
export interface OwnFieldProps {
  readonly value: string;
  /** Everything that stands in the form. */
  readonly form: Draft;
  readonly onChange: (value: string) => void;
  readonly refusal: string | undefined;
}

/** Fields that a page draws itself, by the name that the command gives them. */
export type OwnFields = Readonly<Record<string, ComponentType<OwnFieldProps>>>;

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
  /** Of the whole form; inside its parts there are none. */
  readonly own?: OwnFields | undefined;
}

/** Why the calculation did not accept what stands at a path. */
export function problemAt(problems: readonly InputProblem[], path: string): string | undefined {
  const problem = problems.find(({ field }) => field === path);
  return problem?.message ?? (problem ? `Accepted here: ${problem.accepted}.` : undefined);
}
