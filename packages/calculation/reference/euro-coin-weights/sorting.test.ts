import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { countOfSeries, countOfSeriesCalculation } from '../../src/counting/count-of-series.ts';
import { nestedSample } from '../../src/counting/nested-sample.ts';
import { giveaway, giveawayCalculation } from '../../src/weights/giveaway.ts';
import { secondMode } from '../../src/weights/second-mode.ts';
import { sorterEdge } from '../../src/weights/sorter-edge.ts';
import { weightStatistics } from '../../src/weights/weight-statistics.ts';
import figures from './figures.json' with { type: 'json' };

const coins = readFileSync(new URL('./values.csv', import.meta.url), 'utf8')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => {
    const [, packageName = '', mass] = line.split(',');
    return { packageName, massGrams: Number(mass) };
  });
const all = coins.map((coin) => coin.massGrams);
// With 19 samples of one heap the least probability is 0.05: the level lies just above.
const test = { dipSamples: 500, seed: 2006, level: 0.051 };

describe('2000 coins', () => {
  it('show no second mode, though they are not one normal heap, as the article found', () => {
    const result = secondMode({
      ...test,
      massesGrams: all,
      heapsTest: { kind: 'bootstrap', samples: 19, standardDeviations: 'free' },
    });
    expect(result.verdict).toBe('two-heaps-one-mode');
    expect(result.dipProbability).toBeGreaterThan(0.1);
    expect(result.fittedModes).toBe(1);
  });

  it('show a second mode when half of them are shifted by four deviations', () => {
    const shifted = all.map((mass, index) => (index % 2 === 0 ? mass + 0.13 : mass));
    const result = secondMode({ ...test, massesGrams: shifted, heapsTest: { kind: 'none' } });
    expect(result.verdict).toBe('two-modes');
  });

  it('give away in fine metal what the statistics of weights say in mass', () => {
    const result = giveaway({
      ...giveawayCalculation.example,
      masses: { kind: 'pieces', massesGrams: all },
      lotPieces: 2000,
      declaredMassGrams: 7.5,
      declaredFinenessPerMille: 1000,
      finenessPerMille: 1000,
    });
    const statistics = weightStatistics({ massesGrams: all, declaredMassGrams: 7.5 });
    expect(result.total.lotGrams).toBeCloseTo(statistics.giveawayTotalGrams ?? 0, 8);
    const sum = Object.values(figures.total_mass_per_package_g).reduce((a, b) => a + b, 0);
    expect(result.total.lotGrams).toBeCloseTo(sum - 2000 * 7.5, 8);
  });

  it('with the light ones taken out betray where they were cut', () => {
    const cut = 7.5;
    const kept = all.filter((mass) => mass >= cut && mass < 7.7);
    const found = (side: 'light' | 'heavy') =>
      sorterEdge({
        massesGrams: kept,
        side,
        unsorted: { kind: 'estimated' },
        sorterRepeatabilityGrams: 0,
        nearestPieces: 40,
        confidence: 0.99,
        ...(side === 'heavy' ? { otherEdgeGrams: cut - 0.0005 } : {}),
      });
    const light = found('light');
    expect(light.verdict).toBe('cut');
    expect(light.edgeGrams).toBe(7.5);
    // Readings have steps of 0.001 g: the cut lies within half a step below.
    expect(light.edgeFromGrams as number).toBeGreaterThan(cut - 0.0015);
    expect(found('heavy').verdict).toBe('not-shown');
  });
});

describe('packages of 250 coins, counted by weight', () => {
  const names = Object.keys(figures.per_package);
  const packages = names.map((name) =>
    coins.filter((coin) => coin.packageName === name).map((coin) => coin.massGrams),
  );
  const nested = nestedSample(packages);
  // Piece and package deviations of these coins themselves; the first 100 coins are the reference.
  const setup = {
    ...countOfSeriesCalculation.example,
    referenceMeanGrams: all.slice(0, 100).reduce((sum, mass) => sum + mass, 0) / 100,
    referenceMeanStandardUncertaintyGrams: nested.pieceStandardDeviationGrams / 10,
    lotStandardDeviationGrams: nested.lotStandardDeviationGrams,
    pieceStandardDeviationGrams: nested.pieceStandardDeviationGrams,
    driftPerTubeGrams: nested.lotStandardDeviationGrams,
    gainRelative: 0.00001,
    storedTareGrams: 20,
    tareStandardDeviationGrams: 0.05,
    tareMeanStandardUncertaintyGrams: 0.01,
    repeatabilityGrams: 0.02,
    divisionGrams: 0.1,
  };
  /** Tubes of so many coins of one package each, from one of which a coin was taken. */
  const weighed = (piecesPerTube: number, robbed?: number) => {
    const groups = packages.flatMap((masses) =>
      Array.from({ length: 250 / piecesPerTube }, (_, tube) =>
        masses.slice(tube * piecesPerTube, (tube + 1) * piecesPerTube),
      ),
    );
    return countOfSeries({
      ...setup,
      tubes: groups.map((masses, index) => {
        const kept = index === robbed ? masses.slice(1) : masses;
        const gross = 20 + kept.reduce((sum, mass) => sum + mass, 0);
        return {
          label: `tube ${index + 1}`,
          bookedPieces: piecesPerTube,
          grossReadingsGrams: [Math.round(10 * gross) / 10],
        };
      }),
    });
  };

  it('250 unsorted coins are beyond what weight can prove: the mean between packages wanders', () => {
    const result = weighed(250);
    // A package mean wanders by 0.0073 g, 250 of them by 1.8 g: a quarter of a coin.
    for (const tube of result.tubes) {
      expect(tube.proofIndex).toBeLessThan(4.5);
      expect(tube.verdict).toBe('cannot-prove');
    }
    expect(result.expectedWrongTubes).toBeLessThan(0.1);
  });

  it('40 tubes of 50 coins are all proved', () => {
    const result = weighed(50);
    expect(result.proved).toBe(40);
    expect(result.probabilityAllAsBooked).toBeGreaterThan(0.999);
  });

  it.each([0, 22, 39])(
    'a coin taken from tube %i of 50 is missed there and nowhere else',
    (robbed) => {
      const result = weighed(50, robbed);
      const doubtful = result.tubes.flatMap((tube, index) =>
        tube.verdict === 'proved' ? [] : [index],
      );
      expect(doubtful).toEqual([robbed]);
      const [fewer] = result.tubes[robbed]?.posterior ?? [];
      expect(fewer?.pieces).toBe(49);
      // One weighing is capped by the chance that it is itself bad: 2e-4/0.45 g against 1e-3·0.93/20 g gives
      // 0.90 for a reading that fits 49 coins exactly, less for one beside it.
      expect(fewer?.probability).toBeGreaterThan(0.8);
      expect(fewer?.probability).toBeLessThan(0.92);
      expect(result.tubes[robbed]?.verdict).toBe('weigh-again');
    },
  );
});
