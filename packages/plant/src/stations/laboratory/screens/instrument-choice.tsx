import { ChoiceField } from '../../../workbench/index.ts';
import { instrumentsInUse } from './instruments-in-use.ts';
import type { DeskInstrument } from './trial-answer.ts';

/** The instrument at hand: the one chosen last, else the first of its kinds. */
export function instrumentAtHand(
  instruments: readonly DeskInstrument[],
  kinds: readonly string[],
  chosen: string,
): string {
  const { fit } = instrumentsInUse(instruments, kinds);
  return (fit.find(({ instrument }) => instrument === chosen) ?? fit[0])?.instrument ?? '';
}

/** Which instrument of the laboratory gave the readings. */
export function InstrumentChoice(props: {
  readonly label: string;
  readonly instruments: readonly DeskInstrument[];
  readonly kinds: readonly string[];
  readonly value: string;
  readonly onChange: (instrument: string) => void;
  readonly refusal: string | undefined;
}) {
  const { label, value, onChange, refusal, kinds } = props;
  const { fit, others } = instrumentsInUse(props.instruments, kinds);
  return (
    <ChoiceField
      {...{ label, value, onChange, refusal }}
      choices={fit.map(({ instrument, title }) => ({
        value: instrument,
        label: `${title} (${instrument})`,
      }))}
      hint={
        fit.length === 0 && others === undefined
          ? `No ${kinds.join(' or ')} is registered in the laboratory; the chief assayer registers one under Registers.`
          : others
      }
    />
  );
}
