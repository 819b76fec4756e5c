import { describe, expect, it } from 'vitest';
import { reasonSchema } from './identity.ts';

describe('reasonSchema', () => {
  it('takes lines of text, and no control characters that no paper can print', () => {
    expect(reasonSchema.safeParse('The seal was torn.\n\tIt was found so.').success).toBe(true);
    for (const reason of ['The seal\u0000was torn.', 'The seal \u001b[31mwas torn.', '   a ']) {
      expect(reasonSchema.safeParse(reason).error?.issues[0]?.message).toContain(
        'a reason of 3 to 500 characters',
      );
    }
  });
});
