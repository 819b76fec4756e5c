import { type MetalBalanceOutput, metalBalance } from '@cupel/calculation';
import { describe, expect, it } from 'vitest';
import type { MovementRow } from '../../journal/core-books.ts';
import type { Weighed } from '../../journal/weighed.ts';
import { bodyOf, close, found, tally, withPieces } from './account-trial.ts';
import type { ShiftClosed } from './bodies.ts';
import { type Scale, type ShiftBalanceParts, shiftBalanceInput } from './shift-balance.ts';

// Expected values are worked by hand in the comments: u² = Σ count · random² + Σ (lever · shared)².

const scale = (name: string, gain = 1e-5): Scale => ({
  scale: name,
  gainRelativeStandardUncertainty: gain,
  readingStandardDeviationGrams: 0.05,
});

const moved = (
  way: { readonly from: string; readonly to: string },
  weighings: readonly Weighed[],
  grossMicrograms = weighings.reduce((sum, one) => sum + one.grossMicrograms, 0),
): MovementRow => ({
  entry: 1,
  line: 1,
  shift: '2026-03-02-early',
  metal: 'silver',
  pieceStandard: 'heron-20',
  melt: 'M-1',
  container: '',
  ...way,
  pieces: 1,
  grossMicrograms,
  fineMicrograms: grossMicrograms,
  estimated: false,
  weighings,
});

const weighed = (instrument: string, readings: number, grams: number, tareGrams = 0): Weighed => ({
  instrument,
  readings,
  grossMicrograms: grams * 1e6,
  storedTareDeviationGrams: tareGrams,
});

const parts = (movements: readonly MovementRow[]): ShiftBalanceParts => ({
  place: 'put-up',
  pieceStandard: 'heron-20',
  finenessPartsPerMillion: 999_000,
  pieceMassGrams: 20.05,
  openingPieces: 0,
  endingPieces: 0,
  openingMicrograms: 0,
  endingMicrograms: 0,
  endingWeighings: 1,
  movements,
  signed: [],
  tallyScale: scale('TUBES'),
  scaleByInstrument: new Map(['BENCH', 'TUBES'].map((name) => [name, scale(name)])),
  scaleByPlace: new Map([['put-up', scale('BOXES')]]),
});

function balanceOf(movements: readonly MovementRow[]): MetalBalanceOutput {
  const input = shiftBalanceInput(parts(movements));
  if (typeof input === 'string') throw new RangeError(input);
  return metalBalance(input);
}

const arriving = { from: 'in-transit', to: 'put-up' };
const leaving = { from: 'put-up', to: 'strong-room' };

