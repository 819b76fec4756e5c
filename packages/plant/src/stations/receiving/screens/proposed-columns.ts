import type { PackingListColumns } from '../bodies.ts';

/** Words by which columns are known, in the languages in which lists often come. */
const known: Readonly<Record<keyof PackingListColumns, RegExp>> = {
  drum: /drum|container|f(a|ä)ss|gebinde|f(û|u)t|bidon|tambor/i,
  melt: /melt|heat|charge|schmelz|coul(é|e)e|colada|lot/i,
  pieces: /piece|pcs|count|st(ü|u)ck|anzahl|pi(è|e)ce|piezas|qty|quantity/i,
  gross: /gross|brutto|brut\b|bruto/i,
  tare: /tare|tara/i,
  seal: /seal|plombe|siegel|scell|precinto/i,
  supplierFinenessPerMille: /fine|assay|feingehalt|titre|ley|‰/i,
};

function separatorOf(header: string): string {
  return [';', '\t', ','].find((one) => header.includes(one)) ?? ';';
}

/** A cell without its quotes and without a byte order mark before it. */
function bare(cell: string): string {
  return cell
    .trim()
    .replace(/^\uFEFF/, '')
    .replace(/^"|"$/g, '');
}

/** The names in the header of a list. */
export function columnNames(text: string): readonly string[] {
  const [header = ''] = text.split(/\r?\n/, 1);
  return header
    .split(separatorOf(header))
    .map(bare)
    .filter((name) => name !== '');
}

/** A first guess at what the columns mean; names that were kept and stand in the header go first. */
export function proposedColumns(text: string, kept?: PackingListColumns): PackingListColumns {
  const names = columnNames(text);
  const guess = (field: keyof PackingListColumns): string | null => {
    const before = kept?.[field];
    if (before && names.includes(before)) return before;
    return names.find((name) => known[field].test(name)) ?? null;
  };
  return {
    drum: guess('drum') ?? '',
    melt: guess('melt') ?? '',
    pieces: guess('pieces') ?? '',
    gross: guess('gross') ?? '',
    tare: guess('tare') ?? '',
    seal: guess('seal') ?? '',
    supplierFinenessPerMille: guess('supplierFinenessPerMille'),
  };
}

/** The cells of the first row under the header, by the names of their columns. */
export function firstCells(text: string): ReadonlyMap<string, string> {
  const [header = '', row = ''] = text.split(/\r?\n/, 2);
  const separator = separatorOf(header);
  const cells = row.split(separator).map(bare);
  return new Map(header.split(separator).map((name, index) => [bare(name), cells[index] ?? '']));
}

/** How the list writes its masses, as far as header and first row show it. */
export function proposedForm(
  text: string,
  columns: PackingListColumns,
): { readonly massUnit: 'kg' | 'g'; readonly decimalMark: 'point' | 'comma' } {
  const cells = firstCells(text);
  const masses = [columns.gross, columns.tare].map((name) => cells.get(name) ?? '');
  const isKilograms = /\bkg\b/i.test(columns.gross);
  const isGrams = !isKilograms && /\b(g|gram(s|me)?|gramm)\b/i.test(columns.gross);
  return {
    massUnit: isGrams ? 'g' : 'kg',
    decimalMark: masses.some((mass) => mass.includes(',')) ? 'comma' : 'point',
  };
}

/** Columns that a list must have and that no name in the header was found for. */
export function missingColumns(columns: PackingListColumns): readonly string[] {
  return Object.entries(columns)
    .filter(([, name]) => name === '')
    .map(([field]) => field);
}
