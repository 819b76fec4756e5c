import {
  LimitRule,
  printNumber,
  type ReadingDraft,
  ReadingField,
  readingOf,
} from '../../../workbench/index.ts';
import type { StrikeLimits } from '../bodies.ts';

/** What is read on a struck piece. */
export type Measured = 'mass' | 'diameter' | 'thickness';

/** The limits of one reading, in the unit in which it is shown. */
export interface Limits {
  readonly least: number;
  readonly greatest: number;
  readonly unit: 'g' | 'mm';
  readonly decimals: number;
}

/** The limits of a reading of a struck piece. */
export function limitsOfReading(limits: StrikeLimits, measured: Measured): Limits {
  const grams = { unit: 'g', decimals: 3 } as const;
  const millimetres = { unit: 'mm', decimals: 2 } as const;
  switch (measured) {
    case 'mass':
      return {
        least: limits.massLeastMilligrams / 1000,
        greatest: limits.massGreatestMilligrams / 1000,
        ...grams,
      };
    case 'diameter':
      return {
        least: limits.diameterLeastMillimetres,
        greatest: limits.diameterGreatestMillimetres,
        ...millimetres,
      };
    case 'thickness':
      return {
        least: limits.thicknessLeastMillimetres,
        greatest: limits.thicknessGreatestMillimetres,
        ...millimetres,
      };
  }
}

const perUnit: Readonly<Record<string, number>> = { kg: 1000, g: 1, mg: 0.001, mm: 1, µm: 0.001 };

/** A reading in g or mm, as far as it is a number; for drawing, never for judging. */
export function shownValue(reading: { text: string; unit: string } | null): number | undefined {
  const value = reading ? Number(reading.text) * (perUnit[reading.unit] ?? Number.NaN) : Number.NaN;
  return Number.isFinite(value) ? value : undefined;
}

/** A reading as it is made, with the limit rule that it meets. */
export function JudgedReading(props: {
  readonly label: string;
  readonly value: ReadingDraft;
  readonly onChange: (value: ReadingDraft) => void;
  readonly onInstrument: (instrument: string) => void;
  readonly limits: Limits;
  readonly refusal: string | undefined;
}) {
  const { limits } = props;
  const value = shownValue(readingOf(props.value));
  const span = `${printNumber(limits.least, limits.decimals)} to ${printNumber(limits.greatest, limits.decimals)} ${limits.unit}`;
  const isInside = value !== undefined && value >= limits.least && value <= limits.greatest;
  return (
    <div className="judged-reading">
      <ReadingField
        label={props.label}
        value={props.value}
        onChange={props.onChange}
        onInstrument={props.onInstrument}
        refusal={props.refusal}
      />
      {value === undefined ? (
        <p className="faint">{span}</p>
      ) : (
        <LimitRule
          value={value}
          lowerLimit={limits.least}
          upperLimit={limits.greatest}
          unit={limits.unit}
          decimals={limits.decimals}
          words={`${isInside ? 'inside' : 'outside'} ${span}`}
          size="row"
        />
      )}
    </div>
  );
}
