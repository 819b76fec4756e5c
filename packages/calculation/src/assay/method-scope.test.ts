import { describe, expect, it } from 'vitest';
import { methodScope, methodScopeCalculation } from './method-scope.ts';

const example = methodScopeCalculation.example;
const of = (change: Partial<typeof example>) => methodScope({ ...example, ...change });
const element = (name: string, contentPerMille: number) => ({ element: name, contentPerMille });

describe('methodScope', () => {
  it('sends gold above 999.5 ‰ to the difference method', () => {
    expect(of({})).toMatchObject({ scope: 'outside', instead: 'difference by spectrometry' });
    expect(of({ expectedFinenessPerMille: 999.5 }).scope).toBe('inside');
    expect(of({ expectedFinenessPerMille: 99.9 })).toMatchObject({
      scope: 'outside',
      instead: null,
    });
  });

  it('excludes platinum metals that stay in the cornet, above 0.25 ‰ together', () => {
    const alloy = (each: number) =>
      of({
        expectedFinenessPerMille: 750,
        otherElements: ['Ir', 'Rh', 'Ru'].map((name) => element(name, each)),
      });
    expect(alloy(0.08).scope).toBe('inside');
    expect(alloy(0.09).scope).toBe('outside');
  });

  it('sets conditions for nickel, palladium and tin', () => {
    const gold = of({
      expectedFinenessPerMille: 750,
      otherElements: [element('Ni', 100), element('Pd', 50)],
    });
    expect(gold.scope).toBe('inside with conditions');
    expect(gold.reasons).toHaveLength(2);
    const silver = of({
      metal: 'silver',
      method: 'titration with chloride',
      expectedFinenessPerMille: 925,
      otherElements: [element('Pd', 1), element('Sn', 2)],
    });
    expect(silver.reasons.map((one) => one.weight)).toEqual(['condition', 'condition']);
    const mercury = { metal: 'silver', method: 'titration with bromide' } as const;
    expect(
      of({ ...mercury, expectedFinenessPerMille: 800, otherElements: [element('Hg', 1)] }).scope,
    ).toBe('outside');
  });

  it('asks for both solutions of fine silver, and knows no screen and no titration of gold', () => {
    const fine = of({
      metal: 'silver',
      method: 'difference by spectrometry',
      expectedFinenessPerMille: 999.9,
    });
    expect(fine.scope).toBe('inside with conditions');
    expect(of({ method: 'screen', expectedFinenessPerMille: 900 })).toMatchObject({
      scope: 'outside',
      instead: 'cupellation',
    });
    expect(
      of({ method: 'titration with bromide', expectedFinenessPerMille: 900 }).reasons[0]?.reason,
    ).toContain('does not determine gold');
  });

  it('takes the range of the edition in use', () => {
    const editionScope = { lowestPerMille: 333, highestPerMille: 999 };
    expect(of({ expectedFinenessPerMille: 999.2, editionScope }).scope).toBe('outside');
    expect(of({ expectedFinenessPerMille: 999.2 }).scope).toBe('inside');
  });

  it('refuses an alloy of more than the whole, and an empty range', () => {
    expect(() => of({ otherElements: [element('Cu', 100)] })).toThrow('do not exceed 1000 ‰');
    expect(() => of({ editionScope: { lowestPerMille: 900, highestPerMille: 900 } })).toThrow(
      'above the lowest',
    );
  });
});
