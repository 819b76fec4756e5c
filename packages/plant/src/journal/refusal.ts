import type { JsonObject } from '../ports/json.ts';

/** An expected "no": a named value with the figures that caused it and what to do next. */
export interface Refusal {
  /** The state that is wrong, as a constant name: `SealAlreadyUsed`. */
  readonly refusal: string;
  /** A full sentence with the figures. */
  readonly message: string;
  /** The next step that the person can take. */
  readonly nextStep: string;
  /** Path of the input field it concerns, when one field is to blame. */
  readonly field?: string;
  readonly figures: JsonObject;
  /** What is said in its place to those who count, where the figures tell what should lie at a place. */
  readonly toOthers?: { readonly message: string; readonly figures: JsonObject };
}

/** What a refusal means wherever it stands, for its reference page. */
interface RefusalMeaning {
  readonly meaning: string;
  readonly nextStep: string;
}

/** The refusals that a station can give, by name. */
export type RefusalMeanings<Name extends string = string> = Readonly<Record<Name, RefusalMeaning>>;

/** Makes a refusal of a declared name; the next step is the declared one unless a better one is known. */
export function refuse<Name extends string>(
  meanings: RefusalMeanings<Name>,
  name: Name,
  detail: {
    message: string;
    figures?: JsonObject;
    field?: string;
    nextStep?: string;
    toOthers?: NonNullable<Refusal['toOthers']>;
  },
): Refusal {
  const base = {
    ...(detail.toOthers ? { toOthers: detail.toOthers } : {}),
    refusal: name,
    message: detail.message,
    nextStep: detail.nextStep ?? meanings[name].nextStep,
    figures: detail.figures ?? {},
  };
  return detail.field === undefined ? base : { ...base, field: detail.field };
}
