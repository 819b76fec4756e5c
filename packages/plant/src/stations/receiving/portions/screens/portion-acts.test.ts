import { describe, expect, it } from 'vitest';
import { actsOf } from './portion-acts.ts';

const reserve: Parameters<typeof actsOf>[0] = {
  sent: null,
  portion: 'P-4',
  melt: 'M-1',
  consignment: 'C-1',
  pieceStandard: 'GOLD-10',
  metal: 'gold',
  finenessDeclaredPartsPerMillion: 999_900,
  for: 'reserve',
  blanks: ['M-1/1', 'M-1/2'],
  gone: [],
  grossMicrograms: 20_000_000,
  place: 'Shelf 1',
  keptUntil: '2026-06-30',
  state: 'sealed',
  since: '',
  sealedAt: '',
  entry: 1,
  document: null,
  pieces: 2,
  isOverdue: false,
  isInDispute: false,
  recipients: ['supplier', 'umpire'],
};

const sent = (isReported: boolean) => ({ entry: 5, answerBy: null, isReported });

describe('what can be done with a portion', () => {
  it.each([
    ['is kept', {}, ['send', 'open', 'keep']],
    ['is overdue', { isOverdue: true }, ['return', 'discard', 'keep', 'send', 'open']],
    ['holds cuttings', { isOverdue: true, pieces: 0 }, ['discard', 'keep', 'send', 'open']],
    ['is disputed', { isOverdue: true, isInDispute: true }, ['keep', 'send', 'open']],
    [
      'is the plant’s own',
      { recipients: [], keptUntil: null },
      ['open', 'return', 'discard', 'keep'],
    ],
    [
      'is outside',
      { state: 'with the umpire', sent: sent(false) },
      ['report', 'takeBack', 'discard', 'keep'],
    ],
    [
      'is outside, with a report',
      { state: 'with the umpire', sent: sent(true) },
      ['takeBack', 'discard', 'keep', 'report'],
    ],
    ['was used up outside', { state: 'used up', sent: sent(false) }, ['report']],
    ['was opened', { state: 'opened' }, []],
  ] as const)('that %s', (_what, change, acts) => {
    expect(actsOf({ ...reserve, ...change })).toEqual(acts);
  });
});
