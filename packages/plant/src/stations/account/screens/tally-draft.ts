import {
  emptyReading,
  type ReadingDraft,
  readingOf,
  wholeNumberOf,
} from '../../../workbench/index.ts';

/** What was found of one piece standard, while it is typed. */
export interface LineDraft {
  readonly pieces: string;
  readonly gross: ReadingDraft;
}

export const emptyLine: LineDraft = { pieces: '', gross: emptyReading('g') };

export interface TallyDraft {
  /** By piece standard. */
  readonly lines: Readonly<Record<string, LineDraft>>;
  /** Piece standards that were found though nobody looked for them. */
  readonly added: readonly string[];
}

/** The tally as the command takes it; the balance stands only beside what was weighed. */
export function tallyInput(
  place: string,
  standards: readonly string[],
  found: { readonly draft: TallyDraft; readonly balance: string },
) {
  return {
    place,
    lines: standards.map((pieceStandard) => {
      const line = found.draft.lines[pieceStandard] ?? emptyLine;
      const gross = readingOf(line.gross);
      return {
        pieceStandard,
        pieces: wholeNumberOf(line.pieces),
        gross,
        instrument: gross === null || found.balance === '' ? null : found.balance,
      };
    }),
  };
}
