import {
  type CommandInHand,
  decimalOf,
  FieldGroup,
  FieldRow,
  TextField,
} from '../../../../workbench/index.ts';

interface StandardDraft {
  readonly label: string;
  readonly fineness: string;
  readonly uncertainty: string;
  readonly readings: string;
}

/** Readings of a blank and of matched standards, as they are entered. */
export interface FluorescenceDraft {
  readonly readings: string;
  readonly surface: string;
  readonly standards: readonly StandardDraft[];
}

const emptyStandard: StandardDraft = { label: '', fineness: '', uncertainty: '', readings: '' };

export const emptyFluorescence: FluorescenceDraft = {
  readings: '',
  surface: '',
  standards: [emptyStandard],
};

/** Readings with blanks or semicolons between them; what is no number is sent, so that it is refused by name. */
const readingsIn = (text: string): readonly (number | string | null)[] =>
  text
    .split(/[\s;]+/)
    .filter((part) => part !== '')
    .map(decimalOf);

export function fluorescenceInput(draft: FluorescenceDraft) {
  return {
    pieceReadings: readingsIn(draft.readings),
    standards: draft.standards.map((one) => ({
      label: one.label,
      certifiedFinenessPerMille: decimalOf(one.fineness),
      certifiedStandardUncertaintyPerMille: decimalOf(one.uncertainty),
      readings: readingsIn(one.readings),
    })),
    surfaceStandardUncertaintyPerMille: decimalOf(draft.surface),
    confidencePercent: 95,
  };
}

export function FluorescenceFields(props: {
  readonly draft: FluorescenceDraft;
  readonly change: (part: Partial<FluorescenceDraft>) => void;
  readonly command: CommandInHand;
}) {
  const { draft, change, command } = props;
  const set = (index: number, part: Partial<StandardDraft>) =>
    change({
      standards: draft.standards.map((one, at) => (at === index ? { ...one, ...part } : one)),
    });
  return (
    <>
      <FieldRow>
        <TextField
          label="Readings of the blank"
          value={draft.readings}
          hint="Two or more, with a blank between them."
          onChange={(readings) => change({ readings })}
          refusal={command.refusalAt('pieceReadings')}
        />
        <TextField
          label="Allowance for the surface"
          kind="decimal"
          unit="‰"
          value={draft.surface}
          hint="How far the outer micrometres may differ from the metal below, as a standard uncertainty."
          onChange={(surface) => change({ surface })}
          refusal={command.refusalAt('surfaceStandardUncertaintyPerMille')}
        />
      </FieldRow>
      {draft.standards.map((one, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: lines of a form are told apart by their place
        <FieldGroup key={index} title={`Matched standard ${index + 1}`}>
          <FieldRow>
            <TextField
              label={`Label of standard ${index + 1}`}
              value={one.label}
              onChange={(label) => set(index, { label })}
              refusal={command.refusalAt(`standards.${index}.label`)}
            />
            <TextField
              label={`Certified fineness ${index + 1}`}
              kind="decimal"
              unit="‰"
              value={one.fineness}
              onChange={(fineness) => set(index, { fineness })}
              refusal={command.refusalAt(`standards.${index}.certifiedFinenessPerMille`)}
            />
            <TextField
              label={`Standard uncertainty ${index + 1}`}
              kind="decimal"
              unit="‰"
              value={one.uncertainty}
              onChange={(uncertainty) => set(index, { uncertainty })}
              refusal={command.refusalAt(`standards.${index}.certifiedStandardUncertaintyPerMille`)}
            />
            <TextField
              label={`Readings of standard ${index + 1}`}
              value={one.readings}
              onChange={(readings) => set(index, { readings })}
              refusal={command.refusalAt(`standards.${index}.readings`)}
            />
          </FieldRow>
        </FieldGroup>
      ))}
      <button
        type="button"
        className="quiet-button"
        onClick={() => change({ standards: [...draft.standards, emptyStandard] })}
      >
        Add a standard
      </button>
    </>
  );
}
