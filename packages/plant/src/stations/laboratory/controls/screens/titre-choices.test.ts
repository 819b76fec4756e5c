import { describe, expect, it } from 'vitest';
import type { ReagentLotRow, ReferenceMaterialRow } from '../../../registers/index.ts';
import { openTitrants, standardSilver, titreNotYet } from './titre-choices.ts';

const day = '2026-03-02';

const titrant: ReagentLotRow = {
  lot: 'T-1',
  reagent: 'potassium bromide 0.1 mol/L',
  supplier: 'Made here',
  supplierLot: 'Notebook 4, page 12',
  expires: '2026-06-30',
  isTitrant: true,
  state: 'open',
  opened: { entry: 9, instant: '2026-03-01T08:00:00.000Z', author: 'assayer' },
  condemned: null,
  factor: null,
  entry: 8,
  since: '2026-03-01T07:00:00.000Z',
};

describe('the lots whose titre can be determined', () => {
  it('are open titrants that have not expired; of any other its page says why not', () => {
    const acid = { ...titrant, lot: 'A-1', reagent: 'nitric acid 33 %', isTitrant: false };
    const closed = { ...titrant, lot: 'T-2', state: 'closed' as const };
    const old = { ...titrant, lot: 'T-3', expires: '2026-03-01' };
    const condemned = { ...titrant, lot: 'T-4', state: 'condemned' as const };
    const lots = [titrant, acid, closed, old, condemned];
    expect(openTitrants(lots, day).map(({ lot }) => lot)).toEqual(['T-1']);
    expect(lots.map((row) => titreNotYet(row, day))).toEqual([
      undefined,
      'Lot A-1 of nitric acid 33 % was received as no titrant.',
      'Lot T-2 of potassium bromide 0.1 mol/L has not been opened.',
      'Lot T-3 of potassium bromide 0.1 mol/L expired on 2026-03-01.',
      'Lot T-4 of potassium bromide 0.1 mol/L was condemned.',
    ]);
    expect(titreNotYet(null, day)).toBe('No such lot is in the register of reagents.');
  });
});

describe('the standard silver that is offered', () => {
  it('is silver in use with a certified fineness, of which some is left', () => {
    const silver: ReferenceMaterialRow = {
      referenceMaterial: 'AG-1',
      kind: 'fine silver',
      title: 'Fine silver',
      metal: 'silver',
      certificate: 'AG 17',
      certified: [{ quantity: 'fineness', value: 999.9, unit: '‰', standardUncertainty: 0.02 }],
      received: { text: '50', unit: 'g', typed: true },
      validUntil: '2026-12-31',
      massReceivedMicrograms: 50_000_000,
      massRemainingMicrograms: 49_000_000,
      uses: 1,
      retired: null,
      entry: 3,
      since: '2026-01-02T07:00:00.000Z',
    };
    const others: readonly ReferenceMaterialRow[] = [
      { ...silver, referenceMaterial: 'AU-1', metal: 'gold' },
      { ...silver, referenceMaterial: 'AG-2', validUntil: '2026-03-01' },
      { ...silver, referenceMaterial: 'AG-3', massRemainingMicrograms: 0 },
      {
        ...silver,
        referenceMaterial: 'AG-4',
        retired: { entry: 5, instant: silver.since, author: 'chief', reason: 'Tarnished.' },
      },
      {
        ...silver,
        referenceMaterial: 'AG-5',
        certified: [{ quantity: 'Cu', value: 20, unit: 'mg/kg', standardUncertainty: 1 }],
      },
    ];
    const offered = standardSilver([silver, ...others], day);
    expect(offered.map(({ referenceMaterial }) => referenceMaterial)).toEqual(['AG-1']);
  });
});
