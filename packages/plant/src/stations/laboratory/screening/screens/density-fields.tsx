import {
  ChoiceField,
  type CommandInHand,
  decimalOf,
  emptyReading,
  FieldRow,
  type ReadingDraft,
  ReadingField,
  readingOf,
  TextField,
} from '../../../../workbench/index.ts';

/** A blank weighed in air and in water, as it is entered. */
export interface DensityDraft {
  readonly inAir: ReadingDraft;
  readonly inWater: ReadingDraft;
  readonly temperature: string;
  readonly temperatureSpread: string;
  readonly dissolvedAir: 'none' | 'saturated';
  readonly air: string;
  readonly alloyMetal: string;
  readonly alloyDensity: string;
  readonly mixing: string;
}

/** Copper has 8.96 g/cm³; 0.4 % for mixing and pores is common practice for worked alloys. */
export const emptyDensity: DensityDraft = {
  inAir: emptyReading('g'),
  inWater: emptyReading('g'),
  temperature: '20',
  temperatureSpread: '0.2',
  dissolvedAir: 'saturated',
  air: '1.2',
  alloyMetal: 'copper',
  alloyDensity: '8.96',
  mixing: '0.4',
};

export function densityInput(draft: DensityDraft) {
  return {
    inAir: readingOf(draft.inAir),
    inWater: readingOf(draft.inWater),
    waterTemperatureCelsius: decimalOf(draft.temperature),
    waterTemperatureStandardUncertaintyKelvin: decimalOf(draft.temperatureSpread),
    dissolvedAir: draft.dissolvedAir,
    airDensityKilogramsPerCubicMetre: decimalOf(draft.air),
    alloyMetal: draft.alloyMetal,
    alloyDensityGramsPerCubicCentimetre: decimalOf(draft.alloyDensity),
    mixingRelativeUncertaintyPercent: decimalOf(draft.mixing),
    confidencePercent: 95,
  };
}

const decimals = [
  ['temperature', 'Water temperature', '°C', 'waterTemperatureCelsius'],
  [
    'temperatureSpread',
    'Its standard uncertainty',
    'K',
    'waterTemperatureStandardUncertaintyKelvin',
  ],
  ['air', 'Air density', 'kg/m³', 'airDensityKilogramsPerCubicMetre'],
  ['alloyDensity', 'Density of the other metal', 'g/cm³', 'alloyDensityGramsPerCubicCentimetre'],
  ['mixing', 'Allowance for mixing and pores', '%', 'mixingRelativeUncertaintyPercent'],
] as const;

export function DensityFields(props: {
  readonly draft: DensityDraft;
  readonly change: (part: Partial<DensityDraft>) => void;
  readonly command: CommandInHand;
}) {
  const { draft, change, command } = props;
  return (
    <>
      <FieldRow>
        <ReadingField
          label="In air"
          value={draft.inAir}
          onChange={(inAir) => change({ inAir })}
          refusal={command.refusalAt('inAir') ?? command.refusalAt('inAir.text')}
        />
        <ReadingField
          label="In water"
          hint="The blank alone: the balance at zero with the empty cradle hanging."
          value={draft.inWater}
          onChange={(inWater) => change({ inWater })}
          refusal={command.refusalAt('inWater') ?? command.refusalAt('inWater.text')}
        />
      </FieldRow>
      <ChoiceField
        label="Air in the water"
        value={draft.dissolvedAir}
        choices={[
          { value: 'saturated', label: 'it has stood' },
          { value: 'none', label: 'freshly boiled' },
        ]}
        onChange={(dissolvedAir) => change({ dissolvedAir })}
      />
      <FieldRow>
        <TextField
          label="The other metal of the alloy"
          value={draft.alloyMetal}
          onChange={(alloyMetal) => change({ alloyMetal })}
          refusal={command.refusalAt('alloyMetal')}
        />
        {decimals.map(([field, label, unit, name]) => (
          <TextField
            key={field}
            label={label}
            kind="decimal"
            unit={unit}
            value={draft[field]}
            onChange={(text) => change({ [field]: text })}
            refusal={command.refusalAt(name)}
          />
        ))}
      </FieldRow>
    </>
  );
}