describe('the balance of grams of a shift', () => {
  it('weighs each movement on the balance that gave its mass, not on one that stands at the place', () => {
    // 450 kg came as the bench of the press room weighed them and left as the tube balance did: their
    // spans, 4.5 g each, are two errors. √(4.5² + 4.5² + 100·0.005 + 1125·0.005) = 6.83 g.
    const found = balanceOf([
      moved(arriving, [weighed('BENCH', 100, 450_000)]),
      moved(leaving, [weighed('TUBES', 1125, 450_002.2)]),
    ]);
    expect(found.contributions.map(({ source }) => source)).toEqual([
      'random',
      'gain BENCH',
      'gain TUBES',
    ]);
    expect(found.standardUncertaintyGrams).toBeCloseTo(6.8283, 3);
    expect(found).toMatchObject({ differenceGrossGrams: expect.closeTo(-2.2, 9), state: 'inside' });
  });

  it('lets the span of a balance cancel between what came in and what left on it', () => {
    const found = balanceOf([
      moved(arriving, [weighed('TUBES', 1, 450_000)]),
      moved(leaving, [weighed('TUBES', 1, 450_000)]),
    ]);
    expect(found.standardUncertaintyGrams).toBeCloseTo(0.1, 9);
  });

  it('counts the weighings of a mass that is a sum', () => {
    // Ten net weighings of two readings each: √(10 · 2 · 0.05²) = 0.2236 g, and the span of 200 g.
    const found = balanceOf([moved(leaving, [weighed('TUBES', 10, 200)])]);
    expect(found.contributions[0]?.standardUncertaintyGrams).toBeCloseTo(0.2236, 4);
  });

  it('adds the error of a stored tare by the number of containers, and their spread at random', () => {
    // One reading and one container each: √(10·(0.05² + 0.3²)) = 0.9618 g; in common 10 · 0.3 = 3 g.
    const found = balanceOf([moved(leaving, [weighed('TUBES', 10, 200, 0.3)])]);
    expect(found.contributions).toMatchObject([
      { source: 'random', standardUncertaintyGrams: expect.closeTo(0.9618, 4) },
      { source: 'gain TUBES' },
      { source: 'tare not weighed, known to ±0.3 g', lever: -10, standardUncertaintyGrams: 3 },
    ]);
  });

  it('names the ends of movements as people do', () => {
    const input = shiftBalanceInput(
      parts([
        moved(arriving, [weighed('BENCH', 1, 200)]),
        moved({ from: 'with-supplier', to: 'put-up' }, [weighed('BENCH', 1, 200)]),
        moved(leaving, [weighed('TUBES', 1, 200, 0.3)]),
      ]),
    );
    expect(input).toMatchObject({
      strata: [
        { label: 'from transit, BENCH' },
        { label: 'from the supplier, BENCH' },
        { label: 'to the strong room, TUBES, tare not weighed' },
      ],
    });
  });

  it('takes the balance that stands there for a mass of which nobody knows the weighing', () => {
    const found = balanceOf([moved(leaving, [], 200e6), moved(leaving, [weighed('LOST', 1, 100)])]);
    expect(found.contributions.map(({ source }) => source)).toEqual(['random', 'gain BOXES']);
  });
});

describe('the close of a shift', () => {
  it('judges by the balances of the entries', async () => {
    const trial = await withPieces();
    const half = { pieces: 50, grossMicrograms: 1_555_150_000 };
    await trial.move({ from: 'receiving', to: 'put-up', ...half }, 'B-IN');
    await tally(trial, 'receiving', [found(50, '1555.2')]);
    await tally(trial, 'put-up', [found(50, '1555.2', 'B-UP')]);
    const { places } = bodyOf<ShiftClosed>(await close(trial));
    const putUp = places.find(({ place }) => place === 'put-up')?.lines[0]?.balance?.input;
    expect(putUp).toMatchObject({
      strata: [{ label: 'from receiving, B-IN' }, { label: 'ending', scale: 'B-UP' }],
      scales: [{ scale: 'B-IN' }, { scale: 'B-UP' }],
    });
  });

  it('asks for no signature where an estimate of less than half a piece accounts for grams, and for one beyond', async () => {
    // 15.5 g are less than half a piece of 31.103 g, 15.6 g are more; the place lost as much.
    for (const [grams, isAsked] of [
      [15.5, false],
      [15.6, true],
    ] as const) {
      const trial = await withPieces();
      const dust = { pieces: 1, grossMicrograms: grams * 1e6, estimated: true } as const;
      await trial.move({ from: 'receiving', to: 'ceased', ...dust });
      await tally(trial, 'receiving', [found(99, (3110.3 - grams).toFixed(1))]);
      const [line] = bodyOf<ShiftClosed>(await close(trial)).places[0]?.lines ?? [];
      expect(line?.balance?.output.differenceGrossGrams).toBeCloseTo(grams, 9);
      expect(line?.gramDifference !== null).toBe(isAsked);
    }
  });

  it('does not let an estimate make the weighed metal come out', async () => {
    const trial = await withPieces();
    const dust = { pieces: 1, grossMicrograms: 5_000_000, estimated: true } as const;
    await trial.move({ from: 'receiving', to: 'ceased', ...dust });
    // As much again is gone, and nobody estimated it.
    await tally(trial, 'receiving', [found(99, '3100.3')]);
    const [line] = bodyOf<ShiftClosed>(await close(trial)).places[0]?.lines ?? [];
    expect(line).toMatchObject({
      grossMicrogramsDifference: -5_000_000,
      grossMicrogramsEstimated: 5_000_000,
      balance: { output: { differenceGrossGrams: 10, state: 'act' } },
    });
    expect(line?.gramDifference).not.toBeNull();
  });
});
