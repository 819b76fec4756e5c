import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { pieceConformity } from '../../src/weights/piece-conformity.ts';
import { weightStatistics } from '../../src/weights/weight-statistics.ts';
import figures from './figures.json' with { type: 'json' };

const grainGrams = 0.06479891;
const standardGrains = 123.27447;

interface PyxClass {
  readonly bag: string;
  readonly middleGrains: number;
  readonly pieces: number;
}

const classes: PyxClass[] = readFileSync(new URL('./values.csv', import.meta.url), 'utf8')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => {
    const [bag = '', , , low, high, pieces] = line.split(',');
    const lower = low ? Number(low) : Number(high) - 0.2;
    const upper = high ? Number(high) : Number(low) + 0.2;
    return { bag, middleGrains: (lower + upper) / 2, pieces: Number(pieces) };
  });

function outsideRemedy(selected: readonly PyxClass[]) {
  const massesGrams = selected.flatMap(({ middleGrains, pieces }) =>
    new Array<number>(pieces).fill((standardGrains + middleGrains) * grainGrams),
  );
  const result = weightStatistics({
    massesGrams,
    lowerLimitGrams: (standardGrains - figures.remedy_grain) * grainGrams,
    upperLimitGrams: (standardGrains + figures.remedy_grain) * grainGrams,
    declaredMassGrams: standardGrains * grainGrams,
  });
  return {
    result,
    outside: (result.belowLowerLimitPieces ?? 0) + (result.aboveUpperLimitPieces ?? 0),
  };
}

describe('ten thousand sovereigns', () => {
  const { result, outside } = outsideRemedy(classes);

  it('are all there', () => {
    expect(result.countPieces).toBe(figures.total);
  });

  it('lie outside the remedy in as many cases as counted elsewhere', () => {
    expect(outside).toBe(figures.outside_remedy_total);
    expect(outside / result.countPieces).toBeCloseTo(figures.outside_remedy_fraction, 10);
  });

  it('do not allow normal theory: classed masses are coarse or not one process', () => {
    expect(result.normalTheory).toBe('refused');
  });
});

describe('the bags', () => {
  it.each(Object.entries(figures.outside_remedy_per_bag))(
    'bag %s has %i outside',
    (bag, expected) => {
      const { result, outside } = outsideRemedy(classes.filter((entry) => entry.bag === bag));
      expect(result.countPieces).toBe((figures.per_bag as Record<string, number>)[bag]);
      expect(outside).toBe(expected);
    },
  );
});

describe('ten thousand sovereigns judged piece by piece', () => {
  it('fail the remedy: as many lie outside as counted elsewhere, and the mean keeps it', () => {
    const massesGrams = classes.flatMap(({ middleGrains, pieces }) =>
      new Array<number>(pieces).fill((standardGrains + middleGrains) * grainGrams),
    );
    const limits = {
      lowerLimitGrams: (standardGrains - figures.remedy_grain) * grainGrams,
      upperLimitGrams: (standardGrains + figures.remedy_grain) * grainGrams,
    };
    const result = pieceConformity({
      massesGrams,
      individualStandardUncertaintyGrams: 0.0001,
      commonStandardUncertaintyGrams: 0.0001,
      rules: [
        { kind: 'every-piece', ...limits },
        { kind: 'sample-mean', ...limits },
      ],
      greatestRisk: 0.05,
    });
    expect(result.rules[0]).toMatchObject({
      verdict: 'fails',
      outside: figures.outside_remedy_total,
    });
    expect(result.rules[1]).toMatchObject({ verdict: 'passes', outside: 0 });
  });
});
