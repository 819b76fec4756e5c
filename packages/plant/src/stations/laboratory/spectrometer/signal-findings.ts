import { aboveStandards, driftFlags } from './finding-flags.ts';
import { type LimitPolicy, shareOfLimit } from './limit-policy.ts';
import type { Finding, ResultMethod } from './result-bodies.ts';
import type { SignalsEvaluated } from './signals.ts';

type Evaluated = Extract<SignalsEvaluated, { readonly output: object }>;

/** The content of an element in a solution, as its signals give it; nothing where it has none. */
export function signalFinding(
  { element, input, output, drift }: Evaluated,
  solution: string,
  by: { readonly method: ResultMethod; readonly policy: LimitPolicy },
): Omit<Finding, 'sharePercent'> | undefined {
  const found = output.solutions.find(({ label }) => label === solution);
  if (!found) return undefined;
  const own = input.solutions.find(({ label }) => label === solution);
  const known = by.method.limits.find((one) => one.element === element)?.detectionLimit;
  const limit = known ?? found.detectionLimitMilligramsPerKilogram;
  const mean = found.contentMilligramsPerKilogram;
  const isFound = mean >= limit && mean > 0;
  return {
    solution,
    element,
    replicates: own?.readings.length ?? 1,
    meanMilligramsPerKilogram: mean,
    contentMilligramsPerKilogram: isFound ? mean : null,
    standardUncertaintyMilligramsPerKilogram: isFound
      ? found.standardUncertaintyMilligramsPerKilogram
      : 0,
    detectionLimitMilligramsPerKilogram: limit,
    limitFrom: known === undefined ? output.limitBasis : 'method',
    countedMilligramsPerKilogram: isFound ? mean : limit * shareOfLimit[by.policy],
    flags: [...(found.insideStandards ? [] : [aboveStandards]), ...driftFlags(drift)],
  };
}
