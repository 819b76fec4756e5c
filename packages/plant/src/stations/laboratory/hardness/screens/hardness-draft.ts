import {
  decimalOf,
  emptyReading,
  type ReadingDraft,
  readingOf,
} from '../../../../workbench/index.ts';
import type { Window } from '../../examination/screens/examination-answer.ts';
import { noOrder, type OrderDraft, orderInput } from '../../examination/screens/ordered-limits.tsx';

/** An indentation while its diagonals are read. */
export interface IndentationDraft {
  readonly label: string;
  readonly first: ReadingDraft;
  readonly second: ReadingDraft;
  readonly edgeDistance: ReadingDraft;
  readonly neighbourDistance: ReadingDraft;
}

/** A hardness while it is measured. */
export interface HardnessDraft {
  readonly blank: string;
  readonly force: string;
  readonly spacingGroup: 'steel and copper alloys' | 'light metals, lead and tin';
  readonly forceUncertainty: string;
  readonly diagonalUncertainty: string;
  readonly indentations: readonly IndentationDraft[];
  readonly order: OrderDraft;
}

export const newIndentation = (count: number): IndentationDraft => ({
  label: String(count + 1),
  first: emptyReading('µm'),
  second: emptyReading('µm'),
  edgeDistance: emptyReading('mm'),
  neighbourDistance: emptyReading('mm'),
});

export const firstHardness: HardnessDraft = {
  blank: '',
  force: '4.903',
  spacingGroup: 'light metals, lead and tin',
  forceUncertainty: '0.5',
  diagonalUncertainty: '0.5',
  indentations: [newIndentation(0), newIndentation(1), newIndentation(2)],
  order: noOrder,
};

export const isRead = ({ first, second }: IndentationDraft): boolean =>
  first.text.trim() !== '' && second.text.trim() !== '';

const millimetresOf = (draft: ReadingDraft): number | undefined => {
  const value = Number(readingOf(draft)?.text ?? Number.NaN);
  if (!Number.isFinite(value)) return undefined;
  return draft.unit === 'mm' ? value : value / 1000;
};

/** The input of the calculation as far as the sheet is filled; nothing while it lacks a figure. */
export function hardnessPreview(draft: HardnessDraft, limits: Window, thickness: number | null) {
  const [force, forceError, diagonalError] = [
    decimalOf(draft.force),
    decimalOf(draft.forceUncertainty),
    decimalOf(draft.diagonalUncertainty),
  ];
  const read = draft.indentations.filter(isRead).flatMap((one) => {
    const [first, second] = [millimetresOf(one.first), millimetresOf(one.second)];
    if (first === undefined || second === undefined) return [];
    const edge = millimetresOf(one.edgeDistance);
    const neighbour = millimetresOf(one.neighbourDistance);
    return {
      label: one.label,
      firstDiagonalMillimetres: first,
      secondDiagonalMillimetres: second,
      ...(edge === undefined ? {} : { edgeDistanceMillimetres: edge }),
      ...(neighbour === undefined ? {} : { neighbourDistanceMillimetres: neighbour }),
    };
  });
  if (read.length === 0 || typeof force !== 'number') return undefined;
  if (typeof forceError !== 'number' || typeof diagonalError !== 'number') return undefined;
  return {
    testForceNewtons: force,
    spacingGroup: draft.spacingGroup,
    forceRelativeStandardUncertaintyPercent: forceError,
    diagonalStandardUncertaintyMillimetres: diagonalError / 1000,
    indentations: read,
    ...(thickness === null ? {} : { thicknessMillimetres: thickness }),
    ...(limits.least === null ? {} : { lowerLimitHardness: limits.least }),
    ...(limits.greatest === null ? {} : { upperLimitHardness: limits.greatest }),
  };
}

/** The hardness as the command takes it. */
export function hardnessInputOf(
  draft: HardnessDraft,
  given: { readonly melt: string; readonly instrument: string; readonly window: Window | null },
) {
  const distance = (name: 'edgeDistance' | 'neighbourDistance', one: IndentationDraft) => {
    const reading = readingOf(one[name]);
    return reading ? { [name]: reading } : {};
  };
  return {
    melt: given.melt,
    blank: draft.blank,
    instrument: given.instrument,
    testForceNewtons: decimalOf(draft.force),
    spacingGroup: draft.spacingGroup,
    forceRelativeStandardUncertaintyPercent: decimalOf(draft.forceUncertainty),
    diagonalStandardUncertaintyMicrometres: decimalOf(draft.diagonalUncertainty),
    indentations: draft.indentations.filter(isRead).map((one) => ({
      label: one.label,
      first: readingOf(one.first),
      second: readingOf(one.second),
      ...distance('edgeDistance', one),
      ...distance('neighbourDistance', one),
    })),
    ...orderInput(draft.order, given.window),
  };
}

/** What is still missing, in a sentence; nothing once the hardness can be recorded. */
export function hardnessNotYet(draft: HardnessDraft): string | undefined {
  if (draft.blank === '') return 'Choose the blank.';
  return draft.indentations.some(isRead) ? undefined : 'Read both diagonals of an indentation.';
}
