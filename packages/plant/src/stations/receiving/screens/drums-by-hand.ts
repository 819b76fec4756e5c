import type { PackingListColumns } from '../bodies.ts';

/** A drum as it is typed off the supplier's document, each field as it stands there. */
export interface HandDrum {
  readonly drum: string;
  readonly melt: string;
  readonly pieces: string;
  readonly gross: string;
  readonly tare: string;
  readonly seal: string;
  readonly fineness: string;
}

/** The fields of a drum in the order of the hands, with their labels. */
export const handFields = [
  ['drum', 'Drum'],
  ['melt', 'Melt'],
  ['pieces', 'Pieces'],
  ['gross', 'Gross'],
  ['tare', 'Tare'],
  ['seal', 'Seal'],
  ['fineness', 'Fineness, ‰'],
] as const;

/** What the fields are called in the list that is made of them. */
export const handColumns: PackingListColumns = {
  drum: 'Drum',
  melt: 'Melt',
  pieces: 'Pieces',
  gross: 'Gross',
  tare: 'Tare',
  seal: 'Seal',
  supplierFinenessPerMille: 'Fineness, ‰',
};

/** A new drum; as the one before it, it is of the same melt, and drums of one kind weigh the same. */
export function nextDrum(before: HandDrum | undefined): HandDrum {
  const { melt = '', tare = '', fineness = '' } = before ?? {};
  return { drum: '', melt, pieces: '', gross: '', tare, seal: '', fineness };
}

function isUntouched({ drum, pieces, gross, seal }: HandDrum): boolean {
  return [drum, pieces, gross, seal].every((text) => text.trim() === '');
}

/** The rows with an empty one at the end, so that the next drum always has a row that waits for it. */
export function withRowToFill(drums: readonly HandDrum[]): readonly HandDrum[] {
  const last = drums.at(-1);
  return last && isUntouched(last) ? drums : [...drums, nextDrum(last)];
}

/**
 * Why a code cannot stand where it was scanned or typed; nothing where it can. A drum and a seal come
 * once, and the label of a drum is no seal.
 */
export function codeProblem(
  drums: readonly HandDrum[],
  at: { readonly index: number; readonly field: 'drum' | 'seal' },
): string | undefined {
  const code = drums[at.index]?.[at.field].trim() ?? '';
  if (code === '') return undefined;
  const same = drums.findIndex(
    (drum, index) => index !== at.index && drum[at.field].trim() === code,
  );
  if (same >= 0) return `${code} stands in row ${same + 1} too.`;
  const other = at.field === 'seal' ? 'drum' : 'seal';
  const mixed = drums.findIndex((drum) => drum[other].trim() === code);
  return mixed < 0 ? undefined : `${code} is the ${other} of row ${mixed + 1}.`;
}

/** The drums of which something was typed, with their places among all rows, the first being 1. */
export function typedDrums(
  drums: readonly HandDrum[],
): readonly { readonly row: number; readonly drum: HandDrum }[] {
  return drums
    .map((drum, index) => ({ row: index + 1, drum }))
    .filter(({ drum }) => !isUntouched(drum));
}

const quoted = (text: string): string => `"${text.trim().replaceAll('"', '""')}"`;

/** A decimal comma as a point; anything else stays as typed and is refused by name. */
const pointed = (text: string): string =>
  /^\d+,\d+$/.test(text.trim()) ? text.trim().replace(',', '.') : text;

/** The same drums as a packing list, so that one reader judges both ways. */
export function handList(drums: readonly HandDrum[]): string {
  const typed = typedDrums(drums);
  if (typed.length === 0) return '';
  const header = handFields.map(([, label]) => quoted(label)).join(';');
  const rows = typed.map(({ drum }) =>
    handFields.map(([field]) => quoted(pointed(drum[field]))).join(';'),
  );
  return [header, ...rows].join('\n');
}

/** The row on the screen of a line of that list. */
export function rowOfLine(drums: readonly HandDrum[], line: number): number {
  return typedDrums(drums)[line - 2]?.row ?? 0;
}
