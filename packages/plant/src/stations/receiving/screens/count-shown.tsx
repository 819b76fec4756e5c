import { Facts, LimitRule, Probability } from '../../../workbench/index.ts';

/** What a count by weight says, as the catalogue's calculation answers it. */
export interface CountFigures {
  readonly standardUncertaintyGrams: number;
  readonly posterior: readonly { readonly pieces: number; readonly probability: number }[];
  readonly probabilityBadWeighing: number;
  readonly rejectWindowGrams: { readonly lower: number; readonly upper: number };
  readonly warnWindowGrams: { readonly lower: number; readonly upper: number };
  readonly words: string;
}

/** The count verdict as a limit rule: the net mass in the window of the documented count. */
export function CountRule(props: {
  readonly count: CountFigures;
  readonly netMicrograms: number;
  readonly size?: 'row' | 'page';
}) {
  const { count, netMicrograms, size = 'page' } = props;
  const { rejectWindowGrams: window, warnWindowGrams: warn } = count;
  return (
    <LimitRule
      value={netMicrograms / 1e6}
      expandedUncertainty={2 * count.standardUncertaintyGrams}
      lowerLimit={window.lower}
      upperLimit={window.upper}
      guardBand={Math.max(0, warn.lower - window.lower)}
      unit="g"
      decimals={1}
      words={size === 'page' ? count.words : ''}
      size={size}
    />
  );
}

/** Counts that are likelier than one in ten thousand, each with its probability. */
export function CountChances({ count }: { readonly count: CountFigures }) {
  const leastProbability = 1e-4;
  return (
    <Facts
      facts={[
        ...count.posterior
          .filter(({ probability }) => probability > leastProbability)
          .map(
            ({ pieces, probability }) =>
              [`${pieces} pieces`, <Probability key={pieces} value={probability} />] as const,
          ),
        ['Bad weighing', <Probability key="bad" value={count.probabilityBadWeighing} />],
      ]}
    />
  );
}
