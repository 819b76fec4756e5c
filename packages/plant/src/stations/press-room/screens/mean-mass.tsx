import {
  LimitRule,
  printNumber,
  type ReadingDraft,
  readingOf,
  wholeNumberOf,
} from '../../../workbench/index.ts';
import { shownValue } from './judged-reading.tsx';

/** What one piece weighs on average: a wrong digit or a forgotten tare is seen before it is signed. */
export function MeanMass(props: {
  readonly pieces: string;
  readonly gross: ReadingDraft;
  readonly limits: {
    readonly massLeastMilligrams: number;
    readonly massGreatestMilligrams: number;
  };
}) {
  const { limits } = props;
  const pieces = wholeNumberOf(props.pieces);
  const grams = shownValue(readingOf(props.gross));
  if (typeof pieces !== 'number' || pieces < 1 || grams === undefined) return null;
  const mean = grams / pieces;
  const least = limits.massLeastMilligrams / 1000;
  const greatest = limits.massGreatestMilligrams / 1000;
  const isInside = mean >= least && mean <= greatest;
  return (
    <LimitRule
      value={mean}
      lowerLimit={least}
      upperLimit={greatest}
      unit="g"
      decimals={3}
      words={`${printNumber(mean, 3)} g a piece on average${isInside ? '' : ', outside the limits of a piece: count and weigh again'}`}
      size="row"
    />
  );
}
