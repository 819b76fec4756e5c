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

/** The names in the header of a list. */
export function columnNames(text: string): readonly string[] {
  const [header = ''] = text.split(/\r?\n/, 1);
  const separator = [';', '\t', ','].find((one) => header.includes(one)) ?? ';';
  return header
    .split(separator)
    .map((name) =>
      name
        .trim()
        .replace(/^"|"$/g, '')
        .replace(/^\uFEFF/, ''),
    )
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
