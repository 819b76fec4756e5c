import type { JsonObject } from './json.ts';

/** Which half-filled sheet is meant: a person's, of a command, for a thing such as a melt. */
export interface SheetName {
  readonly person: string;
  readonly command: string;
  readonly thing: string;
}

/** A half-filled sheet as it is kept. */
export interface KeptSheet {
  readonly value: JsonObject;
  /** Counts up each time it is kept: a sheet that was changed elsewhere has another one. */
  readonly revision: number;
  /** When it was kept: ISO 8601, UTC. */
  readonly keptAt: string;
}

/** That a half-filled sheet is kept: whose, for what, since when; nothing of what it holds. */
export interface SheetLine extends SheetName {
  readonly keptAt: string;
}

/** What came of keeping a sheet. */
export type SheetKept =
  | { readonly outcome: 'kept'; readonly revision: number; readonly keptAt: string }
  /** It was changed, recorded or emptied elsewhere since; nothing was kept. */
  | { readonly outcome: 'changed elsewhere'; readonly sheet: KeptSheet | undefined }
  | { readonly outcome: 'too large'; readonly bytes: number; readonly greatestBytes: number };

/**
 * Half-filled sheets of people, beside the journal: nothing of them is recorded, and nobody but the
 * person himself reads them. That one is kept may be told to others.
 */
export interface KeptSheets {
  find(name: SheetName): KeptSheet | undefined;
  /** Keeps a sheet that rests on that revision, 0 for a new one; it is on disk when this answers. */
  keep(
    name: SheetName,
    sheet: { readonly value: JsonObject; readonly revision: number },
  ): SheetKept;
  forget(name: SheetName): void;
  /** Every sheet that is kept, the one untouched longest first. */
  lines(): readonly SheetLine[];
  close(): void;
}
