import { describe, expect, it } from 'vitest';
import { controlsInput, firstControls, newReference, sentReferences } from './controls-draft.ts';

const edition = {
  method: 'AG-DIFF',
  edition: 2,
  title: 'Fine silver by difference',
  scope: { metal: 'silver' as const, leastPerMille: 999, greatestPerMille: 1000 },
  determinationsAtLeast: 2,
  referenceMaterials: [{ by: 'kind' as const, name: 'fine silver', perRun: 2 }],
  blanks: [{ quantity: 'Cu', unit: 'mg/kg', greatest: 1 }],
  reagents: ['nitric acid'],
};

const weighed = (text: string) => ({ text, unit: 'mg' as const, typed: true });

describe('the controls of a worksheet', () => {
  it('begin with what the edition asks for, and with nothing where none is in force', () => {
    const draft = firstControls(edition);
    expect(draft.references.map(({ label }) => label)).toEqual(['RM1', 'RM2']);
    expect(draft.blanks).toEqual([{ label: 'BL1', quantity: 'Cu', unit: 'mg/kg', value: '' }]);
    expect(draft.lots).toEqual([{ reagent: 'nitric acid', lot: '' }]);
    expect(firstControls(null)).toEqual({ references: [], blanks: [], lots: [] });
  });

  it('are sent without empty lines, each lot once', () => {
    const row = { element: 'Cu', content: '300', uncertainty: '5', limit: '2' };
    const filled = {
      ...newReference(2, [row]),
      referenceMaterial: ' RM-AG-1 ',
      taken: weighed('500'),
      cornet: weighed('499.5'),
    };
    const draft = {
      references: [newReference(1, []), filled],
      blanks: [{ label: 'BL1', quantity: 'Cu', unit: 'mg/kg', value: '0,2' }],
      lots: [
        { reagent: 'nitric acid', lot: 'ACID-7' },
        { reagent: 'water', lot: 'ACID-7' },
        { reagent: 'other', lot: '' },
      ],
    };
    expect(sentReferences(draft)).toEqual([1]);
    expect(controlsInput(draft, 'difference')).toEqual({
      references: [
        {
          label: 'RM2',
          referenceMaterial: 'RM-AG-1',
          taken: weighed('500'),
          impurities: [
            {
              element: 'Cu',
              contentMilligramsPerKilogram: 300,
              standardUncertaintyMilligramsPerKilogram: 5,
              detectionLimitMilligramsPerKilogram: 2,
            },
          ],
        },
      ],
      blanks: [{ label: 'BL1', quantity: 'Cu', unit: 'mg/kg', value: 0.2 }],
      reagentLots: ['ACID-7'],
    });
    expect(controlsInput(draft, 'cupellation').references).toMatchObject([
      { cornet: weighed('499.5') },
    ]);
    expect(controlsInput(firstControls(null), 'difference')).toEqual({});
  });
});
