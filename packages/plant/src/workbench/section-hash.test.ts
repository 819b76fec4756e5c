import { describe, expect, it } from 'vitest';
import { hashOf, isNamedByHash } from './section-hash.ts';

describe('the part of an address behind #', () => {
  it('names a section, whatever letters its name has', () => {
    for (const id of ['blanks', 'run-R 1/2', 'Schmelze Ä']) {
      expect(isNamedByHash(hashOf(id), id)).toBe(true);
      expect(isNamedByHash(`${hashOf(id)}x`, id)).toBe(false);
    }
    expect(isNamedByHash('', 'blanks')).toBe(false);
    expect(isNamedByHash('#%', 'blanks')).toBe(false);
  });
});
