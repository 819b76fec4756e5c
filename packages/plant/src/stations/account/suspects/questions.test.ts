import { describe, expect, it } from 'vitest';
import { close, found, shift, tally, withPieces } from '../account-trial.ts';

describe('gram-suspects', () => {
  it('names the balance behind the grams of a close, to those who see the book', async () => {
    const trial = await withPieces();
    expect(await trial.ask('gram-suspects', { place: 'receiving', shift: null }, 'chief')).toBe(
      null,
    );
    await tally(trial, 'receiving', [found(100, '3110.2')]);
    await close(trial);
    const input = { place: 'receiving', shift };
    // B-IN gave the mass that came and the mass that was found: nobody else can be to blame.
    expect(await trial.ask('gram-suspects', input, 'chief')).toMatchObject({
      shift,
      lines: [
        {
          pieceStandard: 'trial-piece',
          missingGrams: expect.closeTo(0.1, 9),
          state: 'inside',
          words: expect.stringContaining('Most doubt lies in the balance B-IN: 100\u00a0%'),
          suspects: [{ name: 'B-IN', title: 'Balance B-IN', sharePercent: expect.closeTo(100, 9) }],
        },
      ],
    });
    const newest = await trial.ask('gram-suspects', { ...input, shift: null }, 'chief');
    expect(newest).toMatchObject({ shift });
    expect(await trial.ask('gram-suspects', input, 'custodian')).toBeNull();
  });
});
