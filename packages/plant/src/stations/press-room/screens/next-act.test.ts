import { describe, expect, it } from 'vitest';
import { actsOf, nextActOf, nextWordsOf, type RunInHand } from './next-act.ts';

// The order of the acts is that of the work at a press: examine, close, send.
const waiting: RunInHand = {
  state: 'waiting for first strike',
  lastOccasion: null,
  piecesDeliverable: 0,
};
const running: RunInHand = { state: 'running', lastOccasion: 'roving', piecesDeliverable: 300 };
const examined: RunInHand = { state: 'running', lastOccasion: 'last', piecesDeliverable: 400 };
const closed: RunInHand = { state: 'closed', lastOccasion: 'last', piecesDeliverable: 400 };
const emptied: RunInHand = { ...closed, piecesDeliverable: 0 };

describe('what comes next for a run', () => {
  it('is its first strike when it was just opened', () => {
    expect(nextActOf(waiting)).toBe('record strike');
    expect(nextWordsOf(waiting, false)).toBe('record the first strike');
  });

  it('is another strike while it runs or is stopped', () => {
    expect(nextActOf(running)).toBe('record strike');
    expect(nextActOf({ ...running, state: 'stopped' })).toBe('record strike');
  });

  it('is closing it after the last strike was examined', () => {
    expect(nextActOf(examined)).toBe('close run');
  });

  it('is sending its pieces once it is closed, and nothing once they have left', () => {
    expect(nextActOf(closed)).toBe('send pieces');
    expect(nextActOf(emptied)).toBeNull();
  });

  it('is the ruling where a hold covers it', () => {
    expect(nextWordsOf(running, true)).toBe('a ruling on the hold');
  });
});

describe('the acts that a run offers', () => {
  it('begin with the one that comes next', () => {
    expect(actsOf(examined)).toEqual([
      'close run',
      'record strike',
      'send pieces',
      'set rejects aside',
    ]);
  });

  it('leave out strikes and closing once it is closed', () => {
    expect(actsOf(emptied)).toEqual(['send pieces', 'set rejects aside']);
  });
});
