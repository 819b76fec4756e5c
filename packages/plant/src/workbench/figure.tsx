import { probabilityPercentText } from '@cupel/calculation/probability-text';
import type { Reading } from '../journal/reading.ts';
import { printDecimal, printMicrograms, printNumber } from './number-text.ts';

interface Printed {
  readonly text: string;
  readonly unit?: string | undefined;
  readonly uncertainty?: string | undefined;
  readonly size?: FigureSize | undefined;
}

/** How big a figure stands: in a line, in a row of facts, as the page's result, or as a live weight. */
export type FigureSize = 'line' | 'fact' | 'result' | 'live';

function PrintedFigure({ text, unit, uncertainty, size = 'line' }: Printed) {
  return (
    <span className={`figure figure-size-${size}`}>
      {text}
      {uncertainty === undefined ? null : (
        <span className="figure-uncertainty"> ± {uncertainty}</span>
      )}
      {unit ? (
        <span className="figure-unit">
          {'\u202f'}
          {unit}
        </span>
      ) : null}
    </span>
  );
}

/**
 * A number as it is read here: thin-spaced thousands, true minus, unit in faint ink. Without
 * `decimals` up to six significant digits are shown; an uncertainty takes the decimals of the value.
 */
export function Figure(props: {
  readonly value: number | bigint | null | undefined;
  readonly unit?: string;
  readonly decimals?: number;
  readonly uncertainty?: number;
  readonly size?: FigureSize;
}) {
  const { value, decimals, unit, size } = props;
  if (value === null || value === undefined) return <PrintedFigure text="–" size={size} />;
  const uncertainty =
    props.uncertainty === undefined ? undefined : printNumber(props.uncertainty, decimals);
  const shownUnit = unit === 'pieces' && value === 1 ? 'piece' : unit;
  return (
    <PrintedFigure
      text={printNumber(value, decimals)}
      unit={shownUnit}
      uncertainty={uncertainty}
      size={size}
    />
  );
}

/** A mass in whole micrograms, in kg, g or mg, exact up to the decimals shown. */
export function Mass(props: {
  readonly micrograms: number | bigint | null | undefined;
  readonly unit?: 'kg' | 'g' | 'mg';
  readonly decimals?: number;
  readonly size?: FigureSize;
}) {
  const { micrograms, unit = 'g', size } = props;
  if (micrograms === null || micrograms === undefined)
    return <PrintedFigure text="–" size={size} />;
  const decimals = props.decimals ?? { kg: 3, g: 2, mg: 1 }[unit];
  return <PrintedFigure text={printMicrograms(micrograms, unit, decimals)} {...{ unit, size }} />;
}

/** A reading with the digits that the instrument sent; one that was typed says so. */
export function ReadingFigure(props: {
  readonly reading: Reading | null | undefined;
  readonly size?: FigureSize;
}) {
  const { reading, size } = props;
  if (!reading) return <PrintedFigure text="–" size={size} />;
  return (
    <>
      <PrintedFigure text={printDecimal(reading.text)} unit={reading.unit} size={size} />
      {reading.typed ? <span className="typed-mark"> typed</span> : null}
    </>
  );
}

/**
 * A probability in per cent; what is nearly sure is not rounded to sure, nor what is rare to
 * impossible. Only 0 and 1 themselves, as shares can be, stand as they are.
 */
export function Probability({ value }: { readonly value: number }) {
  if (value === 0 || value === 1) return <PrintedFigure text={String(100 * value)} unit="%" />;
  const text = probabilityPercentText(value, value > 0.99 || value < 0.01 ? 2 : 1);
  const [, words = '', number] = /^(.*?)([\d.]+) %$/.exec(text) ?? [];
  if (number === undefined) return <PrintedFigure text={text} />;
  return <PrintedFigure text={`${words}${printDecimal(number)}`} unit="%" />;
}
