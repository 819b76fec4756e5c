import { describe, expect, it } from 'vitest';
import {
  binomialAcceptance,
  hypergeometricAcceptance,
  poissonAcceptance,
} from '../../src/sampling/acceptance-probability.ts';
import values from './values.json' with { type: 'json' };

interface Group {
  readonly id: string;
  readonly points?: readonly (readonly number[])[];
  readonly result?: Readonly<Record<string, number>>;
  readonly tol: number | string;
}

const groups = values.groups as unknown as readonly Group[];

function group(id: string): Group & { readonly points: readonly (readonly number[])[] } {
  const found = groups.find((candidate) => candidate.id === id);
  if (!found) throw new Error(`no group ${id}`);
  return { points: [], ...found };
}

describe('Table X recomputed', () => {
  const accept = values.tableX.acceptancePercent;
  it.each(values.tableX.rows)('row $id', (row) => {
    const plan = { sampleSizePieces: row.n, acceptanceNumber: row.Ac };
    for (const [index, percent] of accept.entries()) {
      const binomial = row.binomialPercent?.[index];
      const poisson = row.poissonPer100Units[index] as number;
      // Four digits of the quality leave the probability open by its slope times half a unit.
      const open = (curve: (quality: number) => number, quality: number) => {
        const half = 0.5 * 10 ** (Math.floor(Math.log10(quality)) - 3);
        return [curve(quality + half) - 1e-9, curve(quality - half) + 1e-9];
      };
      if (binomial !== undefined) {
        const [least, most] = open((quality) => binomialAcceptance(plan, quality / 100), binomial);
        expect(percent / 100).toBeGreaterThanOrEqual(least as number);
        expect(percent / 100).toBeLessThanOrEqual(most as number);
      }
      const [least, most] = open((quality) => poissonAcceptance(plan, quality / 100), poisson);
      expect(percent / 100).toBeGreaterThanOrEqual(least as number);
      expect(percent / 100).toBeLessThanOrEqual(most as number);
    }
  });
});

describe('published and remembered curves', () => {
  it.each([
    ['OC-BIN-10-3', 10, 3],
    ['OC-BIN-89-2', 89, 2],
    ['NIST-OC-52-3', 52, 3],
  ] as const)('%s, binomial', (id, sampleSizePieces, acceptanceNumber) => {
    const { points, tol } = group(id);
    expect(points.length).toBeGreaterThan(5);
    for (const [fraction, probability] of points) {
      const found = binomialAcceptance({ sampleSizePieces, acceptanceNumber }, fraction as number);
      expect(Math.abs(found - (probability as number))).toBeLessThanOrEqual(tol as number);
    }
  });

  it('OC-POI-180-9, Poisson', () => {
    const { points, tol } = group('OC-POI-180-9');
    expect(points).toHaveLength(10);
    for (const [fraction, probability] of points) {
      const found = poissonAcceptance(
        { sampleSizePieces: 180, acceptanceNumber: 9 },
        fraction as number,
      );
      expect(Math.abs(found - (probability as number))).toBeLessThanOrEqual(tol as number);
    }
  });

  it('OC-HYP-10-1, hypergeometric in a lot of 5000', () => {
    const { points } = group('OC-HYP-10-1');
    expect(points).toHaveLength(5);
    for (const [fraction, probability] of points) {
      const found = hypergeometricAcceptance(
        { sampleSizePieces: 10, acceptanceNumber: 1 },
        { lotSizePieces: 5000, nonconformingPieces: Math.round(5000 * (fraction as number)) },
      );
      expect(Math.abs(found - (probability as number))).toBeLessThanOrEqual(1e-6);
    }
  });

  it('OC-GLOSS: about 23 % of the lots with 8 % nonconforming pass 50, 2', () => {
    const plan = { sampleSizePieces: 50, acceptanceNumber: 2 };
    expect(Math.abs(binomialAcceptance(plan, 0.08) - 0.226)).toBeLessThan(0.0005);
    const lot = { lotSizePieces: 2000, nonconformingPieces: 160 };
    expect(Math.abs(hypergeometricAcceptance(plan, lot) - 0.2223)).toBeLessThan(0.00005);
  });

  it('DESIGN-1 and DESIGN-3: the designed plans keep their two risks', () => {
    const first = { sampleSizePieces: 80, acceptanceNumber: 7 };
    expect(binomialAcceptance(first, 0.05)).toBeGreaterThanOrEqual(0.95);
    expect(binomialAcceptance(first, 0.15)).toBeLessThanOrEqual(0.075);
    const second = { sampleSizePieces: 132, acceptanceNumber: 3 };
    expect(1 - binomialAcceptance(second, 0.01)).toBeCloseTo(0.04425251, 8);
    expect(binomialAcceptance(second, 0.05)).toBeCloseTo(0.0992283, 7);
    expect(binomialAcceptance(second, 0.03)).toBeCloseTo(0.4384354, 7);
  });

  it('CAMERON: figures are those of the Poisson curve, cut off', () => {
    const { points } = group('CAMERON');
    expect(points).toHaveLength(20);
    for (const point of points) {
      const acceptanceNumber = point[0] as number;
      for (const [column, probability] of [0.995, 0.99, 0.975, 0.95].entries()) {
        // The two recorded exceptions, see SOURCE.md.
        if (acceptanceNumber === 16 && column === 0) continue;
        if (acceptanceNumber === 3 && column === 2) continue;
        const printed = point[column + 1] as number;
        // Figures have two decimals, or three.
        const unit = Number.isInteger(Math.round(printed * 1e6) / 1e4) ? 0.01 : 0.001;
        const curve = (mean: number) =>
          poissonAcceptance({ sampleSizePieces: 1, acceptanceNumber }, mean);
        expect(curve(printed - 1e-12)).toBeGreaterThanOrEqual(probability - 1e-9);
        expect(curve(printed + unit)).toBeLessThan(probability);
      }
    }
  });

  it.each(values.detection)(
    'finds $defects wrong among $N by $n',
    ({ N, defects, n, p_detect }) => {
      const missed = hypergeometricAcceptance(
        { sampleSizePieces: n, acceptanceNumber: 0 },
        { lotSizePieces: N, nonconformingPieces: defects },
      );
      expect(Math.abs(1 - missed - p_detect)).toBeLessThan(1e-8);
    },
  );
});
