import { decimalOf } from '../../../workbench/number-text.ts';

/** One element of a solution while it is typed. */
export interface ImpurityRow {
  readonly element: string;
  /** A content in mg/kg, or `<` for an element that was not found. */
  readonly content: string;
  readonly uncertainty: string;
  readonly limit: string;
}

export const emptyRow: ImpurityRow = { element: '', content: '', uncertainty: '', limit: '' };

/** A number for the command; an empty field stays empty text, so that the plant refuses it by name. */
const numberIn = (text: string): number | string => decimalOf(text) ?? '';

export const isBlankRow = (row: ImpurityRow): boolean =>
  row.element.trim() === '' && row.content.trim() === '';

/**
 * A row as the command takes it. `<` means not found; what stands behind it is the detection limit
 * where its own field is empty. The uncertainty of an element that was not found is not used.
 */
export function impurityOf(row: ImpurityRow) {
  const content = row.content.trim();
  const isNotFound = content.startsWith('<');
  const limit = row.limit.trim() === '' && isNotFound ? content.slice(1).trim() : row.limit;
  return {
    element: row.element.trim(),
    contentMilligramsPerKilogram: isNotFound ? null : numberIn(content),
    standardUncertaintyMilligramsPerKilogram:
      isNotFound && row.uncertainty.trim() === '' ? 0 : numberIn(row.uncertainty),
    detectionLimitMilligramsPerKilogram: numberIn(limit),
  };
}

/** Whether clipboard text is a list, and no single value. */
export const isList = (text: string): boolean => /[\t\n;]/.test(text.trim());

/** Rows of a list as a spectrometer's program copies it: element, content, uncertainty, limit. */
export function rowsIn(text: string): readonly ImpurityRow[] {
  return text
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '')
    .map((line) => {
      const [element = '', content = '', uncertainty = '', limit = ''] = line
        .replace(/<\s+/g, '<')
        .split(/[\s;]+/);
      return { element, content, uncertainty, limit };
    });
}
