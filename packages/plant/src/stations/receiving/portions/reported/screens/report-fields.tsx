import { FieldRow, TextField } from '../../../../../workbench/index.ts';
import type { ReportDraft } from './report-draft.ts';

/** What supplier or umpire reports of a portion, field by field as his document states it. */
export function ReportFields(props: {
  readonly draft: ReportDraft;
  readonly change: (part: Partial<ReportDraft>) => void;
  readonly isCorrection: boolean;
  readonly refusalAt: (field: string) => string | undefined;
}) {
  const { draft, change, isCorrection, refusalAt } = props;
  return (
    <>
      <FieldRow>
        <TextField
          label="Fineness he found"
          kind="decimal"
          value={draft.fineness}
          onChange={(fineness) => change({ fineness })}
          unit="‰"
          hint="With the decimals of his report."
          refusal={refusalAt('fineness')}
        />
        <TextField
          label="Uncertainty"
          kind="decimal"
          value={draft.uncertainty}
          onChange={(uncertainty) => change({ uncertainty })}
          unit="‰"
          optional
          refusal={refusalAt('uncertainty')}
        />
        <TextField
          label="Coverage factor"
          kind="decimal"
          value={draft.coverageFactor}
          onChange={(coverageFactor) => change({ coverageFactor })}
          hint="1 for a standard uncertainty."
          optional
          refusal={refusalAt('coverageFactor')}
        />
        <TextField
          label="Splitting limit"
          kind="decimal"
          value={draft.splittingLimit}
          onChange={(splittingLimit) => change({ splittingLimit })}
          unit="‰"
          optional
          refusal={refusalAt('splittingLimit')}
        />
      </FieldRow>
      <FieldRow>
        <TextField
          label="Report"
          value={draft.document}
          onChange={(document) => change({ document })}
          hint="Its number."
          refusal={refusalAt('document')}
        />
        <TextField
          label="Dated"
          kind="date"
          value={draft.reportedOn}
          onChange={(reportedOn) => change({ reportedOn })}
          refusal={refusalAt('reportedOn')}
        />
        <TextField
          label="Method"
          value={draft.method}
          onChange={(method) => change({ method })}
          refusal={refusalAt('method')}
        />
      </FieldRow>
      {isCorrection ? (
        <TextField
          label="Why it is corrected"
          kind="long"
          value={draft.correction}
          onChange={(correction) => change({ correction })}
          refusal={refusalAt('correction')}
        />
      ) : null}
    </>
  );
}
