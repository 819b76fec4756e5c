import { folded } from '../../../tables/number-form.ts';
import { figureUnitNamed, withoutUnit } from './content-unit.ts';

/** Elements that are sought in fine metal; symbols that read as words in a header, such as No, are none of them. */
const symbols = new Set(
  (
    'Li Be B C N O F Na Mg Al Si P S Cl K Ca Sc Ti V Cr Mn Fe Co Ni Cu Zn Ga Ge As Se Br Rb Sr Y Zr Nb ' +
    'Mo Ru Rh Pd Ag Cd In Sn Sb Te I Cs Ba La Ce Pr Nd Sm Eu Gd Tb Dy Ho Er Tm Yb Lu Hf Ta W Re Os Ir ' +
    'Pt Au Hg Tl Pb Bi Th U'
  ).split(' '),
);

/** Names in English, German, French, Italian, Spanish and Portuguese, without accents. */
const names: Readonly<Record<string, string>> = {
  Ag: 'silver silber argent argento plata prata',
  Al: 'aluminium aluminum alluminio aluminio',
  As: 'arsenic arsen arsenico arsenio',
  Au: 'gold or oro ouro',
  Bi: 'bismuth wismut bismut bismuto',
  Ca: 'calcium kalzium calcio',
  Cd: 'cadmium kadmium cadmio',
  Co: 'cobalt kobalt cobalto',
  Cr: 'chromium chrom chrome cromo',
  Cu: 'copper kupfer cuivre rame cobre',
  Fe: 'iron eisen fer ferro hierro',
  Ge: 'germanium germanio',
  Hg: 'mercury quecksilber mercure mercurio',
  In: 'indium indio',
  Ir: 'iridium iridio',
  Mg: 'magnesium magnesio',
  Mn: 'manganese mangan manganese manganeso manganes',
  Ni: 'nickel nichel niquel',
  Os: 'osmium osmio',
  P: 'phosphorus phosphor phosphore fosforo',
  Pb: 'lead blei plomb piombo plomo chumbo',
  Pd: 'palladium palladio paladio',
  Pt: 'platinum platin platine platino platina',
  Rh: 'rhodium rodio',
  Ru: 'ruthenium rutenio',
  S: 'sulfur sulphur schwefel soufre zolfo azufre enxofre',
  Sb: 'antimony antimon antimoine antimonio',
  Se: 'selenium selen selenio',
  Si: 'silicon silizium silicium silicio',
  Sn: 'tin zinn etain stagno estano estanho',
  Te: 'tellurium tellur tellure tellurio telurio',
  Ti: 'titanium titan titane titanio',
  Tl: 'thallium tallio talio',
  Zn: 'zinc zink zinco cinc',
};

const symbolOfName = new Map(
  Object.entries(names).flatMap(([symbol, words]) =>
    words.split(' ').map((word) => [word, symbol] as const),
  ),
);

/** A symbol with nothing beside it but mass number, wavelength, order of the line, and a number by the reader. */
const lineForm =
  /^(?:\d{1,3} ?)?(?<symbol>[A-Za-z]{1,2})(?:[ _-]?(?<line>\d+)(?:[.,]\d+)?)?(?: ?nm)?(?: I{1,2})?(?: \(\d\))?$/;

/** B1 is the label of a solution and B249 a line of boron; Cu63 is an isotope. */
const isLine = (symbol: string, line: string | undefined): boolean =>
  line === undefined || line.length >= (symbol.length === 1 ? 3 : 2);

/** The symbol as it is written: Cu, or CU where all is in capitals. */
function symbolOf(written: string): string | undefined {
  if (symbols.has(written)) return written;
  const first = written.slice(0, 1);
  const proper = first + written.slice(1).toLowerCase();
  return written.length === 2 && written === written.toUpperCase() && symbols.has(proper)
    ? proper
    : undefined;
}

/** The element that a header or cell names, as "Cu", "Cu 324.754 (mg/kg)", "63Cu" or "Kupfer". */
export function elementNamed(text: string): string | undefined {
  const bare = withoutUnit(text);
  const { symbol: written = '', line } = lineForm.exec(bare)?.groups ?? {};
  const symbol = isLine(written, line) ? symbolOf(written) : undefined;
  if (symbol !== undefined) return symbol;
  const [word = ''] = folded(bare).split(/[^a-z]+/);
  const byName = symbolOfName.get(word);
  // A name may have a line beside it, and no other words.
  return byName !== undefined && /^[^a-z]*$/.test(folded(bare).slice(word.length).replace('nm', ''))
    ? byName
    : undefined;
}

/** Words by which the columns of a table of results are known, without accents. */
const columnWords = {
  limit:
    'lod dl mdl ld nwg nachweisgrenze nachweisgr bestimmungsgrenze limit limite detection rilevabilita deteccion deteccao',
  unit: 'unit units einheit einheiten unite unites unita unidad unidade',
  role: 'type typ art tipo class klasse role rolle',
  element:
    'element elemente elem elements elemento elementi elementos analyte analyt analito analita',
  content:
    'content contents concentration conc konz konzentration value result intensity intensities intensitat intensitaten intensite intensites intensita intensidad intensidade signal signals signale segnale senal sinal counts cps gehalt wert messwert ergebnis resultat teneur valeur tenore concentrazione valore risultato contenido concentracion valor resultado teor concentracao',
  label:
    'sample samples solution probe proben probenname loesung losung echantillon campione campioni muestra amostra label labels name bezeichnung id ident nom nome nombre soluzione solucion solucao',
} as const;

export type ColumnKind = keyof typeof columnWords;

const kinds = Object.entries(columnWords).map(
  ([kind, words]) => [kind as ColumnKind, new Set(words.split(' '))] as const,
);

const wordsIn = (text: string): readonly string[] =>
  folded(text)
    .split(/[^a-z]+/)
    .filter((word) => word !== '');

/** What a column of that name holds, by its words; nothing where none is known or it names an element. */
export function columnKindNamed(header: string): ColumnKind | undefined {
  if (elementNamed(header) !== undefined) return undefined;
  const inText = wordsIn(header);
  return kinds.find(([, known]) => inText.some((word) => known.has(word)))?.[0];
}

const statistics = new Set(
  'mean average avg mittel mittelwert mw moyenne moy media med promedio prom sd stdev stddev stdabw stabw rsd cv ecart deviazione desviacion desvio min max'.split(
    ' ',
  ),
);

/** True for the words of a row that the instrument reckoned from others: Mean, SD, RSD, Mittelwert. */
export function isStatistic(text: string): boolean {
  const inText = wordsIn(text);
  return (
    inText.some((word) => statistics.has(word)) || /\bstd\.?[ _-]?(dev|abw)/.test(folded(text))
  );
}

/** True for the label of a row that states detection limits. */
export function isLimitLabel(text: string): boolean {
  return columnKindNamed(text) === 'limit';
}

/** True for a row that says nothing but the units of its columns. */
export function isUnitRow(texts: readonly string[]): boolean {
  const filled = texts.filter((text) => text !== '');
  const units = filled.filter((text) => figureUnitNamed(text) !== undefined && !/\d/.test(text));
  const others = filled.filter((text) => !units.includes(text));
  return units.length > 0 && others.every((text) => columnKindNamed(text) === 'unit');
}
