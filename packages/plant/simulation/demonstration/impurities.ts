import type { Chance } from '../chance.ts';

/** Elements that are sought in silver, each with its share of what is not silver. */
const shares = [
  ['Cu', 0.52, 0.5],
  ['Pb', 0.18, 0.4],
  ['Bi', 0.12, 0.5],
  ['Au', 0.08, 0.3],
  ['Fe', 0.06, 0.2],
  ['Zn', 0.04, 0.2],
  ['Pd', 0, 0.3],
  ['Ni', 0, 0.2],
  ['Cd', 0, 0.2],
] as const;

/** What the spectrometer finds in a solution of silver of that fineness. */
export function impuritiesOf(finenessPerMille: number, chance: Chance) {
  const total = (1000 - finenessPerMille) * 1000;
  return shares.map(([element, share, detectionLimit]) => {
    const trueContent = total * share;
    const content = Math.max(0, trueContent * (1 + chance.normal(0, 0.006)));
    const isFound = content > detectionLimit;
    return {
      element,
      contentMilligramsPerKilogram: isFound ? Number(content.toFixed(2)) : null,
      standardUncertaintyMilligramsPerKilogram: Number(
        Math.max(0.05, trueContent * 0.008).toFixed(3),
      ),
      detectionLimitMilligramsPerKilogram: detectionLimit,
    };
  });
}

/** The elements that silver holds beside itself, with their shares of the rest. */
export const impurityShares: readonly (readonly [string, number])[] = shares
  .filter(([, share]) => share > 0)
  .map(([element, share]) => [element, share]);
