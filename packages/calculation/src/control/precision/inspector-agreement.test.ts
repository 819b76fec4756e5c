import { describe, expect, it } from 'vitest';
import { inspectorAgreement, inspectorAgreementCalculation } from './inspector-agreement.ts';
import { cohenKappa, fleissKappa } from './kappa.ts';

const { example } = inspectorAgreementCalculation;

/** Items by standard and judgements: letters of inspector, then category. */
const items = (list: readonly (readonly [string, ...(readonly string[])])[]) =>
  list.map(([standard, ...judgements], index) => ({
    name: `I${index + 1}`,
    standard,
    judgements: judgements.map((text) => ({
      inspector: text.slice(0, 1),
      category: text.slice(1),
    })),
  }));

const study = {
  ...example,
  categories: ['good', 'bad'],
  faultCategories: ['bad'],
  items: items([
    ['good', 'Agood', 'Agood', 'Bgood', 'Bgood'],
    ['good', 'Abad', 'Agood', 'Bgood', 'Bgood'],
    ['bad', 'Abad', 'Abad', 'Bbad', 'Bbad'],
    ['bad', 'Abad', 'Agood', 'Bgood', 'Bgood'],
  ]),
};

describe('agreement of inspectors', () => {
  it('counts by hand: agreement, effectiveness, misses and false alarms', () => {
    const output = inspectorAgreement(study);
    const [a, b] = output.inspectors;
    expect([a?.withinSelf?.count, a?.withinSelf?.of]).toEqual([2, 4]);
    expect([b?.withinSelf?.count, b?.withinSelf?.of]).toEqual([4, 4]);
    expect([a?.withStandard?.count, b?.withStandard?.count]).toEqual([2, 3]);
    // A misses one judgement of four on bad items, B two; A raises one false alarm of four.
    expect([a?.misses?.count, a?.misses?.of, b?.misses?.count]).toEqual([1, 4, 2]);
    expect([a?.falseAlarms?.count, a?.falseAlarms?.of, b?.falseAlarms?.count]).toEqual([1, 4, 0]);
    expect([output.betweenInspectors?.count, output.allWithStandard?.count]).toEqual([2, 2]);
    expect(output.fleiss?.judgementsPerItem).toBe(4);
    expect(output.words).toContain('B: agrees with himself on 100 % (4 of 4');
    expect(inspectorAgreementCalculation.draw?.(study, output).length).toBe(2);
  });

  it('compares repeats in their order, and against the standard one by one', () => {
    const output = inspectorAgreement(study);
    // Pairs of A and B: good-good ×3, bad-good ×2, good-good... counted: [5, 0], [1, 2] by category.
    const direct = cohenKappa(
      [
        [4, 0],
        [2, 2],
      ],
      'none',
      0.95,
    );
    expect(output.pairs[0]?.kappa).toBeCloseTo(direct.kappa ?? 0, 14);
    // A against the standard: good as good 3, good as bad 1, bad as bad 3, bad as good 1.
    const standard = cohenKappa(
      [
        [3, 1],
        [1, 3],
      ],
      'none',
      0.95,
    );
    expect(output.inspectors[0]?.standardKappa?.kappa).toBeCloseTo(standard.kappa ?? 0, 14);
  });

  it('has no kappa of all where items have different numbers of judgements', () => {
    const uneven = items([
      ['good', 'Agood'],
      ['bad', 'Abad', 'Bbad'],
    ]);
    const output = inspectorAgreement({ ...study, items: uneven });
    expect(output.fleiss).toBe(null);
    expect(output.betweenInspectors?.of).toBe(1);
  });

  it('refuses categories that are not in the list, and lists that repeat one', () => {
    const bad = items([
      ['good', 'Agood'],
      ['bad', 'Augly'],
    ]);
    expect(() => inspectorAgreement({ ...study, items: bad })).toThrow(
      'items.1.judgements is ugly; accepted: one of good, bad',
    );
    expect(() => inspectorAgreement({ ...study, faultCategories: ['ugly'] })).toThrow(
      'faultCategories',
    );
    expect(() => inspectorAgreement({ ...study, categories: ['good', 'bad', 'bad'] })).toThrow(
      'categories that differ',
    );
    const standard = items([
      ['fair', 'Agood'],
      ['bad', 'Abad'],
    ]);
    expect(() => inspectorAgreement({ ...study, items: standard })).toThrow(
      'items.0.standard is fair',
    );
  });

  it('refuses tables that are not square and items with different sums', () => {
    expect(() => cohenKappa([[1, 2]], 'none', 0.95)).toThrow('a square table of counts');
    expect(() =>
      fleissKappa([
        [2, 0],
        [1, 0],
      ]),
    ).toThrow('the same number of judgements');
    expect(
      fleissKappa([
        [2, 0],
        [2, 0],
      ]).overall.kappa,
    ).toBe(null);
  });
});
