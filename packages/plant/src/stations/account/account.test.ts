import { describe, expect, it } from 'vitest';
import { MemoryStore } from '../../adapters/memory-store.ts';
import { balances } from '../../journal/core-books.ts';
import { registerStations } from '../../journal/plant.ts';
import { compareBooks, rebuildInto } from '../../journal/rebuild.ts';
import type { Outcome } from '../../journal/recorder.ts';
import { trialStation } from '../../journal/trial-station.ts';
import { registersStation } from '../registers/station.ts';
import { accountTrial, found } from './account-trial.ts';
import type { ShiftClosed } from './bodies.ts';
import { accountDocket } from './docket.ts';
import { accountRefusals } from './refusals.ts';
import { accountStation } from './station.ts';

// Figures are sums that a reader can do by hand: 100 pieces of 31.103 g are 3 110.3 g.

const refusalOf = (outcome: Outcome) =>
  outcome.outcome === 'refused' ? outcome.refusals.map((one) => one.refusal) : outcome.outcome;

const bodyOf = <Body>(outcome: Outcome, index = 0): Body => {
  if (outcome.outcome === 'refused') throw new RangeError(JSON.stringify(outcome.refusals));
  return outcome.entries[index]?.body as unknown as Body;
};

const shift = '2026-03-02-early';

/** A plant with 100 pieces in receiving. */
async function withPieces() {
  const trial = await accountTrial();
  await trial.move({});
  return trial;
}

type TrialPlant = Awaited<ReturnType<typeof accountTrial>>;

const tally = (trial: TrialPlant, place: string, lines: readonly object[], author = 'custodian') =>
  trial.do('tally-place', { place, lines }, author);
const close = (trial: TrialPlant, name = shift) =>
  trial.do('close-shift', { shift: name }, 'accountant', 'custodian');
const sign = (trial: TrialPlant, changes: object = {}) =>
  trial.do(
    'sign-difference',
    {
      place: 'receiving',
      pieceStandard: 'trial-piece',
      melt: 'M-1',
      direction: 'missing',
      pieces: 1,
      gross: null,
      explanation: 'Searched the bench and the floor; nothing found.',
      ...changes,
    },
    'chief',
    'custodian',
  );

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

  it('is not for the auditor, who writes nothing', async () => {
    const trial = await accountTrial();
    expect(refusalOf(await tally(trial, 'receiving', [], 'auditor'))).toEqual(['RoleMissing']);
  });
});

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
});

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

describe('the books of the account', () => {
  it('come out the same when they are made anew from the journal', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(99, '3079.2')]);
    await sign(trial);
    await close(trial);
    await trial.move({ from: 'receiving', to: 'put-up', pieces: 9, grossMicrograms: 279_927_000 });
    const rebuilt = new MemoryStore('trial');
    const registry = registerStations([registersStation, trialStation, accountStation]);
    await rebuildInto(trial.store, rebuilt, registry);
    const comparisons = await compareBooks(trial.store, rebuilt, registry);
    expect(comparisons.filter((one) => !one.equal)).toEqual([]);
    expect(comparisons.find((one) => one.book === 'account_tally')?.records).toBe(1);
  });
});

describe('the desk', () => {
  it('hides the book from those who count and shows it to the metal accountant', async () => {
    const trial = await withPieces();
    const custodian = (await trial.ask('balance-desk', {}, 'custodian')) as { places: object[] };
    expect(custodian).toMatchObject({ shift, seesBook: false, openDifferences: null });
    expect(custodian.places[0]).toMatchObject({
      place: 'receiving',
      needsTally: true,
      standards: [{ pieceStandard: 'trial-piece', title: 'Trial piece', metal: 'gold' }],
      standing: null,
      comparison: null,
    });
    expect(JSON.stringify(custodian)).not.toContain('3110300000');
    await tally(trial, 'receiving', [found(99, null)]);
    const accountant = (await trial.ask('balance-desk', {}, 'accountant')) as { places: object[] };
    expect(accountant.places[0]).toMatchObject({
      standing: [{ pieces: 100 }],
      comparison: [{ piecesBook: 100, piecesTally: 99, piecesDifference: -1 }],
      tally: { person: 'custodian', movedSince: false },
    });
  });

  it('answers a shift with its movements before the close and its figures after', async () => {
    const trial = await withPieces();
    expect(await trial.ask('shift', { shift }, 'accountant')).toMatchObject({
      state: 'open',
      closing: null,
      flows: [{ from: 'with-supplier', to: 'receiving', movements: 1, pieces: 100 }],
    });
    await tally(trial, 'receiving', [found(100, null)]);
    await close(trial);
    expect(await trial.ask('shift', { shift }, 'custodian')).toMatchObject({
      state: 'closed',
      closing: { author: 'accountant', witness: 'custodian', places: null },
      flows: null,
    });
  });

  it('puts on the docket pieces that differ, a shift left open and a difference unexplained', async () => {
    const trial = await withPieces();
    const docket = async () => {
      const papers = await accountDocket(trial.books, new Date(trial.now).toISOString());
      return papers.map((paper) => [paper.paper, paper.weight]);
    };
    expect(await docket()).toEqual([]);
    await tally(trial, 'receiving', [found(99, null)]);
    expect(await docket()).toEqual([['account/differs/receiving/trial-piece', 'stopped']]);
    await sign(trial);
    trial.now = Date.parse('2026-03-02T14:10:00Z');
    expect(await docket()).toEqual([
      ['account/open-shift/2026-03-02-early', 'look'],
      ['account/difference/D-10', 'look'],
    ]);
    await close(trial);
    expect(await docket()).toEqual([['account/difference/D-10', 'look']]);
  });
});
