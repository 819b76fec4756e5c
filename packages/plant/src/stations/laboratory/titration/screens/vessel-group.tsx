import {
  ChoiceField,
  type CommandInHand,
  FieldGroup,
  FieldRow,
  ReadingField,
  TextField,
} from '../../../../workbench/index.ts';
import { readingRefusal } from '../../screens/measure-blanks.tsx';
import { CurvePart } from './curve-part.tsx';
import {
  methodOf,
  type TitrationDraft,
  type VesselDraft,
  type VesselList,
} from './titration-draft.ts';

const words = {
  standards: { title: 'Standard', taken: 'Silver taken', takenField: 'silver' },
  samples: { title: 'Portion', taken: 'Portion', takenField: 'sample' },
  references: { title: 'Reference', taken: 'Taken', takenField: 'taken' },
} as const;

/** One vessel of the run: what was weighed in, when it was titrated, and its curve. */
export function VesselGroup(props: {
  readonly list: VesselList;
  readonly index: number;
  readonly vessel: VesselDraft;
  readonly run: TitrationDraft;
  /** Cut blanks that a portion may come from. */
  readonly cut: readonly string[];
  readonly onChange: (part: Partial<VesselDraft>) => void;
  readonly record: CommandInHand;
}) {
  const { list, index, vessel, run, onChange, record } = props;
  const { label, curve } = vessel;
  const { title, taken, takenField } = words[list];
  const at = `${list}.${index}`;
  const refusal = record.refusalAt(`${at}.label`) ?? record.refusalAt(at);
  return (
    <FieldGroup title={`${title} ${label}`}>
      <FieldRow>
        <ReadingField
          label={`${taken}, ${label}`}
          value={vessel.taken}
          onChange={(reading) => onChange({ taken: reading })}
          refusal={readingRefusal(record, `${at}.${takenField}`)}
        />
        {list === 'samples' ? (
          <ChoiceField
            label={`Blank of ${label}`}
            value={vessel.from}
            choices={props.cut.map((blank) => ({ value: blank, label: blank }))}
            onChange={(from) => onChange({ from })}
            refusal={record.refusalAt(`${at}.blank`)}
          />
        ) : null}
        {list === 'references' ? (
          <TextField
            label={`Reference material ${label}`}
            kind="code"
            value={vessel.from}
            onChange={(from) => onChange({ from })}
            refusal={record.refusalAt(`${at}.referenceMaterial`)}
          />
        ) : null}
        <TextField
          label={`Titrated at, ${label}`}
          kind="decimal"
          unit="min"
          value={vessel.minutes}
          onChange={(minutes) => onChange({ minutes })}
          hint="Since the run began."
          refusal={record.refusalAt(`${at}.minutes`)}
        />
      </FieldRow>
      <CurvePart
        label={label}
        curve={curve}
        method={methodOf(run)}
        buretteUncertainty={run.buretteUncertainty}
        onChange={(part) => onChange({ curve: { ...curve, ...part } })}
        refusalAt={(field) => record.refusalAt(`${at}${field}`)}
      />
      {refusal ? <p className="field-refusal">{refusal}</p> : null}
    </FieldGroup>
  );
}
