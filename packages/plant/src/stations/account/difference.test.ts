import { describe, expect, it } from 'vitest';
import { balances } from '../../journal/core-books.ts';
import {
  accountTrial,
  bodyOf,
  close,
  found,
  refusalOf,
  sign,
  tally,
  withPieces,
} from './account-trial.ts';
import type { ShiftClosed } from './bodies.ts';

// Figures are sums that a reader can do by hand: 100 pieces of 31.103 g are 3 110.3 g.

describe('sign-difference and explain-difference', () => {
  it('takes the missing piece out of the place, so that the shift closes, and stays open', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(99, '3079.2')]);
    const outcome = await sign(trial, { gross: { text: '31.1', unit: 'g', typed: true } });
    expect(bodyOf(outcome)).toMatchObject({ difference: 'D-10', tally: 9, pieces: 1 });
    expect(outcome).toMatchObject({
      entries: [
        {
          postings: [
            {
              from: 'receiving',
              to: 'difference',
              melt: 'M-1',
              pieces: 1,
              grossMicrograms: 31_100_000,
              fineMicrograms: 31_100_000,
              estimated: false,
            },
          ],
        },
      ],
    });
    const [line] = bodyOf<ShiftClosed>(await close(trial)).places[0]?.lines ?? [];
    expect(line).toMatchObject({
      piecesSigned: -1,
      piecesDifference: 0,
      grossMicrogramsDifference: 0,
    });
    const row = await trial.books.get(balances, 'receiving', 'gold', 'trial-piece', 'M-1');
    expect(row?.pieces).toBe(99);
    expect(await trial.ask('differences', {}, 'chief')).toMatchObject({
      differences: [{ difference: 'D-10', state: 'open', pieces: -1 }],
    });
  });

  it('brings a surplus into the place', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(101, null)]);
    await sign(trial, { direction: 'surplus' });
    expect(bodyOf<ShiftClosed>(await close(trial)).places[0]?.lines[0]).toMatchObject({
      piecesSigned: 1,
      piecesDifference: 0,
    });
  });

  it('puts the piece back into the book when it is found', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(99, null)]);
    await sign(trial);
    const input = {
      difference: 'D-10',
      outcome: 'found',
      explanation: 'It lay under the drum stand.',
    };
    const outcome = await trial.do('explain-difference', input, 'chief', 'accountant');
    expect(outcome).toMatchObject({
      entries: [{ postings: [{ from: 'difference', to: 'receiving', pieces: 1 }] }],
    });
    expect(refusalOf(await close(trial))).toEqual(['TallyOutdated']);
    await tally(trial, 'receiving', [found(100, null)]);
    expect((await close(trial)).outcome).toBe('recorded');
    expect(refusalOf(await trial.do('explain-difference', input, 'chief', 'accountant'))).toEqual([
      'DifferenceResolved',
    ]);
  });

  it('is refused where the tally shows no such difference, or a smaller one', async () => {
    const trial = await withPieces();
    expect(refusalOf(await sign(trial))).toEqual(['DifferenceNotFound']);
    await tally(trial, 'receiving', [found(99, '3079.2')]);
    expect(refusalOf(await sign(trial, { direction: 'surplus' }))).toEqual(['DifferenceNotFound']);
    expect(refusalOf(await sign(trial, { pieces: 2 }))).toEqual(['DifferenceExceeded']);
    expect(refusalOf(await sign(trial, { pieceStandard: 'other' }))).toEqual([
      'PieceStandardUnknown',
    ]);
    const tooHeavy = { gross: { text: '4000', unit: 'g', typed: true } };
    expect(refusalOf(await sign(trial, tooHeavy))).toEqual(['GramsExceedBook']);
    expect(refusalOf(await sign(trial, { melt: 'M-9' }))).toEqual(['NotEnoughPieces']);
    await sign(trial);
    expect(refusalOf(await sign(trial))).toEqual(['DifferenceNotFound']);
  });

  it('explains only differences that there are', async () => {
    const trial = await accountTrial();
    const input = { difference: 'D-1', outcome: 'written off', explanation: 'Nothing was found.' };
    expect(refusalOf(await trial.do('explain-difference', input, 'chief', 'accountant'))).toEqual([
      'DifferenceUnknown',
    ]);
  });

  it('takes a second person who is not the auditor', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(99, null)]);
    const input = { difference: 'D-1', outcome: 'written off', explanation: 'Nothing was found.' };
    expect(refusalOf(await trial.do('explain-difference', input, 'chief', 'auditor'))).toEqual([
      'WitnessRoleMissing',
    ]);
  });
});
