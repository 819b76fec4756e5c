import { decimalOf } from '../../../../workbench/number-text.ts';
import { emptyReading, type ReadingDraft, readingOf } from '../../../../workbench/reading-draft.ts';
import { emptyRow, type ImpurityRow, impurityOf, isBlankRow } from '../../screens/impurity-rows.ts';
import type { GoverningEdition } from './governing-edition.ts';

export interface ReferenceDraft {
  readonly label: string;
  readonly referenceMaterial: string;
  readonly taken: ReadingDraft;
  /** Of a cupellation. */
  readonly cornet: ReadingDraft;
  /** Of a difference run. */
  readonly rows: readonly ImpurityRow[];
}

export interface BlankDraft {
  readonly label: string;
  readonly quantity: string;
  readonly unit: string;
  readonly value: string;
}

/** The controls of a run while they are entered. */
export interface ControlsDraft {
  readonly references: readonly ReferenceDraft[];
  readonly blanks: readonly BlankDraft[];
  /** One line for each reagent that the method asks for, and any more. */
  readonly lots: readonly { readonly reagent: string; readonly lot: string }[];
}

export const newReference = (place: number, rows: readonly ImpurityRow[]): ReferenceDraft => ({
  label: `RM${place}`,
  referenceMaterial: '',
  taken: emptyReading('mg'),
  cornet: emptyReading('mg'),
  rows: rows.length > 0 ? rows : Array.from({ length: 3 }, () => emptyRow),
});

export const newBlank = (place: number, asked: { quantity: string; unit: string }): BlankDraft => ({
  label: `BL${place}`,
  value: '',
  ...asked,
});

/** What the edition in force asks for, ready to be filled in; nothing where none is in force. */
export function firstControls(
  edition: GoverningEdition | null,
  rows: readonly ImpurityRow[] = [],
): ControlsDraft {
  const references = (edition?.referenceMaterials ?? []).reduce((sum, one) => sum + one.perRun, 0);
  return {
    references: Array.from({ length: references }, (_, index) => newReference(index + 1, rows)),
    blanks: (edition?.blanks ?? []).map(({ quantity, unit }, index) =>
      newBlank(index + 1, { quantity, unit }),
    ),
    lots: (edition?.reagents ?? []).map((reagent) => ({ reagent, lot: '' })),
  };
}

const isFilled = (reference: ReferenceDraft): boolean =>
  reference.referenceMaterial.trim() !== '' || reference.taken.text.trim() !== '';

/** Places in the draft of the references that are sent, so that a refusal finds its field. */
export const sentReferences = ({ references }: ControlsDraft): readonly number[] =>
  references.flatMap((reference, index) => (isFilled(reference) ? [index] : []));

export const sentBlanks = ({ blanks }: ControlsDraft): readonly number[] =>
  blanks.flatMap((blank, index) => (blank.value.trim() === '' ? [] : [index]));

/** Lots as they are sent: each once, empty lines left out. */
export const lotsSent = ({ lots }: ControlsDraft): readonly string[] => [
  ...new Set(lots.map(({ lot }) => lot.trim()).filter((lot) => lot !== '')),
];

/** The controls as the command of a run takes them. */
export function controlsInput(draft: ControlsDraft, method: 'cupellation' | 'difference') {
  const references = draft.references.filter(isFilled).map((one) => ({
    label: one.label,
    referenceMaterial: one.referenceMaterial.trim(),
    taken: readingOf(one.taken),
    ...(method === 'cupellation'
      ? { cornet: readingOf(one.cornet) }
      : { impurities: one.rows.filter((row) => !isBlankRow(row)).map(impurityOf) }),
  }));
  const blanks = draft.blanks
    .filter(({ value }) => value.trim() !== '')
    .map(({ label, quantity, unit, value }) => ({
      label,
      quantity: quantity.trim(),
      unit: unit.trim(),
      value: decimalOf(value),
    }));
  const reagentLots = [...lotsSent(draft)];
  return {
    ...(references.length > 0 ? { references } : {}),
    ...(blanks.length > 0 ? { blanks } : {}),
    ...(reagentLots.length > 0 ? { reagentLots } : {}),
  };
}
