import { builtInFormat, type FormatMeaning, meaningOf } from './number-format.ts';
import { zipTexts } from './zip-entries.ts';

/** What the formats of a sheet make of its numbers, by row from 1 and place from 0. */
type SheetFormats = (line: number, place: number) => FormatMeaning;

const entities: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  quot: '"',
  apos: "'",
};

function plain(text: string): string {
  return text.replace(/&(#x[\da-f]+|#\d+|\w+);/gi, (whole, name: string) => {
    if (name.startsWith('#x')) return String.fromCodePoint(Number.parseInt(name.slice(2), 16));
    if (name.startsWith('#')) return String.fromCodePoint(Number(name.slice(1)));
    return entities[name] ?? whole;
  });
}

type Attributes = Readonly<Record<string, string>>;

/** The attributes of a tag, without the prefixes of their namespaces. */
function attributesOf(tag: string): Attributes {
  const found: Record<string, string> = {};
  for (const [, name = '', double, single] of tag.matchAll(
    /([\w:.-]+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g,
  )) {
    found[name.replace(/^.*:/, '')] = plain(double ?? single ?? '');
  }
  return found;
}

/** The attributes of every element of that name, in the order of the text. */
function* elements(text: string, name: string): Generator<Attributes> {
  for (const [, tag = ''] of text.matchAll(new RegExp(`<(?:\\w+:)?${name}\\b([^>]*)>`, 'g'))) {
    yield attributesOf(tag);
  }
}

/** What each style of the workbook makes of a number. */
function meaningsOf(styles: string): readonly FormatMeaning[] {
  const own = new Map<number, string>();
  for (const { numFmtId, formatCode } of elements(styles, 'numFmt')) {
    own.set(Number(numFmtId), formatCode ?? '');
  }
  const [, cellStyles = ''] =
    /<(?:\w+:)?cellXfs\b[^>]*>([\s\S]*?)<\/(?:\w+:)?cellXfs>/.exec(styles) ?? [];
  return [...elements(cellStyles, 'xf')].map(({ numFmtId = '0' }) => {
    const id = Number(numFmtId);
    return meaningOf(own.get(id) ?? builtInFormat(id));
  });
}

/** The place of a column by its letters, from 0. */
function placeOf(letters: string): number {
  let place = 0;
  for (const letter of letters) place = place * 26 + letter.charCodeAt(0) - 64;
  return place - 1;
}

/** The formats of one sheet; cells that keep their digits as they are held are left out. */
function formatsOf(sheet: string, meanings: readonly FormatMeaning[]): SheetFormats {
  const found = new Map<string, FormatMeaning>();
  let line = 0;
  let place = -1;
  for (const [, name, tag = ''] of sheet.matchAll(/<(?:\w+:)?(row|c)\b([^>]*)>/g)) {
    const { r, s = '0' } = attributesOf(tag);
    if (name === 'row') {
      line = r === undefined ? line + 1 : Number(r);
      place = -1;
      continue;
    }
    const [, letters] = /^([A-Z]+)\d+$/.exec(r ?? '') ?? [];
    place = letters === undefined ? place + 1 : placeOf(letters);
    const meaning = meanings[Number(s)] ?? 'as held';
    if (meaning !== 'as held') found.set(`${line} ${place}`, meaning);
  }
  return (at, column) => found.get(`${at} ${column}`) ?? 'as held';
}

const workbookPath = 'xl/workbook.xml';
const relationsPath = 'xl/_rels/workbook.xml.rels';
const stylesPath = 'xl/styles.xml';

/** Where the parts of a workbook stand in its archive: paths are relative to its own folder, or whole. */
const pathOf = (target: string): string =>
  target.startsWith('/') ? target.slice(1) : `xl/${target.replace(/^\.\//, '')}`;

/**
 * What the number formats of a workbook (ECMA-376) make of the numbers in its cells, by the name of
 * the sheet. Throws where the archive is not one of a workbook.
 */
export function formatsOfWorkbook(bytes: Uint8Array): ReadonlyMap<string, SheetFormats> {
  const texts = zipTexts(
    bytes,
    (name) =>
      [workbookPath, relationsPath, stylesPath].includes(name) ||
      /^xl\/worksheets\/[^/]+\.xml$/.test(name),
  );
  const [workbook, relations] = [texts.get(workbookPath), texts.get(relationsPath)];
  if (workbook === undefined || relations === undefined) throw new RangeError('no workbook');
  const meanings = meaningsOf(texts.get(stylesPath) ?? '');
  const targets = new Map<string, string>();
  for (const { Id = '', Target = '' } of elements(relations, 'Relationship')) {
    targets.set(Id, pathOf(Target));
  }
  const formats = new Map<string, SheetFormats>();
  for (const { name = '', id = '' } of elements(workbook, 'sheet')) {
    const sheet = texts.get(targets.get(id) ?? '');
    if (sheet !== undefined) formats.set(name, formatsOf(sheet, meanings));
  }
  return formats;
}
