import { describe, expect, it } from 'vitest';
import { bodyOf, close, found, refusalOf, shift, tally, withPieces } from './account-trial.ts';
import type { ShiftClosed } from './bodies.ts';
import { differences } from './books.ts';
import { accountDocket } from './docket.ts';
import { accountRefusals } from './refusals.ts';

// Figures are sums that a reader can do by hand: 100 pieces of 31.103 g are 3 110.3 g.

describe('close-shift', () => {
  it('closes when every place that holds metal is tallied and no piece differs, and signs the head', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(100, '3110.3')]);
    const body = bodyOf<ShiftClosed>(await close(trial));
    expect(body).toMatchObject({ shift, firstEntry: 1 });
    expect(body.places).toHaveLength(1);
    const line = body.places[0]?.lines[0];
    expect(line).toMatchObject({
      piecesBook: 100,
      piecesTally: 100,
      piecesDifference: 0,
      grossMicrogramsBook: 3_110_300_000,
      grossMicrogramsDifference: 0,
      fineMicrogramsDifference: 0,
      gramDifference: null,
    });
    // One weighing in and one of the stock, on one scale whose gain cancels: each net weighing has
    // 2 · 0.05² + 0.1²/6 g², both together 0.0133 g², that is 0.1155 g.
    expect(line?.balance?.output.standardUncertaintyGrams).toBeCloseTo(0.1155, 4);
    expect(line?.balance?.output).toMatchObject({ differencePieces: 0, state: 'inside' });
    const heads = await trial.store.reader.heads();
    expect(heads).toHaveLength(1);
  });

  it('is refused while a place that holds metal has no tally', async () => {
    const trial = await withPieces();
    expect(await close(trial)).toMatchObject({
      outcome: 'refused',
      refusals: [{ refusal: 'TallyMissing', figures: { place: 'receiving', sinceEntry: 0 } }],
    });
  });

  it('is refused when metal moved at the place after its tally', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(100, '3110.3')]);
    await trial.move({ from: 'receiving', to: 'put-up', pieces: 1, grossMicrograms: 31_103_000 });
    await tally(trial, 'put-up', [found(1, '31.1', 'B-UP')]);
    expect(refusalOf(await close(trial))).toEqual(['TallyOutdated']);
  });

  it('is refused with place, piece standard and figures while a piece is missing', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(99, '3079.2')]);
    expect(await close(trial)).toEqual({
      outcome: 'refused',
      refusals: [
        {
          refusal: 'PiecesDiffer',
          message: '1 piece of trial-piece missing in receiving: tally 99, book 100.',
          nextStep: accountRefusals.PiecesDiffer.nextStep,
          figures: {
            place: 'receiving',
            pieceStandard: 'trial-piece',
            piecesBook: 100,
            piecesTally: 99,
            piecesSigned: 0,
            piecesDifference: -1,
            tally: 9,
          },
        },
      ],
    });
  });

  it('counts a piece standard that the tally leaves out as not found', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', []);
    expect(await close(trial)).toMatchObject({
      refusals: [{ refusal: 'PiecesDiffer', figures: { piecesTally: 0, piecesDifference: -100 } }],
    });
  });

  it('tells every place that is not tallied before any place that differs', async () => {
    const trial = await withPieces();
    await trial.move({
      from: 'receiving',
      to: 'put-up',
      pieces: 40,
      grossMicrograms: 1_244_120_000,
    });
    await tally(trial, 'receiving', [found(59, null)]);
    expect(refusalOf(await close(trial))).toEqual(['TallyMissing']);
    await tally(trial, 'put-up', [found(41, null)]);
    expect(refusalOf(await close(trial))).toEqual(['PiecesDiffer', 'PiecesDiffer']);
  });

  it('asks for no tally of what was on its way and has arrived', async () => {
    const trial = await withPieces();
    const drum = { pieces: 100, grossMicrograms: 3_110_300_000 };
    await trial.move({ ...drum, from: 'receiving', to: 'in-transit' });
    await tally(trial, 'receiving', []);
    expect(refusalOf(await close(trial))).toEqual(['TallyMissing']);
    await trial.move({ ...drum, from: 'in-transit', to: 'put-up' });
    await tally(trial, 'put-up', [found(100, null)]);
    const body = bodyOf<ShiftClosed>(await close(trial));
    expect(body.places.map((place) => place.place)).toEqual(['receiving', 'put-up']);
  });

  it('is never made twice, and never for a shift in which nothing moved', async () => {
    const trial = await withPieces();
    expect(refusalOf(await close(trial, '2026-03-01-late'))).toEqual(['ShiftWithoutWork']);
    await tally(trial, 'receiving', [found(100, null)]);
    await close(trial);
    expect(refusalOf(await close(trial))).toEqual(['ShiftAlreadyClosed']);
  });

  it('needs no piece to be weighed, and then says why there is no balance of grams', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(100, null)]);
    const [line] = bodyOf<ShiftClosed>(await close(trial)).places[0]?.lines ?? [];
    expect(line).toMatchObject({
      grossMicrogramsTally: null,
      grossMicrogramsDifference: null,
      balance: null,
      balanceMissing: 'the tally gives no mass',
    });
  });

  it('closes a shift after its end without asking for what the next shift moves', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(100, '3110.3')]);
    trial.now = Date.parse('2026-03-02T14:10:00Z');
    await trial.move({ from: 'receiving', to: 'put-up', pieces: 5, grossMicrograms: 155_515_000 });
    await tally(trial, 'put-up', [found(5, '155.5', 'B-UP')]);
    const body = bodyOf<ShiftClosed>(await close(trial));
    expect(body.places.map((place) => place.place)).toEqual(['receiving', 'put-up']);
    // The next period begins at the tallies: the move is in it, and receiving needs a new tally.
    expect(refusalOf(await close(trial, '2026-03-02-late'))).toEqual([
      'TallyMissing',
      'TallyMissing',
    ]);
    await tally(trial, 'receiving', [found(95, '2954.8')]);
    await tally(trial, 'put-up', [found(5, '155.5', 'B-UP')]);
    const late = bodyOf<ShiftClosed>(await close(trial, '2026-03-02-late'));
    expect(late.places[0]?.lines[0]?.balance?.input.pieces).toEqual({
      opening: 100,
      received: 0,
      sent: 5,
      closing: 95,
    });
  });

  it('begins the balance of grams with what was measured at the close before, not with the book', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(100, '3110.1')]);
    await close(trial);
    trial.now = Date.parse('2026-03-02T15:00:00Z');
    await tally(trial, 'receiving', [found(100, '3110.1')]);
    const [line] =
      bodyOf<ShiftClosed>(await close(trial, '2026-03-02-late')).places[0]?.lines ?? [];
    expect(line?.grossMicrogramsDifference).toBe(-200_000);
    expect(line?.balance?.output.differenceGrossGrams).toBe(0);
  });

  it('keeps a difference of grams beyond three standard uncertainties until it is explained', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(100, '3100.0')]);
    const [line] = bodyOf<ShiftClosed>(await close(trial)).places[0]?.lines ?? [];
    expect(line?.balance?.output).toMatchObject({ state: 'act' });
    expect(line?.gramDifference).toBe('G-10-receiving-1');
    expect(await trial.ask('differences', {}, 'auditor')).toMatchObject({
      differences: [
        {
          difference: 'G-10-receiving-1',
          form: 'grams only',
          state: 'open',
          grossMicrograms: -10_300_000,
        },
      ],
    });
    const explain = (outcome: string) =>
      trial.do(
        'explain-difference',
        {
          difference: 'G-10-receiving-1',
          outcome,
          explanation: 'The drum was weighed with its lid.',
        },
        'chief',
        'accountant',
      );
    expect(refusalOf(await explain('found'))).toEqual(['OutcomeUnfit']);
    expect(bodyOf(await explain('explained'))).toMatchObject({ putBack: null });
  });

  it('keeps the grams that were judged: against the tally before, not against the book', async () => {
    const trial = await withPieces();
    // 0.2 g above the book of 3 110.3 g is inside; 0.4 g below the book is then 0.6 g less than lay there.
    await tally(trial, 'receiving', [found(100, '3110.5')]);
    await close(trial);
    trial.now += 8 * 3_600_000;
    await tally(trial, 'receiving', [found(100, '3109.9')]);
    await close(trial, '2026-03-02-late');
    const [row] = await trial.books.select(differences, { by: 'byEntry' });
    expect(row).toMatchObject({ form: 'grams only', grossMicrograms: -600_000 });
    const [paper] = await accountDocket(trial.books, new Date(trial.now).toISOString());
    expect(paper?.what).toBe(
      '0.600 g of trial-piece are missing in receiving, more than the balances explain.',
    );
  });
});
