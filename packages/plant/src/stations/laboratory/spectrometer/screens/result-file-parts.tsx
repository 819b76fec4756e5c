import {
  ChoiceField,
  type CommandInHand,
  FieldRow,
  Part,
  ReadingField,
  TextField,
} from '../../../../workbench/index.ts';
import { type ResultsEvaluated, sampleLabels } from '../contents.ts';
import type { ReadTable } from '../result-bodies.ts';
import { CalibrationParts } from './calibration-shown.tsx';
import { ElementTable } from './element-table.tsx';
import {
  emptyMaterial,
  type FileDraft,
  type MaterialDraft,
  ofMaterial,
} from './result-file-draft.ts';

/** A result file in the hands of the one who takes it. */
export interface Form {
  readonly draft: FileDraft;
  readonly change: (part: Partial<FileDraft>) => void;
  readonly record: CommandInHand;
}

/** What each sample of the file is of. */
export function Solutions(props: {
  readonly table: ReadTable;
  readonly cut: readonly string[];
  readonly blanks: Readonly<Record<string, string>>;
  readonly change: (blanks: Readonly<Record<string, string>>) => void;
  readonly record: CommandInHand;
}) {
  const { table, cut, blanks, change, record } = props;
  const labels = sampleLabels(table);
  // The plant counts the solutions that are sent: those of blanks.
  const sent = labels.filter((label) => blanks[label] && blanks[label] !== ofMaterial);
  return (
    <Part title="Solutions">
      {labels.length === 0 ? <p>The file has no sample.</p> : null}
      {labels.map((label) => (
        <ChoiceField
          key={label}
          label={`${label} in the file is of`}
          value={blanks[label] ?? ''}
          choices={[
            { value: '', label: 'not taken' },
            ...cut.map((blank) => ({ value: blank, label: blank })),
            { value: ofMaterial, label: 'a reference material' },
          ]}
          onChange={(blank) => change({ ...blanks, [label]: blank })}
          refusal={
            record.refusalAt(`solutions.${sent.indexOf(label)}.blank`) ??
            record.refusalAt(`solutions.${sent.indexOf(label)}.solution`)
          }
        />
      ))}
    </Part>
  );
}

/** The reference materials among the samples, and the reagents of the run. */
export function Controls(props: Form & { readonly materials: readonly string[] }) {
  const { draft, change, record, materials } = props;
  return (
    <Part title="Controls">
      {materials.map((label, index) => {
        const one = draft.materials[label] ?? emptyMaterial;
        const set = (part: Partial<MaterialDraft>) =>
          change({ materials: { ...draft.materials, [label]: { ...one, ...part } } });
        return (
          <FieldRow key={label}>
            <TextField
              label={`Reference material ${label}`}
              kind="code"
              value={one.referenceMaterial}
              onChange={(referenceMaterial) => set({ referenceMaterial })}
              refusal={record.refusalAt(`references.${index}.referenceMaterial`)}
            />
            <ReadingField
              label={`Taken, ${label}`}
              value={one.taken}
              onChange={(taken) => set({ taken })}
              refusal={record.refusalAt(`references.${index}.taken`)}
            />
          </FieldRow>
        );
      })}
      <TextField
        label="Lots of reagents"
        value={draft.lots}
        optional
        hint="As their labels say, with a blank between them. Reagent blanks are taken from the file."
        onChange={(lots) => change({ lots })}
        refusal={record.refusalAt('reagentLots')}
      />
    </Part>
  );
}

/** The figures of the file, and what must be answered for. */
export function Figures(props: Form & { readonly evaluated: ResultsEvaluated | undefined }) {
  const { evaluated, draft, change, record } = props;
  if (!evaluated || !('figures' in evaluated)) return null;
  const { figures } = evaluated;
  return (
    <>
      <ElementTable figures={figures} />
      <CalibrationParts figures={figures} />
      {figures.doubts.length > 0 ? (
        <Part title="Answer for the run">
          {figures.doubts.map((doubt) => (
            <p key={doubt} className="table-doubt">
              {doubt}
            </p>
          ))}
          <TextField
            label="Why the run counts all the same"
            value={draft.reason}
            onChange={(reason) => change({ reason })}
            refusal={record.refusalAt('reason')}
          />
        </Part>
      ) : null}
    </>
  );
}
