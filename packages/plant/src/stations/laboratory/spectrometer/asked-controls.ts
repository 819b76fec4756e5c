import { isSignal, keptContent } from './content-unit.ts';
import type { ReadTable, RowRole } from './result-bodies.ts';

/** What the edition of a method asks of every run, as far as a result file can answer it. */
export interface EditionAsks {
  readonly referenceMaterials: readonly {
    readonly by: 'kind' | 'id';
    readonly name: string;
    readonly perRun: number;
  }[];
  readonly blanks: readonly {
    readonly quantity: string;
    readonly unit: string;
    readonly greatest: number;
  }[];
}

/** A control that is asked, and what of the file answers it. */
export interface AskedControl {
  readonly asked: string;
  /** Lines of the file. */
  readonly lines: readonly number[];
  readonly isAnswered: boolean;
  /** What is still wanted, or what was found. */
  readonly words: string;
}

interface Answers {
  readonly table: ReadTable;
  /** Id of the reference material that each sample of the file is said to be of. */
  readonly materials: Readonly<Record<string, string>>;
  /** Kinds of the reference materials of the plant, by id. */
  readonly kinds: ReadonlyMap<string, string>;
}

const linesOf = (table: ReadTable, isOf: (row: ReadTable['rows'][number]) => boolean) =>
  table.rows.filter(isOf).map(({ line }) => line);

function askedMaterial(
  asked: EditionAsks['referenceMaterials'][number],
  { table, materials, kinds }: Answers,
): AskedControl {
  const labels = Object.entries(materials)
    .filter(([, id]) => (asked.by === 'id' ? id : kinds.get(id)) === asked.name)
    .map(([label]) => label);
  const left = asked.perRun - labels.length;
  return {
    asked: `${asked.perRun} × reference material ${asked.name}`,
    lines: linesOf(table, ({ role, label }) => role === 'sample' && labels.includes(label)),
    isAnswered: left <= 0,
    words: left <= 0 ? labels.join(', ') : `say which sample is of it: ${left} more`,
  };
}

function askedBlank(
  { quantity, unit, greatest }: EditionAsks['blanks'][number],
  { table }: Answers,
): AskedControl {
  const at = table.elements.findIndex(({ element }) => element === quantity);
  const figure = table.elements[at];
  const lines = linesOf(
    table,
    ({ role, contents }) => role === 'blank' && (contents[at] ?? '') !== '',
  );
  const found = table.rows.flatMap(({ role, contents }) => {
    const kept =
      figure && role === 'blank' ? keptContent(contents[at] ?? '', figure.unit) : undefined;
    return kept?.found ?? [];
  });
  const mean = found.reduce((sum, one) => sum + one, 0) / found.length;
  const isRead = unit === 'mg/kg' && (found.length > 0 || (figure && isSignal(figure.unit)));
  const words =
    found.length > 0 ? `${Number(mean.toPrecision(3))} ${unit}` : 'found from its signals';
  return {
    asked: `a blank of ${quantity}, at most ${greatest} ${unit}`,
    lines,
    isAnswered: lines.length > 0 && isRead === true,
    words: lines.length > 0 && isRead ? words : 'no row of the file is a reagent blank of it',
  };
}

/** The drift standard must stand before the first sample and after the last. */
function askedDrift({ table }: Answers): readonly AskedControl[] {
  const samples = table.rows.flatMap(({ role }, index) => (role === 'sample' ? [index] : []));
  const [first = 0, last = 0] = [samples[0], samples.at(-1)];
  const drift = (isThere: (index: number) => boolean) =>
    table.rows.flatMap(({ role, line }, index) =>
      role === 'drift' && isThere(index) ? [line] : [],
    );
  const places = [
    ['the drift standard before the samples', drift((index) => index < first)],
    ['the drift standard after the samples', drift((index) => index > last)],
  ] as const;
  return places.map(([asked, lines]) => ({
    asked,
    lines,
    isAnswered: lines.length > 0,
    words: lines.length > 0 ? '' : 'no row of the file stands there as drift standard',
  }));
}

/** What the method asks of the run, each with the rows of the file that answer it. */
export function askedControls(asks: EditionAsks | null, answers: Answers): readonly AskedControl[] {
  return [
    ...(asks?.referenceMaterials ?? []).map((one) => askedMaterial(one, answers)),
    ...(asks?.blanks ?? []).map((one) => askedBlank(one, answers)),
    ...askedDrift(answers),
  ];
}

const roleWords: Readonly<Record<RowRole, string>> = {
  sample: 'sample',
  calibration: 'calibration standard',
  drift: 'drift standard',
  blank: 'reagent blank',
  limit: 'detection limits',
};

/** A row of the file as it is read, and which of the controls it answers. */
interface RowAnswers {
  readonly line: number;
  readonly label: string;
  readonly readAs: string;
  readonly answers: string;
}

/** Every row of the file with the controls that it answers. */
export function rowAnswers(
  table: ReadTable,
  asked: readonly AskedControl[],
): readonly RowAnswers[] {
  return table.rows.map(({ line, label, role }) => ({
    line,
    label,
    readAs: roleWords[role],
    answers: asked
      .filter(({ lines }) => lines.includes(line))
      .map((one) => one.asked)
      .join('; '),
  }));
}
