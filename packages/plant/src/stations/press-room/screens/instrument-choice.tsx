import { ChoiceField } from '../../../workbench/index.ts';
import type { InstrumentKind } from '../../registers/index.ts';
import type { ShownInstrument } from './answers.ts';

/** The instruments of some kinds. */
export function instrumentsOfKind(
  instruments: readonly ShownInstrument[],
  kinds: readonly InstrumentKind[],
): readonly ShownInstrument[] {
  return instruments.filter(({ kind }) => kinds.includes(kind));
}

/** The instrument that stands at hand: the one used last, else the first of its kind. */
export function instrumentAtHand(
  instruments: readonly ShownInstrument[],
  kinds: readonly InstrumentKind[],
  used: string,
): string {
  const fit = instrumentsOfKind(instruments, kinds).filter(({ outOfUse }) => outOfUse === null);
  return (fit.find(({ instrument }) => instrument === used) ?? fit[0])?.instrument ?? '';
}

/** Which instrument gave the reading. */
export function InstrumentChoice(props: {
  readonly label: string;
  readonly instruments: readonly ShownInstrument[];
  readonly kinds: readonly InstrumentKind[];
  readonly value: string;
  readonly onChange: (instrument: string) => void;
  readonly refusal: string | undefined;
}) {
  const { label, value, onChange, refusal } = props;
  const all = instrumentsOfKind(props.instruments, props.kinds);
  const fit = all.filter(({ outOfUse }) => outOfUse === null);
  const others = all.flatMap(({ outOfUse }) => outOfUse ?? []);
  return (
    <ChoiceField
      {...{ label, value, onChange, refusal }}
      choices={fit.map(({ instrument, title }) => ({
        value: instrument,
        label: `${title} (${instrument})`,
      }))}
      hint={
        all.length === 0
          ? `No ${props.kinds.join(' or ')} is registered in the press room.`
          : others.length > 0
            ? others.join(' ')
            : undefined
      }
    />
  );
}
