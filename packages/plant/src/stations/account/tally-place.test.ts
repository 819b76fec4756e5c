import { describe, expect, it } from 'vitest';
import { accountTrial, bodyOf, found, refusalOf, tally, withPieces } from './account-trial.ts';

// Figures are sums that a reader can do by hand: 100 pieces of 31.103 g are 3 110.3 g.

describe('tally-place', () => {
  it('records what was found with its fine mass, and answers nothing of the book', async () => {
    const trial = await withPieces();
    const outcome = await tally(trial, 'receiving', [found(99, '3079.2')]);
    expect(bodyOf(outcome)).toEqual({
      place: 'receiving',
      lines: [
        {
          metal: 'gold',
          pieceStandard: 'trial-piece',
          finenessDeclaredPartsPerMillion: 1_000_000,
          pieces: 99,
          gross: { text: '3079.2', unit: 'g', typed: false },
          instrument: 'B-IN',
          grossMicrograms: 3_079_200_000,
          fineMicrograms: 3_079_200_000,
        },
      ],
    });
    expect(outcome.outcome === 'recorded' && outcome.answer).toEqual({
      tally: 9,
      place: 'receiving',
    });
  });

  it.each([
    ['PieceStandardUnknown', [{ ...found(1, null), pieceStandard: 'other' }]],
    ['PieceStandardRepeated', [found(1, null), found(2, null)]],
    ['InstrumentNotStated', [{ ...found(1, '31.1'), instrument: null }]],
    ['InstrumentUnknown', [found(1, '31.1', 'F-1')]],
    ['CalibrationOverdue', [found(1, '31.1', 'B-OLD')]],
  ])('is refused with %s', async (name, lines) => {
    const trial = await accountTrial();
    expect(refusalOf(await tally(trial, 'receiving', lines))).toEqual([name]);
  });

  it('refuses a mass that is no decimal number and names the field', async () => {
    const trial = await accountTrial();
    const outcome = await tally(trial, 'receiving', [found(1, 'about 31')]);
    expect(outcome).toMatchObject({
      refusals: expect.arrayContaining([
        expect.objectContaining({ refusal: 'InputNotAccepted', field: 'lines.0.gross.text' }),
      ]),
    });
  });

  it('takes an empty place as weighing nothing, and no mass below nothing', async () => {
    const trial = await withPieces();
    const outcome = await tally(trial, 'receiving', [found(0, '0.0')]);
    expect(bodyOf(outcome)).toMatchObject({ lines: [{ pieces: 0, grossMicrograms: 0 }] });
    expect(await tally(trial, 'receiving', [found(0, '-0.1')])).toMatchObject({
      refusals: [
        expect.objectContaining({
          field: 'lines.0.gross.text',
          message: expect.stringContaining('set to zero'),
        }),
      ],
    });
  });

  it('is not for the auditor, who writes nothing', async () => {
    const trial = await accountTrial();
    expect(refusalOf(await tally(trial, 'receiving', [], 'auditor'))).toEqual(['RoleMissing']);
  });
});
