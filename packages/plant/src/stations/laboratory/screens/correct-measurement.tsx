import {
  ChoiceField,
  MainAct,
  readingOf,
  TextField,
  useCommand,
  useDraft,
} from '../../../workbench/index.ts';
import {
  type BlankDraft,
  BlankReadings,
  MeasuringInstruments,
  readingRefusal,
  unread,
  useMeasuringInstruments,
} from './measure-blanks.tsx';
import { MeltFrame, type MeltWork } from './melt-frame.tsx';

interface Correction {
  readonly blank: string;
  readonly readings: BlankDraft;
  readonly reason: string;
}

/** Measures one blank again because its first readings were wrong; the first ones stay visible. */
export function CorrectMeasurement(work: MeltWork) {
  const { answer, instruments } = work;
  const { melt } = answer;
  const hand = useMeasuringInstruments(instruments);
  const [draft, change, clear] = useDraft<Correction>(`correct measurement ${melt}`, {
    blank: '',
    readings: unread,
    reason: '',
  });
  const correct = useCommand('correct-measurement', {
    onRecorded: (_answer, entries) => {
      clear();
      work.onRecorded(entries);
    },
  });
  const measured = answer.blanks.filter(({ measurement }) => measurement);
  const blank = measured.find((one) => one.blank === draft.blank);
  const { mass, diameter, thickness } = draft.readings;
  return (
    <MeltFrame
      {...work}
      title="Correct a measurement"
      mainAct={
        <MainAct
          label="Record correction"
          command={correct}
          notYet={blank ? undefined : 'Choose the blank whose readings were wrong.'}
          input={() => ({
            melt,
            balance: hand.balance,
            micrometer: hand.micrometer,
            blank: draft.blank,
            mass: readingOf(mass),
            diameter: readingOf(diameter),
            thickness: readingOf(thickness),
            reason: draft.reason,
          })}
        />
      }
    >
      <ChoiceField
        label="Blank"
        value={draft.blank}
        choices={measured.map((one) => ({ value: one.blank, label: one.blank }))}
        onChange={(chosen) => change({ blank: chosen })}
        refusal={correct.refusalAt('blank')}
      />
      {blank ? (
        <BlankReadings
          blank={blank}
          limits={answer.physical.limits}
          draft={draft.readings}
          onChange={(readings) => change({ readings })}
          onInstrument={hand.sentBy}
          refusalAt={(field) => (field === 'blank' ? undefined : readingRefusal(correct, field))}
        />
      ) : null}
      <TextField
        label="Reason"
        kind="long"
        value={draft.reason}
        onChange={(reason) => change({ reason })}
        hint="What was wrong with the first readings. They stay visible."
        refusal={correct.refusalAt('reason')}
      />
      <MeasuringInstruments instruments={instruments} hand={hand} command={correct} />
    </MeltFrame>
  );
}
