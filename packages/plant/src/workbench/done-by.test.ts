import { describe, expect, it } from 'vitest';
import { doneByWords } from './done-by.ts';

describe('who does what a person may not do', () => {
  it.each([
    [
      ['chief assayer'],
      'author and witness',
      'Settle difference: this is done by the chief assayer, with a second person.',
    ],
    [
      ['custodian', 'metal accountant', 'chief assayer'],
      'none',
      'Settle difference: this is done by the custodian, metal accountant or chief assayer.',
    ],
  ] as const)('is told for %s', (roles, signature, words) => {
    expect(doneByWords('Settle difference', { roles, signature })).toBe(words);
  });
});
