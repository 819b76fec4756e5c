import type { BookReader } from '../../journal/books.ts';
import { balances } from '../../journal/core-books.ts';
import type { StoreReader } from '../../ports/store.ts';

/** What an audit found at one place of one metal, piece standard and melt; figures as decimal text. */
export interface AuditedBalance {
  readonly place: string;
  readonly metal: string;
  readonly pieceStandard: string;
  /** Empty where melts are mixed. */
  readonly melt: string;
  readonly pieces: string;
  readonly grossMicrograms: string;
  readonly fineMicrograms: string;
}

/** Something that an audit found wrong. */
export interface AuditFault {
  /** Entry at which it shows; null for the books as a whole. */
  readonly entry: number | null;
  readonly what: string;
}

/** An audit of the account from the text of the journal alone. */
export interface Audit {
  readonly entries: number;
  readonly postings: number;
  readonly balances: readonly AuditedBalance[];
  readonly faults: readonly AuditFault[];
}

type Figures = { pieces: bigint; gross: bigint; fine: bigint };

const inside = /^(receiving|laboratory|press-room|put-up|strong-room|archive|scrap|in-transit)$/;
const outside = /^(with-supplier|with-purchaser|ceased|difference)$/;

function auditedBalance(key: string, sum: Figures): AuditedBalance {
  const [place = '', metal = '', pieceStandard = '', melt = ''] = JSON.parse(key) as string[];
  return {
    place,
    metal,
    pieceStandard,
    melt,
    pieces: sum.pieces.toString(),
    grossMicrograms: sum.gross.toString(),
    fineMicrograms: sum.fine.toString(),
  };
}

/**
 * Adds up postings in whole numbers of any size. It shares no code with the books and takes its
 * figures from the text of each entry, so that a fault of either shows as a difference.
 */
export class Auditor {
  readonly #sums = new Map<string, Figures>();
  readonly #changed = new Set<string>();
  readonly #faults: AuditFault[] = [];
  #faultsTold = 0;
  #entries = 0;
  #postings = 0;

