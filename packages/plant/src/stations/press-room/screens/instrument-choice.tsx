import { ChoiceField } from '../../../workbench/index.ts';
import type { Instrument, InstrumentKind } from '../../registers/index.ts';

/** The instruments of some kinds. */
export function instrumentsOfKind(
  instruments: readonly Instrument[],
  kinds: readonly InstrumentKind[],
): readonly Instrument[] {
  return instruments.filter(({ kind }) => kinds.includes(kind));
}

/** The instrument that stands at hand: the one used last, else the first of its kind. */
export function instrumentAtHand(
  instruments: readonly Instrument[],
  kinds: readonly InstrumentKind[],
  used: string,
): string {
  const fit = instrumentsOfKind(instruments, kinds);
  return (fit.find(({ instrument }) => instrument === used) ?? fit[0])?.instrument ?? '';
}

/** Which instrument gave the reading. */
export function InstrumentChoice(props: {
  readonly label: string;
  readonly instruments: readonly Instrument[];
  readonly kinds: readonly InstrumentKind[];
  readonly value: string;
  readonly onChange: (instrument: string) => void;
  readonly refusal: string | undefined;
}) {
  const { label, value, onChange, refusal } = props;
  const fit = instrumentsOfKind(props.instruments, props.kinds);
  return (
    <ChoiceField
      {...{ label, value, onChange, refusal }}
      choices={fit.map(({ instrument, title }) => ({
        value: instrument,
        label: `${title} (${instrument})`,
      }))}
      hint={
        fit.length === 0
          ? `No ${props.kinds.join(' or ')} is registered in the press room.`
          : undefined
      }
    />
  );
}
