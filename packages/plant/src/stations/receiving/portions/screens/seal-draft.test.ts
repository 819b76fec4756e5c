import { describe, expect, it } from 'vitest';
import { emptyPortion, nextPortion, takeBlank } from './seal-draft.ts';

describe('a portion while it is put together', () => {
  it('is followed by one for the next side, in the same place', () => {
    const first = { ...emptyPortion(), portion: 'P-1', place: 'Shelf 1', keptUntil: '2026-06-30' };
    const second = nextPortion(first);
    expect(second).toMatchObject({ for: 'supplier', portion: '', seal: '', place: 'Shelf 1' });
    const parties = [second, nextPortion(second), nextPortion(nextPortion(second))];
    expect(parties.map((one) => one.for)).toEqual(['supplier', 'umpire', 'reserve']);
    expect(nextPortion({ ...first, for: 'reserve' }).for).toBe('reserve');
  });

  const of = {
    inHand: ['M-1/1'],
    inOthers: ['M-1/2'],
    sample: ['M-1/1', 'M-1/2', 'M-1/3', 'M-1/4'].map((blank) => ({
      blank,
      isWhole: true,
      canBeSealed: blank !== 'M-1/4',
    })),
  };

  it('takes a blank that can be sealed, once', () => {
    expect(takeBlank(of, 'M-1/3')).toEqual({
      blanks: ['M-1/1', 'M-1/3'],
      words: 'M-1/3 taken, 2 in this portion.',
      isRight: true,
    });
  });

  it.each([
    ['M-2/1', 'no blank of this sample'],
    ['M-1/1', 'in this portion already'],
    ['M-1/2', 'in another portion'],
    ['M-1/4', 'cannot be sealed'],
  ])('does not take %s', (code, words) => {
    expect(takeBlank(of, code)).toMatchObject({
      blanks: ['M-1/1'],
      isRight: false,
      words: expect.stringContaining(words),
    });
  });
});
