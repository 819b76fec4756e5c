import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { balances, movements } from './core-books.ts';
import { Fault } from './fault.ts';
import { insidePlaces, isInsidePlace, outsidePlaces, places } from './place.ts';
import { assertPosting, type Posting } from './posting.ts';
import { makeTrial } from './trial.ts';
import { trialMove, trialStation } from './trial-station.ts';

const good: Posting = {
  metal: 'gold',
  pieceStandard: 'trial-piece',
  melt: 'M-1',
  container: null,
  from: 'receiving',
  to: 'laboratory',
  pieces: 3,
  grossMicrograms: 93_309_000,
  fineMicrograms: 93_300_000,
  estimated: false,
};

describe('a posting', () => {
  it('may move pieces without grams, and grams without pieces', () => {
    assertPosting(good);
    assertPosting({ ...good, grossMicrograms: 0, fineMicrograms: 0 });
    assertPosting({ ...good, pieces: 0 });
    assertPosting({ ...good, fineMicrograms: good.grossMicrograms });
  });

  it.each<[string, object]>([
    ['goes from a place to itself', { to: 'receiving' }],
    ['moves neither piece nor gram', { pieces: 0, grossMicrograms: 0, fineMicrograms: 0 }],
    ['holds more fine than gross', { fineMicrograms: good.grossMicrograms + 1 }],
    ['moves a negative count', { pieces: -1 }],
    ['moves a part of a piece', { pieces: 0.5 }],
    ['moves a part of a microgram', { grossMicrograms: 93_309_000.5 }],
    ['moves a mass beyond the safe integers', { grossMicrograms: 2 ** 53 }],
    ['moves a mass that is no number', { grossMicrograms: Number.NaN }],
    ['moves a mass without end', { grossMicrograms: Number.POSITIVE_INFINITY }],
    ['names no metal known here', { metal: 'lead' }],
    ['names no place known here', { from: 'attic' }],
    ['leaves the piece standard out', { pieceStandard: undefined }],
    ['has an empty melt instead of none', { melt: '' }],
    ['says more than a posting says', { comment: 'by hand' }],
  ])('is a fault when it %s', (_what, change) => {
    expect(() => assertPosting({ ...good, ...change } as Posting)).toThrow(Fault);
  });
});

describe('places', () => {
  it('are each inside or outside, never both', () => {
    expect(new Set(places).size).toBe(insidePlaces.length + outsidePlaces.length);
    for (const place of insidePlaces) expect(isInsidePlace(place)).toBe(true);
    for (const place of outsidePlaces) expect(isInsidePlace(place)).toBe(false);
  });
});

describe('balances', () => {
  it('sum to zero per metal and kind of figure, and no inside place holds less than nothing', async () => {
    const move = fc.record({
      drum: fc.constantFrom('D-1', 'D-2'),
      melt: fc.constantFrom('M-1', 'M-2'),
      metal: fc.constantFrom('gold' as const, 'silver' as const),
      from: fc.constantFrom(...places),
      to: fc.constantFrom(...places),
      pieces: fc.integer({ min: 1, max: 50 }),
      grossMicrograms: fc.integer({ min: 0, max: 2_000_000_000 }),
    });
    const run = fc.array(fc.array(move, { minLength: 1, maxLength: 4 }), { maxLength: 25 });
    await fc.assert(
      fc.asyncProperty(run, async (commands) => {
        const trial = await makeTrial([trialStation]);
        for (const moves of commands) {
          const real = moves.filter(({ from, to }) => from !== to).map((one) => trialMove(one));
          if (real.length > 0) await trial.do('trial-move-pieces', { moves: real }, 'custodian');
        }
        const rows = await trial.books.select(balances);
        for (const field of ['pieces', 'grossMicrograms', 'fineMicrograms'] as const) {
          for (const metal of ['gold', 'silver']) {
            const held = rows.filter((row) => row.metal === metal).map((row) => row[field]);
            expect(held.reduce((sum, value) => sum + value, 0)).toBe(0);
          }
        }
        const inside = rows.filter((row) => isInsidePlace(row.place as (typeof places)[number]));
        for (const row of inside) expect(row.pieces).toBeGreaterThanOrEqual(0);
        // The second road: the same balance from the list of movements alone.
        const moved = await trial.books.select(movements);
        for (const row of rows) {
          const expected = moved
            .filter(({ metal, melt }) => metal === row.metal && melt === row.melt)
            .reduce((sum, one) => {
              if (one.to === row.place) return sum + one.pieces;
              return one.from === row.place ? sum - one.pieces : sum;
            }, 0);
          expect(row.pieces).toBe(expected);
        }
      }),
      { seed: 20261125, numRuns: 60 },
    );
  });

  it('may pass through nothing inside one entry or act, but not end below it', async () => {
    const trial = await makeTrial([trialStation]);
    const out = trialMove({ from: 'receiving', to: 'put-up' });
    const outcome = await trial.do('trial-move-pieces', { moves: [out, trialMove()] }, 'custodian');
    expect(outcome).toMatchObject({ refusals: [{ refusal: 'NotEnoughPieces' }] });
    const inOrder = await trial.do('trial-move-pieces', { moves: [trialMove(), out] }, 'custodian');
    expect(inOrder.outcome).toBe('recorded');
  });
});
