import { describe, expect, it } from 'vitest';
import { emptyMelt, notReadOf, statedMelts, whyNotYet } from './certificate-draft.ts';

describe('a certificate while it is typed', () => {
  it('leaves out melts of which nothing was stated', () => {
    const melts = [
      { melt: 'M-1', fineness: '999,93', composition: 'Ag 41; Fe <2' },
      { melt: 'M-2', fineness: '', composition: '' },
      { melt: 'M-3', fineness: '', composition: 'Cu 5' },
      emptyMelt,
    ];
    expect(statedMelts(melts, '‰')).toEqual([
      {
        melt: 'M-1',
        finenessPerMille: 999.93,
        composition: [
          { element: 'Ag', content: 41, isBelow: false, unit: '‰' },
          { element: 'Fe', content: 2, isBelow: true, unit: '‰' },
        ],
      },
      {
        melt: 'M-3',
        finenessPerMille: null,
        composition: [{ element: 'Cu', content: 5, isBelow: false, unit: '‰' }],
      },
    ]);
  });

  it('says what is missing before it can be attached', () => {
    const typed = { document: '', melts: [emptyMelt], isKept: false, stated: 0 };
    expect(whyNotYet(typed)).toMatch(/called/);
    expect(whyNotYet({ ...typed, document: 'C 1' })).toMatch(/file/);
    const kept = { ...typed, document: 'C 1', isKept: true };
    expect(whyNotYet(kept)).toMatch(/at least one melt/);
    const unread = { ...emptyMelt, melt: 'M-1', composition: 'gold much' };
    expect(whyNotYet({ ...kept, melts: [unread], stated: 1 })).toMatch(/Not read: gold much/);
    expect(whyNotYet({ ...kept, stated: 1 })).toBeUndefined();
  });

  it('says what it cannot read', () => {
    expect(notReadOf({ ...emptyMelt, composition: 'Ag 4; copper: some' })).toMatch(/copper: some/);
    expect(notReadOf({ ...emptyMelt, composition: 'Ag 4' })).toBeUndefined();
  });
});
