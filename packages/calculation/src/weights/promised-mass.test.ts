import { describe, expect, it } from 'vitest';
import { bestTargetMass, bestTargetMassCalculation } from './best-target-mass.ts';
import { giveaway, giveawayCalculation } from './giveaway.ts';
import { pieceConformity, pieceConformityCalculation } from './piece-conformity.ts';

describe('pieceConformity', () => {
  const example = pieceConformityCalculation.example;
  const single = (mass: number, greatestRisk = 0.05) =>
    pieceConformity({
      massesGrams: [mass],
      individualStandardUncertaintyGrams: 0.01,
      commonStandardUncertaintyGrams: 0,
      rules: [{ kind: 'every-piece', lowerLimitGrams: 10 }],
      greatestRisk,
    });

  it('passes, leaves undecided and fails about the guard band of 1.645 standard uncertainties', () => {
    expect(single(10.0165).verdict).toBe('passes');
    expect(single(10.0164).verdict).toBe('undecided');
    expect(single(9.9836).verdict).toBe('undecided');
    expect(single(9.9835).verdict).toBe('fails');
    expect(single(10).rules[0]?.acceptFromGrams).toBeCloseTo(10.01644854, 7);
  });

  it('refuses an uncertainty beyond every mass, over which no integral can be taken', () => {
    const absurd = { ...example, commonStandardUncertaintyGrams: 1e308 };
    const parsed = pieceConformityCalculation.input.safeParse(absurd);
    expect(parsed.error?.issues[0]?.message).toBe('a value of at most 1000000000 g');
  });

  it('averages the error of single weighings over a group, not the shared one', () => {
    const rule = { lowerLimitGrams: 7.9 };
    const result = pieceConformity({
      ...example,
      individualStandardUncertaintyGrams: 0.003,
      commonStandardUncertaintyGrams: 0.001,
      rules: [
        { kind: 'every-piece', ...rule },
        { kind: 'group-mean', piecesPerGroup: 5, ...rule },
        { kind: 'sample-mean', ...rule },
      ],
    });
    const expected = [1, 5, 10].map((pieces) => Math.sqrt(9 / pieces + 1) / 1000);
    result.rules.forEach((one, index) => {
      expect(one.standardUncertaintyGrams).toBeCloseTo(expected[index] as number, 12);
    });
  });

  it('of a lot that was weighed whole is the statement about the pieces', () => {
    const whole = { ...example, individualStandardUncertaintyGrams: 0.0002 };
    const result = pieceConformity({
      ...whole,
      rules: [
        { kind: 'lot-mean', lotSizePieces: 10, lowerLimitGrams: 7.988 },
        { kind: 'sample-mean', lowerLimitGrams: 7.988 },
      ],
    });
    expect(result.rules[0]?.standardUncertaintyGrams).toBeCloseTo(
      result.rules[1]?.standardUncertaintyGrams ?? 0,
      12,
    );
  });

  it('has the worst verdict of its rules', () => {
    expect(pieceConformity(example).verdict).toBe('undecided');
    const heavy = { kind: 'every-piece' as const, lowerLimitGrams: 8 };
    const result = pieceConformity({ ...example, rules: [...example.rules, heavy] });
    expect(result.verdict).toBe('fails');
    expect(result.rules[4]).toMatchObject({ outside: 10, verdict: 'fails' });
  });

  it.each([
    [{ rules: [{ kind: 'sample-mean' as const }] }, 'a lower limit, an upper limit or both'],
    [
      { rules: [{ kind: 'sample-mean' as const, lowerLimitGrams: 9, upperLimitGrams: 8 }] },
      'a mass up to the upper limit of 8 g',
    ],
    [
      { rules: [{ kind: 'group-mean' as const, piecesPerGroup: 4, lowerLimitGrams: 7 }] },
      'divides the 10 pieces',
    ],
    [
      { rules: [{ kind: 'lot-mean' as const, lotSizePieces: 9, lowerLimitGrams: 7 }] },
      'at least the 10 pieces',
    ],
    [
      { massesGrams: [8], rules: [{ kind: 'lot-mean' as const, lowerLimitGrams: 7 }] },
      'at least 2 masses',
    ],
  ])('refuses %j', (change, accepted) => {
    expect(() => pieceConformity({ ...example, ...change })).toThrow(accepted);
  });
});

describe('giveaway', () => {
  const example = giveawayCalculation.example;

  it('values the fine metal at its price per troy ounce', () => {
    const { total } = giveaway(example);
    expect(total.lotMoney).toBeCloseTo((total.lotGrams / 31.1034768) * 30, 8);
  });

  it('is negative for a lot that falls short, and says so', () => {
    const result = giveaway({ ...example, finenessPerMille: 995 });
    expect(result.byFineness.lotGrams).toBeLessThan(0);
    expect(result.total.lotGrams).toBeLessThan(0);
    expect(result.words).toContain('falls short of');
  });

  it('refuses a lot smaller than the pieces weighed', () => {
    expect(() => giveaway({ ...example, lotPieces: 100 })).toThrow(
      'at least the 200 pieces weighed',
    );
  });
});

describe('bestTargetMass', () => {
  const example = bestTargetMassCalculation.example;

  it('says what the target costs about it', () => {
    const result = bestTargetMass(example);
    expect(result.costTenthDeviationLower).toBeGreaterThan(0);
    expect(result.costTenthDeviationHigher).toBeGreaterThan(0);
    expect(result.costWithTenthLessSpread).toBeGreaterThan(0);
    expect(result.givenAwayPerGoodPieceGrams).toBeGreaterThan(result.aboveLowerLimitGrams);
    expect(result.words).toContain('Set the process to a mean of 31.1506 g');
  });

  it('refuses costs that never rise on one side', () => {
    const free = { kind: 'fixed-costs' as const, costOfLightPiece: 1, costOfHeavyPiece: 0 };
    const upperLimit = { kind: 'given' as const, massGrams: 31.2 };
    expect(() => bestTargetMass({ ...example, upperLimit, costs: free })).toThrow(
      'costs that rise on both sides',
    );
  });

  it.each([
    [
      { upperLimit: { kind: 'given' as const, massGrams: 31 } },
      'a mass above the lower limit of 31.103 g',
    ],
    [
      {
        costs: { kind: 'fixed-costs' as const, costOfLightPiece: 1, costOfHeavyPiece: 1 },
      },
      'given where the costs are of kind fixed-costs',
    ],
    [
      {
        upperLimit: { kind: 'best' as const },
        costs: { kind: 'sold-apart' as const, costOfLightPiece: 1, metalPricePerGram: 1 },
      },
      'none where the costs are of kind sold-apart',
    ],
    [
      { costs: { ...example.costs, metalPricePerGram: 0 } as typeof example.costs },
      'a price above 0 where there is no given upper limit',
    ],
    [
      {
        upperLimit: { kind: 'best' as const },
        costs: { ...example.costs, metalPricePerGram: 0 } as typeof example.costs,
      },
      'a price above 0 where there is no given upper limit',
    ],
  ])('refuses %j', (change, accepted) => {
    expect(() => bestTargetMass({ ...example, ...change })).toThrow(accepted);
  });
});
