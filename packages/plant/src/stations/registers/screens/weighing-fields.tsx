import {
  type CommandInHand,
  decimalOf,
  FieldGroup,
  FieldRow,
  printDecimal,
  TextField,
} from '../../../workbench/index.ts';

/** What a balance adds to the uncertainty of a mass, while it is typed. */
export interface WeighingDraft {
  readonly divisionGrams: string;
  readonly repeatabilityGrams: string;
  readonly gainRelative: string;
}

export const noWeighing: WeighingDraft = {
  divisionGrams: '',
  repeatabilityGrams: '',
  gainRelative: '',
};

const typed = (value: number | null): string => (value === null ? '' : printDecimal(String(value)));

/** The figures of a registered instrument as a hand would type them. */
export function weighingDraft(row: {
  readonly divisionGrams: number | null;
  readonly repeatabilityGrams: number | null;
  readonly gainRelative: number | null;
}): WeighingDraft {
  return {
    divisionGrams: typed(row.divisionGrams),
    repeatabilityGrams: typed(row.repeatabilityGrams),
    gainRelative: typed(row.gainRelative),
  };
}

/** The figures as the commands take them; nothing for an instrument that does not weigh. */
export function weighingInput(draft: WeighingDraft, isBalance: boolean) {
  const { divisionGrams, repeatabilityGrams, gainRelative } = isBalance ? draft : noWeighing;
  return {
    divisionGrams: decimalOf(divisionGrams),
    repeatabilityGrams: decimalOf(repeatabilityGrams),
    gainRelative: decimalOf(gainRelative),
  };
}

/** Division, repeatability and gain of a balance. */
export function WeighingFields(props: {
  readonly draft: WeighingDraft;
  readonly change: (part: Partial<WeighingDraft>) => void;
  readonly command: CommandInHand;
}) {
  const { draft, change, command } = props;
  return (
    <FieldGroup title="How it weighs">
      <FieldRow>
        <TextField
          label="Division"
          kind="decimal"
          unit="g"
          hint="Smallest step that it shows."
          value={draft.divisionGrams}
          onChange={(divisionGrams) => change({ divisionGrams })}
          refusal={command.refusalAt('divisionGrams')}
        />
        <TextField
          label="Repeatability"
          kind="decimal"
          unit="g"
          hint="Standard deviation of repeated weighings."
          value={draft.repeatabilityGrams}
          onChange={(repeatabilityGrams) => change({ repeatabilityGrams })}
          refusal={command.refusalAt('repeatabilityGrams')}
        />
        <TextField
          label="Relative gain uncertainty"
          kind="decimal"
          hint="Standard uncertainty of its span, relative: 0.00002 is 20 mg in a kilogram."
          value={draft.gainRelative}
          onChange={(gainRelative) => change({ gainRelative })}
          refusal={command.refusalAt('gainRelative')}
        />
      </FieldRow>
    </FieldGroup>
  );
}
