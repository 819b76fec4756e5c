import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { leastSquares } from '../../src/assay/least-squares.ts';
import { homogeneity } from '../../src/control/precision/homogeneity.ts';
import { shewhartVariables } from '../../src/control/shewhart-variables.ts';

function rowsOf(file: string): number[][] {
  const [, ...lines] = readFileSync(join(import.meta.dirname, file), 'utf8')
    .trim()
    .split('\n');
  return lines.map((line) => line.split(',').map(Number));
}

/** Values by the number in the first column. */
function grouped(file: string): { name: string; results: number[] }[] {
  const groups = Map.groupBy(rowsOf(file), ([group]) => group);
  return [...groups].map(([group, rows]) => ({
    name: String(group),
    results: rows.map(([, value]) => value as number),
  }));
}

const given = { confidencePercent: 95 };

describe('silver of four coinages (Hendy and Charles 1970)', () => {
  const output = homogeneity({
    characteristic: 'silver',
    unit: '%',
    items: grouped('byzantine_manuel_i_silver.csv'),
    ...given,
  });

  it('differs between the coinages, by the figures of R and scipy', () => {
    expect(output.degreesOfFreedomBetween).toBe(3);
    expect(output.degreesOfFreedomWithin).toBe(23);
    expect(output.sumOfSquaresBetween).toBeCloseTo(37.747526455, 8);
    expect(output.meanSquareWithin).toBeCloseTo(0.478932022084, 11);
    expect(output.ratio).toBeCloseTo(26.272014060755673, 9);
    expect((output.probability ?? 0) / 1.3059863060839907e-7).toBeCloseTo(1, 9);
  });
});

describe('spacing of gold lines (NIST)', () => {
  const items = grouped('nist_srm484_gold_line_spacing.csv');

  it('shows no difference between the batches', () => {
    const output = homogeneity({ characteristic: 'spacing', unit: 'µm', items, ...given });
    expect(output.ratio).toBeCloseTo(1.15024227626, 9);
    expect(output.probability).toBeCloseTo(0.3031554988, 9);
    expect(output.meanSquareWithin).toBeCloseTo(0.000210121013151, 14);
  });

  it('is in control by means and ranges', () => {
    const output = shewhartVariables({
      data: { chart: 'mean-range', subgroups: items.map(({ results }) => results) },
      limits: { from: 'data' },
      rules: [],
    });
    const [first] = output.location;
    expect(output.centreLine).toBeCloseTo(0.559913273148, 11);
    // The limits of R rest on the printed factor 1.023, which is good to half a unit of its last digit.
    const ofPrintedFactor = 0.0005 * 0.0228208555556;
    const off = (limit: number | undefined, printed: number) =>
      Math.abs((limit ?? Number.NaN) - printed);
    expect(off(first?.upperLimit, 0.583259008381)).toBeLessThanOrEqual(ofPrintedFactor);
    expect(off(first?.lowerLimit, 0.536567537915)).toBeLessThanOrEqual(ofPrintedFactor);
    expect(output.locationOutside).toEqual([]);
  });
});

describe('life of a cutting tool by feed and speed (Weisberg 2014)', () => {
  const rows = rowsOf('lathe_tool_life.csv');

  it('follows a power law with the exponents that R finds', () => {
    const output = leastSquares({
      withConstant: true,
      design: { kind: 'variables', names: ['log feed', 'log speed'] },
      rows: rows.map(([, , feed = 0, speed = 0, life = 0]) => ({
        response: Math.log(life),
        variables: [Math.log(feed), Math.log(speed)],
      })),
    });
    const expected = [
      [36.3114502199, 1.75491038],
      [-1.59581946917, 0.169017919801],
      [-4.541196216, 0.251637497017],
    ] as const;
    for (const [at, [estimate, uncertainty]] of expected.entries()) {
      expect((output.coefficients[at]?.estimate ?? 0) / estimate).toBeCloseTo(1, 8);
      expect((output.coefficients[at]?.standardUncertainty ?? 0) / uncertainty).toBeCloseTo(1, 8);
    }
    expect(output.residualStandardDeviation).toBeCloseTo(0.310031511243, 9);
    expect(output.determination).toBeCloseTo(0.960656649174, 9);
  });

  it('is described to the second order by the coefficients that R finds', () => {
    const output = leastSquares({
      withConstant: true,
      design: { kind: 'variables', names: ['feed', 'speed', 'feed²', 'speed²', 'feed·speed'] },
      rows: rows.map(([feed = 0, speed = 0, , , life = 0]) => ({
        response: Math.log(life),
        variables: [feed, speed, feed * feed, speed * speed, feed * speed],
      })),
    });
    const expected = [
      1.18809258084, -0.790227638343, -1.58901924615, 0.418508879753, 0.288075271305,
      -0.0728578829401,
    ];
    for (const [at, estimate] of expected.entries()) {
      expect(output.coefficients[at]?.estimate).toBeCloseTo(estimate, 7);
    }
    expect(output.residualStandardDeviation).toBeCloseTo(0.297209211487, 8);
  });
});
