import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { parse } from 'csv-parse/sync';

/** A file by its name, with its bytes. */
interface NamedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** Where Debian puts it; the test command names it where it stands elsewhere. */
function program(): string {
  const path = process.env['CUPEL_LIBREOFFICE'] ?? '/usr/bin/soffice';
  if (existsSync(path)) return path;
  throw new Error(
    `${path} is not there: these tests need LibreOffice Calc. Install it (Debian: apt-get install --no-install-recommends libreoffice-calc-nogui) or name one with CUPEL_LIBREOFFICE.`,
  );
}

/** A LibreOffice with a profile of its own; `end` takes away what it left. */
export function startLibreOffice() {
  const folder = mkdtempSync(join(tmpdir(), 'cupel-office-'));
  const profile = pathToFileURL(join(folder, 'profile')).href;
  let runs = 0;
  return {
    /** Opens files and saves each in another format; answers the saved ones in the same order. */
    convert(
      files: readonly NamedFile[],
      to: { readonly filter: string; readonly ending: string; readonly infilter?: string },
    ): readonly Uint8Array[] {
      runs += 1;
      const [from, into] = [join(folder, `from-${runs}`), join(folder, `into-${runs}`)];
      mkdirSync(from);
      const paths = files.map(({ name, bytes }) => {
        const path = join(from, name);
        writeFileSync(path, bytes);
        return path;
      });
      const args = [
        '--headless',
        `-env:UserInstallation=${profile}`,
        ...(to.infilter === undefined ? [] : [`--infilter=${to.infilter}`]),
        '--convert-to',
        to.filter,
        '--outdir',
        into,
        ...paths,
      ];
      execFileSync(program(), args, { stdio: 'ignore', timeout: 120_000 });
      return paths.map((path) => {
        const saved = basename(path).replace(/\.[^.]+$/, `.${to.ending}`);
        return new Uint8Array(readFileSync(join(into, saved)));
      });
    },
    end: () => rmSync(folder, { recursive: true, force: true }),
  };
}

export type LibreOffice = ReturnType<typeof startLibreOffice>;

/** A cell as LibreOffice holds it: whether it is text, and what it says. */
interface OpenedCell {
  readonly isText: boolean;
  readonly text: string;
}

/** Commas, UTF-8, text in quotes; numbers in full, or as their cells show them. */
const inFull = 'csv:Text - txt - csv (StarCalc):44,34,76,1,,0,true,true,false';
const asShown = 'csv:Text - txt - csv (StarCalc):44,34,76,1,,0,true,true,true';

/** How LibreOffice must be told that text is parted by semicolons, with the comma as decimal sign. */
export const semicolons = 'CSV:59,34,76,1,,1031';
export const commas = 'CSV:44,34,76,1,,1033';

/** The rows of a text, each cell with whether it stands in quotes. */
function cellsIn(bytes: Uint8Array): readonly (readonly OpenedCell[])[] {
  return parse(Buffer.from(bytes), {
    bom: true,
    relax_column_count: true,
    cast: (text, { quoting }) => ({ isText: quoting, text }),
  }) as unknown as OpenedCell[][];
}

/** Every cell of files as LibreOffice holds it when it has opened them. */
export function opened(
  office: LibreOffice,
  files: readonly NamedFile[],
  infilter?: string,
): readonly (readonly (readonly OpenedCell[])[])[] {
  const how = infilter === undefined ? {} : { infilter };
  return office.convert(files, { filter: inFull, ending: 'csv', ...how }).map(cellsIn);
}

/** The cells as they are shown, numbers with their own format. */
export function shownCells(office: LibreOffice, file: NamedFile): readonly (readonly string[])[] {
  const [bytes = new Uint8Array()] = office.convert([file], { filter: asShown, ending: 'csv' });
  return cellsIn(bytes).map((row) => row.map(({ text }) => text));
}

const saveAsWorkbook = { filter: 'xlsx:Calc MS Excel 2007 XML', ending: 'xlsx' };

/** The same table saved as a workbook by LibreOffice. */
export function savedAsWorkbook(
  office: LibreOffice,
  file: NamedFile,
  infilter: string,
): Uint8Array {
  const [bytes = new Uint8Array()] = office.convert([file], { ...saveAsWorkbook, infilter });
  return bytes;
}

/** A workbook opened by LibreOffice and saved again as it stands. */
export function savedAgain(office: LibreOffice, file: NamedFile): Uint8Array {
  const [bytes = new Uint8Array()] = office.convert([file], saveAsWorkbook);
  return bytes;
}

const cellTag = /<table:table-cell\b([^>]*?)(?:\/>|>([\s\S]*?)<\/table:table-cell>)/g;
const named = (tag: string, name: string): string | undefined =>
  new RegExp(` table:${name}="([^"]*)"`).exec(tag)?.[1];
const times = (tag: string): number => Number(named(tag, 'number-columns-repeated') ?? 1);

/** The styles of a page by which a cell holds text, whatever is typed into it. */
function textStyles(page: string): ReadonlySet<string | undefined> {
  const formats = [...page.matchAll(/<number:text-style style:name="(\w+)"/g)].map(
    ([, one]) => one,
  );
  return new Set(
    [...page.matchAll(/<style:style style:name="(\w+)"[^>]*style:data-style-name="(\w+)"/g)]
      .filter(([, , format]) => formats.includes(format))
      .map(([, name]) => name),
  );
}

/** The columns of a page, each by the style of its cells; no more than a table of ours can have. */
const columnStyles = (page: string): readonly (string | undefined)[] =>
  [...page.matchAll(/<table:table-column\b([^>]*)\/>/g)]
    .flatMap(([, tag = '']) =>
      Array.from({ length: Math.min(30, times(tag)) }, () => named(tag, 'default-cell-style-name')),
    )
    .slice(0, 30);

/**
 * A workbook with texts written, in the order of reading, into the empty cells that LibreOffice formats
 * as text: there it takes what is typed as it was typed. Saved as a workbook again.
 */
export function typedIntoTextCells(
  office: LibreOffice,
  file: NamedFile,
  texts: readonly string[],
): Uint8Array {
  const flat = { filter: 'fods:OpenDocument Spreadsheet Flat XML', ending: 'fods' };
  const page = new TextDecoder().decode(office.convert([file], flat)[0]);
  const [isText, columns] = [textStyles(page), columnStyles(page)];
  let typed = 0;
  const filledRow = (row: string): string => {
    let place = 0;
    return row.replace(cellTag, (whole, tag: string, content?: string) => {
      const own = columns.slice(place, place + times(tag));
      place += times(tag);
      if (content !== undefined) return whole;
      return own
        .map((column) => {
          const style = named(tag, 'style-name') ?? column;
          if (!isText.has(style)) return '<table:table-cell/>';
          typed += 1;
          return `<table:table-cell table:style-name="${style}" office:value-type="string"><text:p>${texts[typed - 1]}</text:p></table:table-cell>`;
        })
        .join('');
    });
  };
  const [heads = '', ...rows] = page.split('</table:table-row>');
  const filled = [heads, ...rows.map(filledRow)].join('</table:table-row>');
  if (typed !== texts.length) throw new Error(`${typed} cells take text, not ${texts.length}`);
  return savedAgain(office, { name: 'typed.fods', bytes: new TextEncoder().encode(filled) });
}
