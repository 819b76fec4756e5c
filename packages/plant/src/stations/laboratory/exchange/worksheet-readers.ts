import type { Reading } from '../../../journal/reading.ts';
import type { Sheet, TableProblem } from '../../../tables/sheet.ts';
import type { SetAside } from './file-bodies.ts';
import { type FoundSheet, findSheet, WorksheetReader } from './read-worksheet.ts';

/** Where a row of the record stands in the file. */
interface SheetLine {
  readonly line: number;
  readonly label: string;
}

interface Taken {
  readonly rows: readonly SheetLine[];
  readonly leftOut: readonly { readonly line: number; readonly words: string }[];
}

interface BlankReadings {
  readonly blank: string;
  readonly mass: Reading;
  readonly diameter: Reading;
  readonly thickness: Reading;
}

interface ProofReadings {
  readonly label: string;
  readonly goldTaken: Reading;
  readonly cornet: Reading;
}

interface PortionReadings {
  readonly label: string;
  readonly blank: string;
  readonly sample: Reading;
  readonly cornet: Reading;
}

/** A worksheet read as a whole, or everything that is wrong with it. */
export type WorksheetRead =
  | ({ readonly worksheet: 'blanks'; readonly measurements: readonly BlankReadings[] } & Taken)
  | ({
      readonly worksheet: 'cupellation';
      readonly proofs: readonly ProofReadings[];
      readonly samples: readonly PortionReadings[];
    } & Taken)
  | { readonly worksheet: 'none'; readonly problems: readonly TableProblem[] };

const refused = (problems: readonly TableProblem[]): WorksheetRead => ({
  worksheet: 'none',
  problems: problems.toSorted((a, b) => a.line - b.line),
});

const blankNames = ['Blank', 'Mass', 'Diameter', 'Thickness'];
const cupellationNames = ['Kind', 'Label', 'Blank', 'Taken', 'Cornet'];

/** Reads a worksheet that came back, told by its headings, for that melt. */
export function readWorksheet(
  sheets: readonly Sheet[],
  melt: string,
  setAside: readonly SetAside[] = [],
): WorksheetRead {
  const blanks = findSheet(sheets, blankNames);
  if (blanks) return readBlanks(blanks, melt, setAside);
  const cupellation = findSheet(sheets, cupellationNames);
  if (cupellation) return readCupellation(cupellation, melt, setAside);
  const first = sheets[0]?.rows[0]?.cells.map(({ text }) => text).join(';') ?? '';
  const accepted = `the headings ${blankNames.join(', ')}, or ${cupellationNames.join(', ')}`;
  return refused([{ line: 1, column: 'header', value: first.slice(0, 200), accepted }]);
}

const nothingTaken = (what: string): TableProblem => ({
  line: 0,
  column: 'file',
  value: 'no row with readings',
  accepted: `at least one ${what} with its readings`,
});

function readBlanks(found: FoundSheet, melt: string, setAside: readonly SetAside[]): WorksheetRead {
  const reader = new WorksheetReader(found, setAside);
  const mass = reader.column('Mass', ['g', 'mg', 'kg']);
  const diameter = reader.column('Diameter', ['mm', 'µm']);
  const thickness = reader.column('Thickness', ['mm', 'µm']);
  const measurements: BlankReadings[] = [];
  const rows: SheetLine[] = [];
  for (const row of reader.rows([mass, diameter, thickness])) {
    reader.checkMelt(row, melt);
    const blank = reader.id(row, 'Blank');
    rows.push({ line: row.line, label: blank });
    measurements.push({
      blank,
      mass: reader.reading(row, mass),
      diameter: reader.reading(row, diameter),
      thickness: reader.reading(row, thickness),
    });
  }
  const { problems, leftOut } = reader;
  if (problems.length > 0) return refused(problems);
  if (rows.length === 0) return refused([nothingTaken('blank')]);
  return { worksheet: 'blanks', measurements, rows, leftOut };
}

function readCupellation(
  found: FoundSheet,
  melt: string,
  setAside: readonly SetAside[],
): WorksheetRead {
  const reader = new WorksheetReader(found, setAside);
  const taken = reader.column('Taken', ['mg', 'g']);
  const cornet = reader.column('Cornet', ['mg', 'g']);
  const proofs: (ProofReadings & { readonly line: number })[] = [];
  const samples: (PortionReadings & { readonly line: number })[] = [];
  for (const row of reader.rows([taken, cornet])) {
    reader.checkMelt(row, melt);
    const { line } = row;
    const label = reader.id(row, 'Label');
    const kind = reader.id(row, 'Kind').toLowerCase();
    const first = reader.reading(row, taken);
    const left = reader.reading(row, cornet);
    if (kind === 'proof') proofs.push({ line, label, goldTaken: first, cornet: left });
    else if (kind === 'portion') {
      samples.push({ line, label, blank: reader.id(row, 'Blank'), sample: first, cornet: left });
    } else reader.note(line, 'Kind', kind, 'proof or portion');
  }
  const { problems, leftOut } = reader;
  if (problems.length > 0) return refused(problems);
  if (samples.length === 0) return refused([nothingTaken('portion')]);
  const rows = [...proofs, ...samples].map(({ line, label }) => ({ line, label }));
  const withoutLine = <Row extends { readonly line: number }>({ line: _line, ...row }: Row) => row;
  return {
    worksheet: 'cupellation',
    proofs: proofs.map(withoutLine),
    samples: samples.map(withoutLine),
    rows,
    leftOut,
  };
}
