import { describe, expect, it } from 'vitest';
import { participantsIn } from './participants-text.ts';

describe('results of others as they are pasted', () => {
  it('are a name, a value, and an uncertainty where one is stated', () => {
    expect(participantsIn('A; 916.8; 0.2; 2.1\nB\t916.5\n\nC;916.7;0.3')).toEqual({
      others: [
        { name: 'A', value: 916.8, uncertainty: { expanded: 0.2, coverageFactor: 2.1 } },
        { name: 'B', value: 916.5, uncertainty: null },
        { name: 'C', value: 916.7, uncertainty: { expanded: 0.3, coverageFactor: 2 } },
      ],
    });
  });

  it('say which line is none', () => {
    expect(participantsIn('A; nine')).toEqual({
      problem: '“A; nine” is no result, as “Laboratory 3; 916.8; 0.2; 2”',
    });
  });
});
