import { Facts, Figure, LimitRule, Probability } from '../../../workbench/index.ts';

/** What a count by weight says, as the catalogue's calculation answers it. */
export interface CountFigures {
  readonly expectedGrams: number;
  readonly standardUncertaintyGrams: number;
  readonly posterior: readonly { readonly pieces: number; readonly probability: number }[];
  readonly probabilityBadWeighing: number;
  readonly rejectWindowGrams: { readonly lower: number; readonly upper: number };
  readonly warnWindowGrams: { readonly lower: number; readonly upper: number };
  readonly words: string;
}

/** A count by weight: the net mass in its window, and the chance of each count. */
export function CountShown(props: {
  readonly count: CountFigures;
  readonly netGrams: number;
  readonly size?: 'row' | 'page';
}) {
  const { count, netGrams } = props;
  const { lower, upper } = count.rejectWindowGrams;
  const guard = count.warnWindowGrams.lower - lower;
  return (
    <>
      <LimitRule
        value={netGrams}
        expandedUncertainty={2 * count.standardUncertaintyGrams}
        lowerLimit={lower}
        upperLimit={upper}
        guardBand={Math.max(0, guard)}
        unit="g"
        decimals={2}
        words={count.words}
        size={props.size ?? 'page'}
      />
      <Facts
        facts={[
          ...count.posterior
            .filter(({ probability }) => probability > 1e-4)
            .map(
              ({ pieces, probability }) =>
                [`${pieces} pieces`, <Probability key={pieces} value={probability} />] as const,
            ),
          ['bad weighing', <Probability key="bad" value={count.probabilityBadWeighing} />],
          [
            'expected',
            <Figure
              key="expected"
              value={count.expectedGrams}
              uncertainty={2 * count.standardUncertaintyGrams}
              decimals={2}
              unit="g"
            />,
          ],
        ]}
      />
    </>
  );
}
