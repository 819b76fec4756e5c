import { folded } from '../../../tables/number-form.ts';

/** What a column of a packing list can say. */
export const listFields = [
  'drum',
  'melt',
  'pieces',
  'gross',
  'tare',
  'net',
  'seal',
  'fineness',
] as const;
export type ListField = (typeof listFields)[number];

/** Words of at least so many letters may begin a longer one, as in Bruttogewicht. */
const leastBeginning = 4;

/**
 * The words by which columns are known in English, German, French, Italian, Spanish and Portuguese,
 * without accents. Where two fields are named, as in "drum seal", the one that stands first here is meant.
 */
const words: readonly (readonly [ListField, readonly string[]])[] = [
  [
    'fineness',
    'fineness fine purity assay feingehalt feinheit feinh titre finesse titolo finezza ley pureza fineza titulo toque teor'.split(
      ' ',
    ),
  ],
  [
    'seal',
    'seal seals plombe plomben siegel verschluss scelle scelles plomb plombs sigillo sigilli piombo precinto sello sellos selo selos lacre'.split(
      ' ',
    ),
  ],
  ['tare', 'tare tara empty leer leergewicht vide vuoto vacio vazio'.split(' ')],
  ['net', 'net netto neto nette nett liquido liquide'.split(' ')],
  ['gross', 'gross brutto brut brute lordo bruto bto'.split(' ')],
  [
    'pieces',
    'pieces piece pcs pc pce qty quantity blanks count stuck stueck stk anzahl menge ronden platinen nombre quantite qte nb flans pezzi pz quantita qta tondelli piezas pzas cantidad unidades uds cospeles pecas pcas quantidade qtd qtde discos'.split(
      ' ',
    ),
  ],
  [
    'melt',
    'melt heat cast batch lot lots schmelze schmelz charge guss los coulee fonte fusion colata fusione lotto colada fundicion hornada lote fusao corrida vazamento'.split(
      ' ',
    ),
  ],
  [
    'drum',
    'drum barrel keg container cask fass faesser trommel gebinde behalter fut futs tambour bidon conteneur fusto fusti tamburo contenitore tambor barril contenedor barrica recipiente contentor'.split(
      ' ',
    ),
  ],
];

function wordsIn(text: string): readonly string[] {
  return folded(text)
    .split(/[^a-z]+/)
    .filter((word) => word !== '');
}

function isNamed(inText: readonly string[], known: readonly string[]): boolean {
  return inText.some((word) =>
    known.some((name) => word === name || (name.length >= leastBeginning && word.startsWith(name))),
  );
}

/** What a column of that name says, by its words; nothing when none is known. */
export function fieldNamed(header: string): ListField | undefined {
  const inText = wordsIn(header);
  const named = words.find(([, known]) => isNamed(inText, known))?.[0];
  return named ?? (header.includes('‰') ? 'fineness' : undefined);
}

const sums = new Set(
  'total totals totaux totale totali totais sum sums summe summen gesamt gesamtsumme insgesamt somme somma suma soma subtotal zwischensumme subtotale'.split(
    ' ',
  ),
);

/** True for the words that stand before a sum: Total, Gesamt, Sous-total, Σ. */
export function isSumWord(text: string): boolean {
  const [first = '', second = ''] = wordsIn(text);
  return (
    sums.has(first) ||
    (sums.has(second) && ['grand', 'sous', 'sub'].includes(first)) ||
    /^[Σ∑]/u.test(text)
  );
}

/** The melt that a line of its own names, as "Melt no. M-12" or "Schmelze: 4711"; nothing for other texts. */
export function meltOfHeading(text: string): string | undefined {
  const match =
    /^(?<word>\p{L}+)\s*(?:(?:no|nr|num|number|nummer|numero|núm|nº|n°|n)\b\.?|nº|n°|#)?\s*[:.=#-]?\s*(?<id>[A-Za-z0-9][A-Za-z0-9._-]*\d[A-Za-z0-9._-]*)$/iu.exec(
      text,
    );
  const { word = '', id } = match?.groups ?? {};
  return id !== undefined && fieldNamed(word) === 'melt' ? id : undefined;
}
