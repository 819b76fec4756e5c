import { describe, expect, it } from 'vitest';
import { homogeneity } from '../../src/control/precision/homogeneity.ts';
import { oneWayAnalysis } from '../../src/control/precision/one-way-analysis.ts';
import values from './values.json' with { type: 'json' };

interface Set {
  readonly name: string;
  readonly certified: Readonly<Record<string, number>>;
  readonly exact: Readonly<Record<string, number>>;
  readonly groups?: readonly (readonly number[])[];
  readonly counted?: readonly (readonly (readonly [number, number])[])[];
}

const sets = values.sets as unknown as readonly Set[];

function groupsOf(set: Set): number[][] {
  if (set.groups) return set.groups.map((group) => [...group]);
  return (set.counted ?? []).map((group) =>
    group.flatMap(([value, count]) => Array.from({ length: count }, () => value)),
  );
}

/** Digits that agree: the logarithm of the relative error, at most 16. */
function digits(found: number, right: number): number {
  return found === right ? 16 : -Math.log10(Math.abs(found - right) / Math.abs(right));
}

describe('certified analyses of variance', () => {
  // Certified to 15 digits, which two figures of AtmWtAg only allow 14.5 digits of agreement with.
  it.each(sets.map((set) => [set.name, set] as const))('%s to 14 digits and more', (_, set) => {
    const analysis = oneWayAnalysis(groupsOf(set));
    const { certified, exact } = set;
    const figures: readonly (readonly [number, number])[] = [
      [analysis.ratio ?? 0, certified['F'] ?? 0],
      [analysis.sumOfSquaresBetween, certified['ss_between'] ?? 0],
      [analysis.sumOfSquaresWithin, certified['ss_within'] ?? 0],
      [analysis.meanSquareBetween, certified['ms_between'] ?? 0],
      [analysis.meanSquareWithin, certified['ms_within'] ?? 0],
      [Math.sqrt(analysis.meanSquareWithin), certified['residual_sd'] ?? 0],
    ];
    for (const [found, right] of figures) expect(digits(found, right)).toBeGreaterThan(14.4);
    expect(digits(analysis.ratio ?? 0, exact['F'] ?? 0)).toBeGreaterThan(15.3);
    expect(analysis.degreesOfFreedomBetween).toBe(certified['df_between']);
    expect(analysis.degreesOfFreedomWithin).toBe(certified['df_within']);
  });

  it('reach the calculation as they are, with thirteen leading digits alike too', () => {
    const set = sets.find(({ name }) => name === 'smls07');
    if (!set) throw new Error('no set');
    const output = homogeneity({
      characteristic: set.name,
      unit: '1',
      items: groupsOf(set).map((results, index) => ({ name: String(index + 1), results })),
      confidencePercent: 95,
    });
    expect(output.ratio).toBe(21);
    expect(
      digits(output.determinationPercent, 100 * (set.certified['r_squared'] ?? 0)),
    ).toBeGreaterThan(14);
  });

  it('would keep a few digits only if readings were taken as the binary fractions next to them', () => {
    // The digits that the certificates lose to plain doubles: readings minus a number that is no
    // decimal of theirs go the other road, without whole numbers.
    const set = sets.find(({ name }) => name === 'smls07');
    if (!set) throw new Error('no set');
    const plain = oneWayAnalysis(groupsOf(set).map((group) => group.map((x) => x - 1e12)));
    expect(digits(plain.ratio ?? 0, 21)).toBeLessThan(5);
  });
});