  /** Adds one line of the journal. */
  add(text: string): void {
    const entry = JSON.parse(text) as { number?: unknown; postings?: unknown };
    this.#entries += 1;
    const number = Number(entry.number);
    if (number !== this.#entries) {
      this.#faults.push({
        entry: this.#entries,
        what: `the entry says that it is number ${number}`,
      });
    }
    if (!Array.isArray(entry.postings)) {
      this.#faults.push({ entry: this.#entries, what: 'the entry has no list of postings' });
      return;
    }
    for (const posting of entry.postings) this.#post(posting as Record<string, unknown>);
  }

  /** What the lines so far add up to. */
  audit(): Audit {
    return {
      entries: this.#entries,
      postings: this.#postings,
      balances: [...this.#sums].map(([key, sum]) => auditedBalance(key, sum)),
      faults: [...this.#faults, ...this.#unbalanced()],
    };
  }

  /** The balances that the lines added since the last call have changed, and the faults they showed. */
  news(): { readonly balances: readonly AuditedBalance[]; readonly faults: readonly AuditFault[] } {
    const balances = [...this.#changed].map((key) =>
      auditedBalance(key, this.#sums.get(key) as Figures),
    );
    const faults = this.#faults.slice(this.#faultsTold);
    this.#changed.clear();
    this.#faultsTold = this.#faults.length;
    return { balances, faults };
  }

  #post(posting: Record<string, unknown>): void {
    this.#postings += 1;
    const figures = {
      pieces: this.#whole(posting, 'pieces'),
      gross: this.#whole(posting, 'grossMicrograms'),
      fine: this.#whole(posting, 'fineMicrograms'),
    };
    if (figures.fine > figures.gross)
      this.#fault(`${figures.fine} µg fine in ${figures.gross} µg gross`);
    this.#change(posting, 'from', {
      pieces: -figures.pieces,
      gross: -figures.gross,
      fine: -figures.fine,
    });
    this.#change(posting, 'to', figures);
  }

  #change(posting: Record<string, unknown>, end: 'from' | 'to', by: Figures): void {
    const place = String(posting[end]);
    if (!inside.test(place) && !outside.test(place)) this.#fault(`there is no place ${place}`);
    const { metal, pieceStandard, melt } = posting;
    const key = JSON.stringify([place, metal, pieceStandard, melt ?? '']);
    const before = this.#sums.get(key) ?? { pieces: 0n, gross: 0n, fine: 0n };
    const after = {
      pieces: before.pieces + by.pieces,
      gross: before.gross + by.gross,
      fine: before.fine + by.fine,
    };
    this.#sums.set(key, after);
    this.#changed.add(key);
    if (inside.test(place) && end === 'from' && after.pieces < 0n) {
      this.#fault(`${place} is left with ${after.pieces} pieces of ${pieceStandard}`);
    }
  }

  #whole(posting: Record<string, unknown>, field: string): bigint {
    const value = posting[field];
    if (typeof value === 'number' && Number.isSafeInteger(value) && value >= 0)
      return BigInt(value);
    this.#fault(`${field} is ${JSON.stringify(value)}, not a whole number of 0 or more`);
    return 0n;
  }

  #fault(what: string): void {
    this.#faults.push({ entry: this.#entries, what });
  }

  /** Metals whose sums over all places are not zero: none, unless the sums themselves are wrong. */
  #unbalanced(): readonly AuditFault[] {
    const totals = new Map<string, Figures>();
    for (const [key, sum] of this.#sums) {
      const metal = String((JSON.parse(key) as string[])[1]);
      const before = totals.get(metal) ?? { pieces: 0n, gross: 0n, fine: 0n };
      totals.set(metal, {
        pieces: before.pieces + sum.pieces,
        gross: before.gross + sum.gross,
        fine: before.fine + sum.fine,
      });
    }
    return [...totals]
      .filter(([, total]) => total.pieces !== 0n || total.gross !== 0n || total.fine !== 0n)
      .map(([metal, { pieces, gross, fine }]) => ({
        entry: null,
        what: `the postings of ${metal} add up to ${pieces} pieces, ${gross} µg gross, ${fine} µg fine`,
      }));
  }
}

const sumText = (row: AuditedBalance): string =>
  `${row.pieces} pieces, ${row.grossMicrograms} µg gross, ${row.fineMicrograms} µg fine`;

const rowKey = (row: AuditedBalance): string =>
  [row.place, row.metal, row.pieceStandard, row.melt].join(' / ');

/** Where the books do not say what the audit found; nothing when they agree to the microgram. */
export function compareWithBooks(
  audit: Audit,
  rows: readonly AuditedBalance[],
): readonly AuditFault[] {
  const audited = new Map(audit.balances.map((row) => [rowKey(row), sumText(row)]));
  const booked = new Map(rows.map((row) => [rowKey(row), sumText(row)]));
  const nothing = '0 pieces, 0 µg gross, 0 µg fine';
  return [...new Set([...audited.keys(), ...booked.keys()])].sort().flatMap((key) => {
    const found = audited.get(key) ?? nothing;
    const book = booked.get(key) ?? nothing;
    if (found === book) return [];
    return [{ entry: null, what: `${key}: the journal says ${found}; the books say ${book}` }];
  });
}

/** Audits a plant's account: every posting of the journal against the books, to the microgram. */
export async function auditAccount(reader: StoreReader, books: BookReader): Promise<Audit> {
  const auditor = new Auditor();
  for (let first = 1; ; first += 1000) {
    const lines = await reader.lines(first, first + 1000);
    for (const line of lines) auditor.add(line.text);
    if (lines.length < 1000) break;
  }
  const audit = auditor.audit();
  const rows = (await books.select(balances)).map((row) => ({
    place: row.place,
    metal: row.metal,
    pieceStandard: row.pieceStandard,
    melt: row.melt,
    pieces: String(row.pieces),
    grossMicrograms: String(row.grossMicrograms),
    fineMicrograms: String(row.fineMicrograms),
  }));
  return { ...audit, faults: [...audit.faults, ...compareWithBooks(audit, rows)] };
}
