import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { vickers } from '../../src/physical/vickers.ts';
import { vickersConstant, vickersHardness } from '../../src/physical/vickers-number.ts';
import values from './values.json' with { type: 'json' };

const cases = values.cases.map((one) => ({ ...one, inputs: one.inputs as Record<string, number> }));
const expectValue = (actual: number, one: { value: number; tolerance: number } | undefined) =>
  expect(Math.abs(actual - (one?.value ?? Number.NaN))).toBeLessThanOrEqual(one?.tolerance ?? 0);

describe('Vickers numbers', () => {
  it('have the constants of the standard', () => {
    const [newtons, kilograms] = cases.find((one) => one.id === 'hv-constant')?.expected ?? [];
    expectValue(vickersConstant, newtons);
    expectValue(vickersConstant * 9.80665, kilograms);
  });

  const single = cases.filter((one) => one.inputs.d !== undefined);
  it.each(single.map((one) => [one.id, one] as const))('%s', (_id, { inputs, expected }) => {
    expectValue(vickersHardness(inputs.F ?? 0, inputs.d ?? 0), expected[0]);
  });

  it('take the mean of two diagonals', () => {
    const { inputs, expected } = cases.find((one) => one.id === 'hv-two-diagonals') ?? {};
    const output = vickers({
      testForceNewtons: inputs?.F ?? 0,
      indentations: [
        {
          label: 'A',
          firstDiagonalMillimetres: inputs?.d1 ?? 0,
          secondDiagonalMillimetres: inputs?.d2 ?? 0,
        },
      ],
      spacingGroup: 'light metals, lead and tin',
      diagonalStandardUncertaintyMillimetres: 0.0005,
      forceRelativeStandardUncertaintyPercent: 0.5,
    });
    expect(output.indentations[0]?.meanDiagonalMillimetres).toBe(expected?.[0]?.value);
    expectValue(output.meanHardness, expected?.[1]);
  });

  it.each(['steel and copper alloys', 'light metals, lead and tin'] as const)(
    'keep the distances of the standard for %s',
    (group) => {
      const diagonal = 0.1;
      const { distances } = values;
      const judge = (scale: number) =>
        vickers({
          testForceNewtons: 9.807,
          indentations: [
            {
              label: 'A',
              firstDiagonalMillimetres: diagonal,
              secondDiagonalMillimetres: diagonal,
              edgeDistanceMillimetres: scale * distances.edge[group] * diagonal,
              neighbourDistanceMillimetres: scale * distances.neighbour[group] * diagonal,
            },
          ],
          spacingGroup: group,
          thicknessMillimetres: scale * distances.thickness * diagonal,
          diagonalStandardUncertaintyMillimetres: 0.0005,
          forceRelativeStandardUncertaintyPercent: 0.5,
        }).indentations[0];
      const just = { isThickEnough: true, isFarFromEdge: true, isFarFromNeighbour: true };
      const short = { isThickEnough: false, isFarFromEdge: false, isFarFromNeighbour: false };
      expect(judge(1.0001)).toMatchObject(just);
      expect(judge(0.999)).toMatchObject(short);
    },
  );
});

describe('ninety hardness numbers of dental gold', () => {
  const rows = readFileSync(new URL('./dental-gold.csv', import.meta.url), 'utf8')
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => line.split(',').map(Number));
  const force = 9.807;
  const seriesOf = (hardness: readonly number[]) =>
    vickers({
      testForceNewtons: force,
      indentations: hardness.map((value, at) => {
        const diagonal = Math.sqrt((vickersConstant * force) / value);
        return {
          label: `${at}`,
          firstDiagonalMillimetres: diagonal,
          secondDiagonalMillimetres: diagonal,
        };
      }),
      spacingGroup: 'steel and copper alloys',
      diagonalStandardUncertaintyMillimetres: 0,
      forceRelativeStandardUncertaintyPercent: 0,
    });

  it('have the mean and standard deviation that R finds', () => {
    const { count, mean, standardDeviation } = values.dentalGold;
    const output = seriesOf(rows.map((row) => row[4] ?? 0));
    expect(output.indentations).toHaveLength(count);
    expect(output.meanHardness / mean).toBeCloseTo(1, 11);
    expect((output.standardDeviation ?? 0) / standardDeviation).toBeCloseTo(1, 11);
    expect(output.standardUncertainty).toBeCloseTo(standardDeviation / Math.sqrt(count), 8);
  });

  it.each(Object.entries(values.dentalGold.meansByMethod))(
    'have the mean of method %s',
    (method, mean) => {
      const some = rows.filter((row) => row[1] === Number(method)).map((row) => row[4] ?? 0);
      expect(seriesOf(some).meanHardness / mean).toBeCloseTo(1, 11);
    },
  );
});
