import { roundNumberText } from '../quantity/rounding.ts';
import type { BalanceSeriesOutput } from './balance-series-schema.ts';

const print = (value: number, places: number): string =>
  roundNumberText(value, places, 'half-even');

const way = (grams: number): string =>
  grams === 0 ? 'of difference' : grams > 0 ? 'missing' : 'too much';

/** The signal that ended last. */
function newestSignal({ signals, periods }: BalanceSeriesOutput) {
  const place = (label: string) => periods.findIndex((one) => one.label === label);
  return signals.toSorted((left, right) => place(left.lastPeriod) - place(right.lastPeriod)).at(-1);
}

function signalWords(output: BalanceSeriesOutput): string {
  const { signals, decisionInterval } = output;
  const present = signals.filter(({ isPresent }) => isPresent);
  if (present.length > 0) {
    return present
      .map(
        (signal) =>
          `The sum for metal ${signal.way} is beyond ${print(decisionInterval, 2)}: most likely since ${signal.sincePeriod}.`,
      )
      .join(' ');
  }
  const past = newestSignal(output);
  return past
    ? `No sum is beyond ${print(decisionInterval, 2)} now; the last that was, for metal ${past.way}, ended with ${past.lastPeriod}.`
    : `No sum has gone beyond ${print(decisionInterval, 2)}.`;
}

/** The series in the words of a foreman. */
export function balanceSeriesWords(output: BalanceSeriesOutput): string {
  const { periods, inControlRunLengthPeriods, newest } = output;
  const last = periods.at(-1);
  if (!last) return '';
  const rate =
    inControlRunLengthPeriods === null
      ? 'Without a loss it hardly ever signals.'
      : `Without a loss that happens once in ${print(inControlRunLengthPeriods, 0)} periods.`;
  const count = `${periods.length} ${periods.length === 1 ? 'balance' : 'balances'}.`;
  const newestWords = `The newest, ${last.label}: ${print(Math.abs(last.differenceGrams), 3)} g ${way(last.differenceGrams)}, residual ${print(last.residual, 2)}.`;
  const sum = `All together ${print(Math.abs(last.cumulativeDifferenceGrams), 3)} g ${way(last.cumulativeDifferenceGrams)}, standard uncertainty ${print(last.cumulativeStandardUncertaintyGrams, 3)} g.`;
  const largest = newest.reduce((most, one) => (one.sharePercent > most.sharePercent ? one : most));
  const share = `Largest share of the newest difference: ${largest.source}, ${print(largest.sharePercent, 0)} %.`;
  return `${count} ${signalWords(output)} ${rate} ${newestWords} ${sum} ${share}`;
}
