import type { FaultOption } from '@cupel/calculation';
import { type FaultKind, faultKinds } from './fault-kinds.ts';
import type { LookAgain } from './look-again.ts';

/** A look that people can take, at one place or thing. */
export interface Look {
  /** Names the look for as long as the search lasts. */
  readonly look: string;
  readonly title: string;
  readonly minutes: number;
  readonly seenIfThere: number;
}

/** One thing that can be wrong: what it does to the residuals, how it is said and where it is looked for. */
export interface Suspicion {
  /** Unique in a search: the name of the variable. */
  readonly name: string;
  readonly kind: FaultKind;
  readonly options: readonly FaultOption[];
  readonly words: (value: number) => string;
  /** What the weighings say of it, where they say something. */
  readonly evidence: string | null;
  readonly look: Look;
  /** The entry on which its evidence rests, where there is a newest one: what was found before is in it. */
  readonly since?: number;
  /** Weighing or counting it once more, where its look is that. */
  readonly again?: LookAgain;
}

/** A look for a kind of fault at a thing. */
export function lookFor(kind: FaultKind, look: string, title: string): Look {
  const { minutes, seenIfThere } = faultKinds[kind];
  return { look, title, minutes, seenIfThere };
}

export const piecesText = (count: number): string =>
  `${count} ${Math.abs(count) === 1 ? 'piece' : 'pieces'}`;
