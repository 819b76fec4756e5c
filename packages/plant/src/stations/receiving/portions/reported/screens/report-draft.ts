import { decimalOf, typedDecimal } from '../../../../../workbench/number-text.ts';

/** A report while it is typed in. */
export interface ReportDraft {
  readonly fineness: string;
  readonly uncertainty: string;
  readonly coverageFactor: string;
  readonly splittingLimit: string;
  readonly document: string;
  readonly reportedOn: string;
  readonly method: string;
  readonly correction: string;
}

export const emptyReport: ReportDraft = {
  fineness: '',
  uncertainty: '',
  coverageFactor: '2',
  splittingLimit: '',
  document: '',
  reportedOn: '',
  method: '',
  correction: '',
};

const orNothing = (text: string): string | null => (text === '' ? null : text);

/** Digits as they were typed, with the point for whatever sign is usual here. */
export const digits = (text: string): string => typedDecimal(text) ?? text.trim();

/** The input of the command; a factor without an uncertainty says nothing. */
export function reportInputOf(portion: string, draft: ReportDraft, isCorrection: boolean): object {
  const uncertainty = orNothing(digits(draft.uncertainty));
  return {
    portion,
    fineness: digits(draft.fineness),
    uncertainty,
    coverageFactor:
      uncertainty === null || draft.coverageFactor === '' ? null : decimalOf(draft.coverageFactor),
    splittingLimit: orNothing(digits(draft.splittingLimit)),
    document: draft.document,
    reportedOn: draft.reportedOn,
    method: draft.method,
    correction: isCorrection ? draft.correction : null,
  };
}
