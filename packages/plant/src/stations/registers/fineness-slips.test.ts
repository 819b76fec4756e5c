import { describe, expect, it } from 'vitest';
import { finenessSlip } from './fineness-slips.ts';
import { trialOfRegisters } from './registers-trial.ts';
import { goldPiece } from './trial-registers.ts';

const slip = (finenessPerMille: number, declaredPerMille?: number) =>
  finenessSlip({
    of: 'Melt M-1',
    field: 'fineness',
    finenessPerMille,
    ...(declaredPerMille === undefined ? {} : { declaredPerMille }),
  }).map(({ message }) => message);

describe('a fineness that is no figure in ‰', () => {
  it.each([
    [
      99.933,
      999.9,
      'Melt M-1: 99.933 ‰, less than half of the declared 999.9 ‰; written in percent it is 999.33 ‰. From 499.95 ‰ to 1000 ‰ is taken.',
    ],
    // 22 of 24 parts are 916.67 ‰.
    [
      22,
      916.7,
      'Melt M-1: 22 ‰, less than half of the declared 916.7 ‰; written in carats it is 916.667 ‰. From 458.35 ‰ to 1000 ‰ is taken.',
    ],
    [
      0.9999,
      999.9,
      'Melt M-1: 0.9999 ‰, less than half of the declared 999.9 ‰; written as a fraction it is 999.9 ‰. From 499.95 ‰ to 1000 ‰ is taken.',
    ],
    [
      400,
      999.9,
      'Melt M-1: 400 ‰, less than half of the declared 999.9 ‰. From 499.95 ‰ to 1000 ‰ is taken.',
    ],
    [
      58.5,
      undefined,
      'Melt M-1: 58.5 ‰; written in percent it is 585 ‰. From 100 ‰ to 1000 ‰ is taken.',
    ],
  ])('says what %d ‰ beside %s would be', (found, declared, message) => {
    expect(slip(found, declared)).toEqual([message]);
  });

  it('leaves alone what is merely low, and the alloys of few parts', () => {
    expect(slip(998.2, 999.9)).toEqual([]);
    expect(slip(750, 916.7)).toEqual([]);
    // Gold of 8 carats, and silver of a tenth.
    expect(slip(333, 333)).toEqual([]);
    expect(slip(100)).toEqual([]);
  });
});

describe('the registers', () => {
  it('refuse a piece standard declared in percent', async () => {
    const trial = await trialOfRegisters();
    const input = {
      ...goldPiece,
      finenessDeclaredPartsPerMillion: 99_990,
      finenessLimitPerMille: 99.99,
    };
    expect(await trial.refused('register-piece-standard', input)).toMatchObject([
      {
        refusal: 'FinenessImplausible',
        field: 'finenessDeclaredPartsPerMillion',
        message:
          'GOLD-10: 99.99 ‰; written in percent it is 999.9 ‰. From 100 ‰ to 1000 ‰ is taken.',
      },
    ]);
  });

  it.each([
    ['in percent', 0.009, '90 mg/kg'],
    ['ten thousand times too much', 9000, undefined],
  ])('refuse an impurity limit %s', async (_what, limit, words) => {
    const trial = await trialOfRegisters();
    const limits = [{ element: 'Ag', limitMilligramsPerKilogram: limit }];
    const input = { ...goldPiece, impurityTable: { edition: 'One', limits } };
    const [refusal] = await trial.refused('register-piece-standard', input);
    expect(refusal).toMatchObject({
      refusal: 'ImpurityLimitImplausible',
      field: 'impurityTable.limits.0.limitMilligramsPerKilogram',
      // 999.9 ‰ leave 100 mg/kg; five times that are 500.
      figures: { element: 'Ag', leastMilligramsPerKilogram: 0.1, mostMilligramsPerKilogram: 500 },
    });
    if (words) expect(refusal?.message).toContain(words);
    const sound = [{ element: 'Ag', limitMilligramsPerKilogram: 90 }];
    const table = { edition: 'One', limits: sound };
    await trial.recorded('register-piece-standard', { ...goldPiece, impurityTable: table });
  });

  it('refuse a reference material certified in percent', async () => {
    const trial = await trialOfRegisters();
    const silver = {
      referenceMaterial: 'RM-1',
      kind: 'fine silver',
      title: 'Fine silver one',
      metal: 'silver',
      certificate: 'Certificate 12',
      certified: [{ quantity: 'fineness', value: 99.97, unit: '‰', standardUncertainty: 0.005 }],
      received: { text: '5.000', unit: 'g', typed: true },
      validUntil: '2026-12-31',
    };
    expect(await trial.refused('receive-reference-material', silver)).toMatchObject([
      { refusal: 'FinenessImplausible', field: 'certified.0.value' },
    ]);
  });

  it('refuse a method whose scope is stated in percent', async () => {
    const trial = await trialOfRegisters();
    const method = {
      method: 'AU-CUP',
      title: 'Gold by cupellation',
      assayMethod: 'cupellation',
      calculation: 'cupellation',
      scope: { metal: 'gold', leastPerMille: 33.3, greatestPerMille: 99.9 },
      determinationsAtLeast: 2,
      referenceMaterials: [],
      greatestNormalizedError: 1,
      blanks: [],
      reagents: [],
      cautions: [],
      notes: '',
    };
    expect(await trial.refused('state-method', method)).toMatchObject([
      { refusal: 'FinenessImplausible', field: 'scope.greatestPerMille' },
    ]);
  });
});
