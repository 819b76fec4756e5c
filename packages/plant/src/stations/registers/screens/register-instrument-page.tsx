import type { InsidePlace } from '../../../journal/place.ts';
import {
  ChoiceField,
  FieldRow,
  MainAct,
  Page,
  TextField,
  useCommand,
  useDraft,
} from '../../../workbench/index.ts';
import type { InstrumentKind } from '../instruments.ts';
import { noWeighing, WeighingFields, weighingInput } from './weighing-fields.tsx';
import { instrumentKindChoices, placeChoices } from './words.ts';

interface InstrumentDraft {
  readonly instrument: string;
  readonly title: string;
  readonly kind: InstrumentKind | '';
  readonly place: InsidePlace | '';
  readonly calibrationDue: string;
}

const empty = {
  instrument: '',
  title: '',
  kind: '',
  place: '',
  calibrationDue: '',
  ...noWeighing,
} as const;

/** An instrument comes into the register: from then on its readings count. */
export function RegisterInstrumentPage() {
  const [draft, change, clear] = useDraft<InstrumentDraft & typeof noWeighing>(
    'register-instrument',
    empty,
  );
  const register = useCommand('register-instrument', { onRecorded: clear });
  const { instrument, title, kind, place, calibrationDue } = draft;
  return (
    <Page
      title="Register an instrument"
      about="Readings count only from an instrument that is registered and calibrated."
      act={
        <MainAct
          label="Register instrument"
          command={register}
          input={() => ({
            instrument: instrument.trim(),
            title: title.trim(),
            kind,
            place,
            ...weighingInput(draft, kind === 'balance'),
            calibrationDue,
          })}
        />
      }
    >
      <FieldRow>
        <TextField
          label="Instrument"
          kind="code"
          hint="The id on its label."
          value={instrument}
          onChange={(id) => change({ instrument: id })}
          refusal={register.refusalAt('instrument')}
        />
        <TextField
          label="Title"
          hint="What people call it."
          value={title}
          onChange={(text) => change({ title: text })}
          refusal={register.refusalAt('title')}
        />
      </FieldRow>
      <FieldRow>
        <ChoiceField
          label="Kind"
          value={kind}
          choices={instrumentKindChoices}
          onChange={(one) => change({ kind: one })}
          refusal={register.refusalAt('kind')}
        />
        <ChoiceField
          label="Place"
          value={place}
          choices={placeChoices}
          onChange={(one) => change({ place: one })}
          refusal={register.refusalAt('place')}
        />
        <TextField
          label="Calibration due"
          kind="date"
          hint="The last day on which its readings count."
          value={calibrationDue}
          onChange={(day) => change({ calibrationDue: day })}
          refusal={register.refusalAt('calibrationDue')}
        />
      </FieldRow>
      {kind === 'balance' ? (
        <WeighingFields draft={draft} change={change} command={register} />
      ) : null}
    </Page>
  );
}
