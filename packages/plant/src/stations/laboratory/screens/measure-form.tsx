import {
  ChoiceField,
  emptyReading,
  FieldRow,
  MainAct,
  Part,
  type ReadingDraft,
  ReadingField,
  readingOf,
  useCommand,
  useDraft,
} from '../../../workbench/index.ts';
import type { DeskInstrument, ShownBlank, TrialAnswer } from './trial-answer.ts';

interface BlankDraft {
  readonly mass: ReadingDraft;
  readonly diameter: ReadingDraft;
  readonly thickness: ReadingDraft;
}

interface MeasureDraft {
  readonly balance: string;
  readonly micrometer: string;
  readonly blanks: Readonly<Record<string, BlankDraft>>;
}

const unmeasured: BlankDraft = {
  mass: emptyReading('g'),
  diameter: emptyReading('mm'),
  thickness: emptyReading('mm'),
};

const isComplete = (draft: BlankDraft | undefined): draft is BlankDraft =>
  draft !== undefined &&
  [draft.mass, draft.diameter, draft.thickness].every(({ text }) => text !== '');

/** Mass, diameter and thickness of every drawn blank that is not measured yet. */
export function MeasureForm(props: {
  readonly answer: TrialAnswer;
  readonly instruments: readonly DeskInstrument[];
}) {
  const { answer, instruments } = props;
  const ofKind = (kind: string) => instruments.filter((one) => one.kind === kind);
  const [draft, change, clear] = useDraft<MeasureDraft>(`measure ${answer.melt}`, {
    balance: ofKind('balance').at(-1)?.instrument ?? '',
    micrometer: ofKind('micrometer')[0]?.instrument ?? '',
    blanks: {},
  });
  const measure = useCommand('measure-blanks', { onRecorded: clear });
  const waiting = answer.blanks.filter(({ measurement }) => measurement === null);
  const ready = waiting.filter(({ blank }) => isComplete(draft.blanks[blank]));
  const choices = (kind: string) =>
    ofKind(kind).map(({ instrument, title }) => ({
      value: instrument,
      label: `${title} (${instrument})`,
    }));
  return (
    <Part title={`Measure ${waiting.length} blanks`}>
      <FieldRow>
        <ChoiceField
          label="Balance"
          value={draft.balance}
          choices={choices('balance')}
          onChange={(balance) => change({ balance })}
          refusal={measure.refusalAt('balance')}
        />
        <ChoiceField
          label="Micrometer"
          value={draft.micrometer}
          choices={choices('micrometer')}
          onChange={(micrometer) => change({ micrometer })}
          refusal={measure.refusalAt('micrometer')}
        />
      </FieldRow>
      {waiting.map((blank) => (
        <BlankFields
          key={blank.blank}
          blank={blank}
          index={ready.findIndex((one) => one.blank === blank.blank)}
          draft={draft.blanks[blank.blank] ?? unmeasured}
          onChange={(one) => change({ blanks: { ...draft.blanks, [blank.blank]: one } })}
          refusalAt={measure.refusalAt}
        />
      ))}
      <MainAct
        label={
          ready.length === waiting.length
            ? 'Record measurements'
            : `Record ${ready.length} measurements`
        }
        command={measure}
        notYet={ready.length === 0 ? 'Measure at least one blank.' : undefined}
        input={() => ({
          melt: answer.melt,
          balance: draft.balance,
          micrometer: draft.micrometer,
          measurements: ready.map(({ blank }) => {
            const one = draft.blanks[blank] ?? unmeasured;
            return {
              blank,
              mass: readingOf(one.mass),
              diameter: readingOf(one.diameter),
              thickness: readingOf(one.thickness),
            };
          }),
        })}
      />
    </Part>
  );
}

function BlankFields(props: {
  readonly blank: ShownBlank;
  /** Place among the measurements that would be sent; −1 while incomplete. */
  readonly index: number;
  readonly draft: BlankDraft;
  readonly onChange: (draft: BlankDraft) => void;
  readonly refusalAt: (field: string) => string | undefined;
}) {
  const { blank, draft, onChange, index, refusalAt } = props;
  const at = (field: string) =>
    index < 0
      ? undefined
      : (refusalAt(`measurements.${index}.${field}`) ??
        refusalAt(`measurements.${index}.${field}.text`));
  return (
    <div className="part-row">
      <p>
        Blank {blank.blank}{' '}
        <span className="faint">
          drum {blank.drum}, position {blank.position}
          {blank.forAssay ? ', for assay' : ''}
        </span>
      </p>
      <FieldRow>
        <ReadingField
          label="Mass"
          value={draft.mass}
          onChange={(mass) => onChange({ ...draft, mass })}
          refusal={at('mass')}
        />
        <ReadingField
          label="Diameter"
          value={draft.diameter}
          onChange={(diameter) => onChange({ ...draft, diameter })}
          refusal={at('diameter')}
        />
        <ReadingField
          label="Thickness"
          value={draft.thickness}
          onChange={(thickness) => onChange({ ...draft, thickness })}
          refusal={at('thickness')}
        />
      </FieldRow>
    </div>
  );
}
