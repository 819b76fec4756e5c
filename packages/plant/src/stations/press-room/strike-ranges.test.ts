import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { piecesDeliverable, strikesInRanges } from './strike-ranges.ts';

describe('strikes in ranges', () => {
  it('counts a strike once, however many ranges hold it', () => {
    const ranges = [
      { strikeFrom: 11, strikeTo: 20 },
      { strikeFrom: 15, strikeTo: 30 },
      { strikeFrom: 41, strikeTo: 41 },
    ];
    // 11 to 30 are 20 strikes, and 41 is one.
    expect(strikesInRanges(ranges, 100)).toBe(21);
    expect(strikesInRanges(ranges, 20)).toBe(10);
    expect(strikesInRanges([], 100)).toBe(0);
  });

  it('counts what a list of every strike counts, in any order of the ranges', () => {
    const range = fc
      .tuple(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 0, max: 30 }))
      .map(([strikeFrom, more]) => ({ strikeFrom, strikeTo: strikeFrom + more }));
    fc.assert(
      fc.property(
        fc.array(range, { maxLength: 6 }),
        fc.integer({ min: 0, max: 90 }),
        (ranges, upTo) => {
          const strikes = Array.from({ length: upTo }, (_, index) => index + 1);
          const inside = strikes.filter((strike) =>
            ranges.some(({ strikeFrom, strikeTo }) => strike >= strikeFrom && strike <= strikeTo),
          );
          expect(strikesInRanges(ranges, upTo)).toBe(inside.length);
        },
      ),
      { seed: 20260302 },
    );
  });
});

describe('pieces that may be delivered', () => {
  const run = { judgedUpTo: 100, condemned: [], piecesRejected: 0, piecesDelivered: 0 };

  it('are those up to the last judged strike, less rejects and less what has left', () => {
    expect(piecesDeliverable(run)).toBe(100);
    expect(piecesDeliverable({ ...run, piecesRejected: 3, piecesDelivered: 40 })).toBe(57);
  });

  it('are not lessened twice where the rejects are the condemned pieces', () => {
    const condemned = [{ strikeFrom: 51, strikeTo: 60 }];
    expect(piecesDeliverable({ ...run, condemned })).toBe(90);
    expect(piecesDeliverable({ ...run, condemned, piecesRejected: 10 })).toBe(90);
    expect(piecesDeliverable({ ...run, condemned, piecesRejected: 12 })).toBe(88);
  });

  it('are never fewer than none', () => {
    expect(piecesDeliverable({ ...run, judgedUpTo: 1, piecesRejected: 5 })).toBe(0);
  });
});
