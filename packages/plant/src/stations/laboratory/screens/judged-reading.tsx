import type { Reading } from '../../../journal/reading.ts';
import {
  LimitRule,
  printNumber,
  type ReadingDraft,
  ReadingField,
  ReadingFigure,
  readingOf,
} from '../../../workbench/index.ts';
import type { BlankLimits } from './trial-answer.ts';

/** What is measured on a blank. */
export type Measured = 'mass' | 'diameter' | 'thickness';

export const measures = ['mass', 'diameter', 'thickness'] as const satisfies readonly Measured[];

export const measureLabels = {
  mass: 'Mass',
  diameter: 'Diameter',
  thickness: 'Thickness',
} as const;

interface Limits {
  readonly least: number;
  readonly greatest: number;
  readonly unit: 'g' | 'mm';
  readonly decimals: number;
}

/** The limits of one measure, in the unit in which it is shown. */
function limitsOf(limits: BlankLimits, measured: Measured): Limits {
  const millimetres = { unit: 'mm', decimals: 3 } as const;
  if (measured === 'mass') {
    const { massLeastMilligrams, massGreatestMilligrams } = limits;
    return {
      least: massLeastMilligrams / 1000,
      greatest: massGreatestMilligrams / 1000,
      unit: 'g',
      decimals: 3,
    };
  }
  return measured === 'diameter'
    ? {
        least: limits.diameterLeastMillimetres,
        greatest: limits.diameterGreatestMillimetres,
        ...millimetres,
      }
    : {
        least: limits.thicknessLeastMillimetres,
        greatest: limits.thicknessGreatestMillimetres,
        ...millimetres,
      };
}

const perUnit: Readonly<Record<string, number>> = { kg: 1000, g: 1, mg: 0.001, mm: 1, µm: 0.001 };

/** A reading in g or mm, as far as it is a number; for drawing, never for judging. */
function shownValue(reading: Pick<Reading, 'text' | 'unit'> | null): number | undefined {
  const value = reading ? Number(reading.text) * (perUnit[reading.unit] ?? Number.NaN) : Number.NaN;
  return Number.isFinite(value) ? value : undefined;
}

/** The same scale for every blank, so that the dots below each other can be compared. */
function scaleOf({ least, greatest }: Limits): readonly [number, number] {
  const margin = (greatest - least) * 0.2;
  return [least - margin, greatest + margin];
}

function Rule({ value, limits }: { readonly value: number; readonly limits: Limits }) {
  return (
    <LimitRule
      value={value}
      lowerLimit={limits.least}
      upperLimit={limits.greatest}
      range={scaleOf(limits)}
      unit={limits.unit}
      decimals={limits.decimals}
      words=""
      size="row"
    />
  );
}

/** A reading of a blank while it is made, with the limit rule that it meets. */
export function JudgedReading(props: {
  readonly measured: Measured;
  readonly value: ReadingDraft;
  readonly onChange: (value: ReadingDraft) => void;
  readonly onInstrument: (instrument: string) => void;
  readonly limits: BlankLimits;
  readonly refusal: string | undefined;
}) {
  const limits = limitsOf(props.limits, props.measured);
  const value = shownValue(readingOf(props.value));
  const isOutside = value !== undefined && (value < limits.least || value > limits.greatest);
  const span = `${printNumber(limits.least, limits.decimals)} to ${printNumber(limits.greatest, limits.decimals)} ${limits.unit}`;
  return (
    <div className="blank-reading">
      <ReadingField
        label={measureLabels[props.measured]}
        value={props.value}
        onChange={props.onChange}
        onInstrument={props.onInstrument}
        refusal={props.refusal}
      />
      {value === undefined ? null : <Rule value={value} limits={limits} />}
      {isOutside ? <p className="blank-outside">△ outside {span}</p> : null}
    </div>
  );
}

/** A recorded reading of a blank beside its limit rule. */
export function ReadingOnRule(props: {
  readonly measured: Measured;
  readonly reading: Reading | undefined;
  readonly limits: BlankLimits;
}) {
  const limits = limitsOf(props.limits, props.measured);
  const value = shownValue(props.reading ?? null);
  return (
    <span className="reading-on-rule">
      {value === undefined ? null : <Rule value={value} limits={limits} />}
      <span>
        <ReadingFigure reading={props.reading} />
      </span>
    </span>
  );
}
