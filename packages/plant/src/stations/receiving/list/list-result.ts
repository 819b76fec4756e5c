import type { TableProblem } from '../../../tables/sheet.ts';
import { type AnnounceInput, announceInput } from '../announce-input.ts';
import type { ListField } from './header-words.ts';
import type { ListMapping, TakenList } from './list-bodies.ts';
import type { ListDrum } from './list-row.ts';

/** What a packing list does not say itself. */
export interface ListHead {
  readonly consignment: string;
  readonly supplier: string;
  readonly document: string;
  readonly pieceStandard: string;
}

/** A line that a person sets aside, and why. */
export interface SetAside {
  readonly line: number;
  readonly reason: string;
}

/** A line that is no drum: a title, a note below the table, a header that comes again. */
export interface LeftOut {
  readonly line: number;
  readonly words: string;
}

/** What was done with the lines of a list, for the eye and for the record. */
export interface ListAccount {
  readonly leftOut: readonly LeftOut[];
  readonly rows: TakenList['rows'];
  readonly totals: TakenList['totals'];
  readonly setAside: readonly SetAside[];
}

/** A packing list read as a whole, or everything that is wrong with it. */
export type PackingListResult =
  | { readonly outcome: 'read'; readonly input: AnnounceInput; readonly account: ListAccount }
  | { readonly outcome: 'problems'; readonly problems: readonly TableProblem[] };

export function refused(problems: readonly TableProblem[]): PackingListResult {
  return { outcome: 'problems', problems };
}

/** Rows of one melt that state different finenesses. */
export function disagreements(
  drums: readonly ListDrum[],
  mapping: ListMapping,
): readonly TableProblem[] {
  const first = new Map<string, ListDrum>();
  return drums.flatMap((drum) => {
    const earlier = first.get(drum.melt);
    if (!earlier) first.set(drum.melt, drum);
    if (!earlier || earlier.finenessPerMille === drum.finenessPerMille) return [];
    const accepted = `${earlier.finenessPerMille ?? 'nothing'}, as in line ${earlier.line} for the same melt`;
    const value = String(drum.finenessPerMille ?? '');
    const column = mapping.columns.fineness ?? 'fineness';
    return [{ line: drum.line, column, value, accepted }];
  });
}

/** The drums as an announcement, or what its schema refuses, each with its line. */
export function announcedBy(
  drums: readonly ListDrum[],
  head: ListHead,
  read: { readonly mapping: ListMapping; readonly account: ListAccount },
): PackingListResult {
  const finenesses = new Map(drums.map((drum) => [drum.melt, drum.finenessPerMille]));
  const parsed = announceInput.safeParse({
    ...head,
    melts: [...finenesses].map(([melt, supplierFinenessPerMille]) => ({
      melt,
      supplierFinenessPerMille,
    })),
    drums: drums.map(({ drum, melt, pieces, gross, tare, seal }) => ({
      drum,
      melt,
      pieces,
      gross,
      tare,
      seal,
    })),
  });
  if (parsed.success) return { outcome: 'read', input: parsed.data, account: read.account };
  return refused(
    parsed.error.issues.map((issue) => {
      const [list, index, field] = issue.path;
      const row = list === 'drums' ? drums[Number(index)] : undefined;
      const name = String(field ?? list ?? 'packing list');
      return {
        line: row?.line ?? 0,
        column: (row && read.mapping.columns[name as ListField]) || name,
        value: valueIn(row ?? head, name),
        accepted: issue.message,
      };
    }),
  );
}

function valueIn(holder: object, name: string): string {
  const value = (holder as Record<string, unknown>)[name];
  if (typeof value === 'object' && value !== null && 'text' in value) return String(value.text);
  return value === undefined ? '' : String(value);
}
