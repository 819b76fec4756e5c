import { describe, expect, it } from 'vitest';
import {
  countScanned,
  forgetScan,
  nothingScanned,
  type PicksInHand,
  takeScan,
} from './picks-in-hand.ts';

const drums = [
  { drum: 'D-1', picks: [{ blank: 'M-1/1' }, { blank: 'M-1/2' }] },
  { drum: 'D-2', picks: [{ blank: 'M-1/3' }] },
];

/** What the last of several scans says, and where the taking then stands. */
function after(...codes: readonly string[]) {
  let inHand: PicksInHand = nothingScanned;
  let last = takeScan(drums, inHand, '');
  for (const code of codes) {
    last = takeScan(drums, inHand, code);
    inHand = last.inHand;
  }
  return last;
}

describe('takeScan', () => {
  it('takes each pick at its drum, and says what is left', () => {
    expect(after('D-1').words).toBe('Drum D-1: 2 picks to take here.');
    expect(after('D-1', 'M-1/2').words).toBe('M-1/2 taken. 1 more in drum D-1.');
    const done = after('D-1', 'M-1/2', 'M-1/1');
    expect(done).toMatchObject({ isRight: true, words: 'M-1/1 taken. Drum D-1 is done.' });
    expect(done.inHand.scanned).toEqual(['M-1/2', 'M-1/1']);
  });

  it.each([
    ['a pick before any drum', ['M-1/1'], 'Scan the drum first: M-1/1 lies in D-1.'],
    [
      'a pick at the wrong drum',
      ['D-2', 'M-1/1'],
      'M-1/1 lies in D-1, and the drum scanned last is D-2.',
    ],
    ['a pick twice', ['D-1', 'M-1/1', 'M-1/1'], 'M-1/1 was taken already.'],
    ['another code', ['D-1', 'S-77'], 'S-77 is neither a drum nor a pick of this list.'],
  ])('refuses %s and takes nothing', (_what, codes, words) => {
    const before = after(...codes.slice(0, -1)).inHand;
    const last = after(...codes);
    expect(last).toMatchObject({ isRight: false, words });
    expect(last.inHand).toEqual(codes.length === 1 ? nothingScanned : before);
  });

  it('counts the picks of the list, and a substituted one anew', () => {
    const { inHand } = after('D-1', 'M-1/1', 'M-1/2', 'D-2', 'M-1/3');
    expect(countScanned(drums, inHand)).toBe(3);
    expect(countScanned(drums, forgetScan(inHand, 'M-1/3'))).toBe(2);
    expect(countScanned(drums.slice(1), inHand)).toBe(1);
  });
});
