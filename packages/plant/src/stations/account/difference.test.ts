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

  it('takes a piece out whose grams the weighings before have used up', async () => {
    const trial = await withPieces();
    // 99 pieces leave with 0.1 g more than the hundred came with: one piece and no gram is left.
    await trial.move({
      from: 'receiving',
      to: 'put-up',
      pieces: 99,
      grossMicrograms: 3_110_400_000,
    });
    await tally(trial, 'receiving', [found(0, null)]);
    const outcome = await sign(trial);
    expect(outcome).toMatchObject({ entries: [{ postings: [{ pieces: 1, grossMicrograms: 0 }] }] });
    const some = { gross: { text: '0.1', unit: 'g', typed: true } };
    expect(refusalOf(await sign(trial, some))).toEqual(['DifferenceNotFound']);
  });

  it('takes a piece of an unknown melt from the one of which most lies there, and says so', async () => {
    const trial = await withPieces();
    await trial.move({ melt: 'M-2', pieces: 10, grossMicrograms: 311_030_000 });
    // 110 pieces of 3421.33 g are booked; one piece with 31.1 g is missing of one melt or the other.
    await tally(trial, 'receiving', [found(109, '3390.23')]);
    const mixed = { melt: null, gross: { text: '31.1', unit: 'g', typed: true } };
    expect(await sign(trial, mixed)).toMatchObject({
      answer: { melt: 'M-1' },
      entries: [
        {
          body: { melt: 'M-1', meltAssumed: true },
          postings: [{ melt: 'M-1', pieces: 1, grossMicrograms: 31_100_000 }],
        },
      ],
    });
    const [line] = bodyOf<ShiftClosed>(await close(trial)).places[0]?.lines ?? [];
    expect(line).toMatchObject({ piecesDifference: 0, grossMicrogramsDifference: 0 });
    const explained = { difference: 'D-11', outcome: 'found', explanation: 'Under the scale pan.' };
    expect(
      bodyOf(await trial.do('explain-difference', explained, 'chief', 'custodian')),
    ).toMatchObject({
      putBack: { melt: 'M-1', pieces: 1 },
    });
  });

  it('refuses a difference of unknown melt that no melt by itself could bear', async () => {
    const trial = await withPieces();
    await trial.move({ melt: 'M-2', pieces: 90, grossMicrograms: 2_799_270_000 });
    await tally(trial, 'receiving', [found(80, null)]);
    expect(refusalOf(await sign(trial, { melt: null, pieces: 110 }))).toEqual([
      'NoMeltHoldsSoMuch',
    ]);
  });

  it('refuses more grams than all melts hold where none is named', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(99, '3079.2')]);
    const all = { melt: null, gross: { text: '3110.301', unit: 'g', typed: true } };
    expect(refusalOf(await sign(trial, all))).toEqual(['GramsExceedBook']);
  });

  it('brings a surplus into the place', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(101, null)]);
    const ofNoMelt = { melt: 'M-9', direction: 'surplus' };
    expect(refusalOf(await sign(trial, ofNoMelt))).toEqual(['MeltUnknown']);
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
    expect(refusalOf(await sign(trial, { melt: 'M-9' }))).toEqual(['MeltUnknown']);
    await trial.move({ melt: 'M-2', from: 'with-supplier', to: 'laboratory', pieces: 5 });
    expect(refusalOf(await sign(trial, { melt: 'M-2' }))).toEqual(['MeltHoldsFewer']);
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
