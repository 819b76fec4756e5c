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

interface Found {
  readonly draft: TallyDraft;
  readonly balance: string;
}

/** What was found as commands take it; the balance stands only beside what was weighed. */
export const foundLines = (standards: readonly string[], found: Found) =>
  standards.map((pieceStandard) => {
    const line = found.draft.lines[pieceStandard] ?? emptyLine;
    const gross = readingOf(line.gross);
    return {
      pieceStandard,
      pieces: wholeNumberOf(line.pieces),
      gross,
      instrument: gross === null || found.balance === '' ? null : found.balance,
    };
  });

/** The tally as the command takes it. */
export const tallyInput = (place: string, standards: readonly string[], found: Found) => ({
  place,
  lines: foundLines(standards, found),
});

/** Piece standards of which something is typed: what was weighed and not counted is one of them. */
export const besideRacks = (standards: readonly string[], { lines }: TallyDraft) =>
  standards.filter((name) => lines[name] && (lines[name].pieces || lines[name].gross.text));

/** The tally from the racks as the command takes it: beside them only what was found there. */
export const rackTallyInput = (place: string, standards: readonly string[], found: Found) => ({
  place,
  beside: foundLines(besideRacks(standards, found.draft), found),
});
