import { describe, expect, it } from 'vitest';
import { balances, instrumentReadings } from '../../journal/core-books.ts';
import type { Trial } from '../../journal/trial.ts';
import { checkedMelt, reading, recorded, refusals } from '../laboratory/laboratory-trial.ts';
import { pressRoomDocket } from './docket.ts';
import { grossOf, openRun, pressRoomTrial, send, strike, strikeRun } from './press-room-trial.ts';

const piecesAt = async (trial: Trial, place: string): Promise<number> =>
  (await trial.books.get(balances, place, 'gold', 'lark-8', 'M-1'))?.pieces ?? 0;

describe('taking blanks', () => {
  it('moves blanks of a released melt to the press room with their weighed mass', async () => {
    const trial = await pressRoomTrial();
    const input = { melt: 'M-1', pieces: 20, gross: grossOf(20), instrument: 'B-1' };
    const outcome = await trial.do('take-blanks', input, 'inspector', 'custodian');
    if (outcome.outcome !== 'recorded') throw new RangeError('refused');
    expect(outcome.entries[0]?.postings).toEqual([
      {
        metal: 'gold',
        pieceStandard: 'lark-8',
        melt: 'M-1',
        container: null,
        from: 'receiving',
        to: 'press-room',
        pieces: 20,
        grossMicrograms: 160_200_000,
        // 160.2 g × 916.7 ‰ = 146.85534 g.
        fineMicrograms: 146_855_340,
        estimated: false,
      },
    ]);
    expect(await piecesAt(trial, 'press-room')).toBe(20);
  });

  it('is refused before a ruling, for an unknown melt, on a bad balance and for an odd mass', async () => {
    const trial = await pressRoomTrial();
    await checkedMelt(trial, 'M-2', 917.4);
    const take = async (changes: object) => {
      const input = { melt: 'M-1', pieces: 20, gross: grossOf(20), instrument: 'B-1', ...changes };
      return refusals(await trial.do('take-blanks', input, 'inspector', 'custodian'));
    };
    expect(await take({ melt: 'M-2' })).toEqual(['MeltNotReleased']);
    expect(await take({ melt: 'M-9' })).toEqual(['MeltUnknown']);
    expect(await take({ instrument: 'P-1' })).toEqual(['InstrumentUnfit']);
    expect(await take({ instrument: 'B-OLD' })).toEqual(['CalibrationOverdue']);
    expect(await take({ gross: reading('152.20', 'g') })).toEqual(['PiecesDoNotFitMass']);
    expect(await take({ pieces: 600, gross: grossOf(600) })).toEqual(['NotEnoughPieces']);
  });
});

describe('a run', () => {
  it('is refused with a press, die or melt that does not fit', async () => {
    const trial = await pressRoomTrial();
    await openRun(trial, 20);
    const open = async (changes: object) => {
      const tools = { press: 'P-2', obverse: 'O-2', reverse: 'R-1', collar: 'K-1' };
      const input = { run: 'RUN-2', ...tools, melt: 'M-1', counterBefore: 0, ...changes };
      return refusals(await trial.do('open-run', input, 'inspector', 'custodian'));
    };
    expect(await open({ run: 'RUN-1' })).toContain('RunAlreadyOpened');
    expect(await open({ press: 'P-1' })).toContain('PressOccupied');
    expect(await open({ press: 'B-1' })).toContain('PressUnknown');
    expect(await open({ obverse: 'O-9' })).toContain('DieUnknown');
    expect(await open({ obverse: 'R-1' })).toContain('DieDoesNotFit');
    expect(await open({})).toContain('DieInUse');
    expect(await open({ melt: 'M-9' })).toContain('MeltUnknown');
  });

  it('lets no piece go before its first strike is approved', async () => {
    const trial = await pressRoomTrial();
    await openRun(trial, 20);
    expect(refusals(await send(trial, 10))).toEqual(['FirstStrikeNotApproved']);
    expect(refusals(await strike(trial, 'roving', 5))).toEqual(['FirstStrikeNotApproved']);
    recorded(await strike(trial, 'first', 1));
    expect(refusals(await strike(trial, 'first', 2))).toEqual(['FirstStrikeAlreadyApproved']);
    expect(refusals(await send(trial, 10))).toEqual(['PiecesNotJudged']);
  });

  it('is found by its gauges as well as by its balance', async () => {
    const trial = await pressRoomTrial();
    await openRun(trial, 20);
    recorded(await strike(trial, 'first', 1));
    const gauged = await trial.books.select(instrumentReadings, { prefix: ['M-1'] });
    expect(gauged.map(({ kind }) => kind)).toEqual(['StrikeRecorded']);
  });

  it('takes no approval against the limits, without photographs or out of order', async () => {
    const trial = await pressRoomTrial();
    await openRun(trial, 20);
    const light = { mass: reading('7.99', 'g') };
    expect(refusals(await strike(trial, 'first', 1, { changes: light }))).toEqual([
      'StrikeOutsideLimits',
    ]);
    const bare = { photographs: [{ face: 'edge', sha256: 'c'.repeat(64) }] };
    expect(refusals(await strike(trial, 'first', 1, { changes: bare }))).toEqual([
      'PhotographsMissing',
    ]);
    recorded(await strike(trial, 'first', 3));
    expect(refusals(await strike(trial, 'roving', 2))).toEqual(['StrikeOutOfOrder']);
  });

  it('takes no strike far beyond the blanks that came, whatever the counter shows', async () => {
    const trial = await pressRoomTrial();
    await openRun(trial, 20);
    // 20 blanks: six strokes for each, and a hundred idle ones.
    expect(await strike(trial, 'first', 221)).toMatchObject({
      refusals: [
        {
          refusal: 'StrikeBeyondBlanks',
          field: 'strikeNumber',
          message:
            'Strike 221 of run RUN-1: 20 blanks of melt M-1 came to the press room, for which up to 220 strokes are taken.',
          figures: { run: 'RUN-1', strikeNumber: 221, blanksTaken: 20, greatestStrike: 220 },
        },
      ],
    });
    recorded(await strike(trial, 'first', 220));
  });

  it('takes no photograph for two faces, nor one twice', async () => {
    const trial = await pressRoomTrial();
    await openRun(trial, 20);
    const [a, b, c] = ['a', 'b', 'c'].map((digit) => digit.repeat(64));
    const shown = (...all: readonly (readonly [string, string | undefined])[]) => ({
      changes: { photographs: all.map(([face, sha256]) => ({ face, sha256 })) },
    });
    const twice = shown(['obverse', a], ['reverse', a], ['edge', c]);
    expect(await strike(trial, 'first', 1, twice)).toMatchObject({
      refusals: [
        {
          refusal: 'PhotographTwice',
          field: 'photographs',
          message: 'The photograph of the reverse is the one of the obverse.',
        },
      ],
    });
    const again = shown(['obverse', a], ['obverse', a], ['reverse', b], ['edge', c]);
    expect(refusals(await strike(trial, 'first', 1, again))).toEqual(['PhotographTwice']);
    // A second picture of a face, nearer to what is to be seen, is another file.
    recorded(
      await strike(
        trial,
        'first',
        1,
        shown(['obverse', a], ['obverse', 'd'.repeat(64)], ['reverse', b], ['edge', c]),
      ),
    );
  });

  it('closes only after its last strike, at the counter that fits', async () => {
    const trial = await pressRoomTrial();
    await openRun(trial, 20);
    recorded(await strike(trial, 'first', 1));
    const close = (counterAfter: number) =>
      trial.do('close-run', { run: 'RUN-1', counterAfter }, 'inspector', 'custodian');
    expect(refusals(await close(1020))).toEqual(['LastStrikeMissing']);
    recorded(await strike(trial, 'last', 20));
    expect(refusals(await close(1019))).toEqual(['CounterDoesNotFit']);
    recorded(await close(1020));
    expect(refusals(await close(1020))).toEqual(['RunAlreadyClosed']);
    expect(refusals(await strike(trial, 'roving', 21))).toEqual(['RunAlreadyClosed']);
  });

  it('is refused before blanks of its melt have come, and for a name that was never opened', async () => {
    const trial = await pressRoomTrial();
    const tools = { press: 'P-1', obverse: 'O-1', reverse: 'R-1', collar: 'K-1' };
    const input = { run: 'RUN-1', ...tools, melt: 'M-1', counterBefore: 0 };
    const opened = await trial.do('open-run', input, 'dies', 'inspector');
    expect(refusals(opened)).toEqual(['MeltNotTaken']);
    expect(refusals(await strike(trial, 'first', 1))).toEqual(['RunUnknown']);
    expect(refusals(await send(trial, 1))).toEqual(['RunUnknown']);
    const closing = { run: 'RUN-1', counterAfter: 1 };
    const closed = await trial.do('close-run', closing, 'dies', 'inspector');
    expect(refusals(closed)).toEqual(['RunUnknown']);
  });

  it('sends only pieces of the melt that it strikes', async () => {
    const trial = await pressRoomTrial();
    await strikeRun(trial, 20);
    expect(refusals(await send(trial, 10, { melt: 'M-2' }))).toEqual(['MeltDiffers']);
  });

  it('sends its pieces into transit, signed by one side', async () => {
    const trial = await pressRoomTrial();
    await strikeRun(trial, 20);
    recorded(await send(trial, 20));
    expect(await piecesAt(trial, 'press-room')).toBe(0);
    expect(await piecesAt(trial, 'in-transit')).toBe(20);
  });
});

describe('a fault', () => {
  it('of a die holds the strikes since the last approved one until the chief assayer rules', async () => {
    const trial = await pressRoomTrial();
    await openRun(trial, 20);
    recorded(await strike(trial, 'first', 1));
    recorded(await strike(trial, 'roving', 10));
    const [, held] = recorded(await strike(trial, 'last', 20, { family: 'die or collar' }));
    expect(held).toMatchObject({ held: [{ run: 'RUN-1', strikeFrom: 11, strikeTo: 20 }] });
    expect(refusals(await send(trial, 5))).toEqual(['RunOnHold']);
    const hold = String(held?.hold);
    const rule = (name: string) =>
      trial.do(
        'resolve-hold',
        { hold: name, ruling: 'scrap', reason: 'The crack shows.' },
        'chief',
      );
    expect(refusals(await rule('H-none'))).toEqual(['HoldUnknown']);
    recorded(await rule(hold));
    expect(refusals(await rule(hold))).toEqual(['HoldAlreadyResolved']);
    expect(refusals(await send(trial, 11))).toEqual(['PiecesNotJudged']);
    recorded(await send(trial, 10));
  });

  it('of the metal holds the whole melt', async () => {
    const trial = await pressRoomTrial();
    await openRun(trial, 20);
    recorded(await strike(trial, 'first', 1));
    recorded(await strike(trial, 'roving', 5, { family: 'metal' }));
    const input = { melt: 'M-1', pieces: 5, gross: grossOf(5), instrument: 'B-1' };
    const taken = await trial.do('take-blanks', input, 'inspector', 'custodian');
    expect(refusals(taken)).toEqual(['MeltOnHold']);
  });

  it('is set aside with its family, to the scrap', async () => {
    const trial = await pressRoomTrial();
    await strikeRun(trial, 20);
    const rejects = { run: 'RUN-1', family: 'feeding or handling', pieces: 2 };
    const input = { ...rejects, gross: grossOf(2), instrument: 'B-1' };
    recorded(await trial.do('set-rejects-aside', input, 'inspector'));
    expect(await piecesAt(trial, 'scrap')).toBe(2);
    expect(refusals(await send(trial, 19))).toEqual(['PiecesNotJudged']);
  });
});

describe('what the press room shows', () => {
  it('puts a run on the docket until its first strike is approved, and a hold until it is ruled', async () => {
    const trial = await pressRoomTrial();
    await openRun(trial, 20);
    const papers = async () =>
      (await pressRoomDocket(trial.books)).map(({ act, path, weight }) => [act, path, weight]);
    expect(await papers()).toEqual([['Record strike', '/press-room/runs/RUN-1', 'look']]);
    recorded(await strike(trial, 'first', 1));
    expect(await papers()).toEqual([]);
    const [, held] = recorded(await strike(trial, 'roving', 5, { family: 'feeding or handling' }));
    const hold = String(held?.hold);
    expect(await papers()).toEqual([['Rule on hold', `/press-room/holds/${hold}`, 'stopped']]);
    const ruling = { hold, ruling: 'release', reason: 'Only the one piece is scratched.' };
    recorded(await trial.do('resolve-hold', ruling, 'chief'));
    expect(await papers()).toEqual([]);
    // A release stands for the approval that the faulty strike did not give.
    expect(await trial.ask('run', { run: 'RUN-1' }, 'auditor')).toMatchObject({
      run: { judgedUpTo: 5, piecesDeliverable: 5, state: 'stopped' },
      strikes: [{ strikeNumber: 1 }, { strikeNumber: 5, verdict: 'fault' }],
      holds: [{ hold, state: 'release' }],
    });
  });

  it('answers the desk with melts at hand, open and closed runs, and nothing for an unknown run', async () => {
    const trial = await pressRoomTrial();
    await openRun(trial, 20);
    expect(await trial.ask('press-room-desk', {}, 'auditor')).toMatchObject({
      melts: [{ melt: 'M-1', piecesInPressRoom: 20, isAtReceiving: true, isInPressRoom: true }],
    });
    expect(await trial.ask('press-room-desk', {}, 'inspector')).toMatchObject({
      // Whoever counts is told that some lie there, and not how many.
      melts: [{ melt: 'M-1', ruling: 'release', isInPressRoom: true, piecesInPressRoom: null }],
      runsOpen: [{ run: 'RUN-1', state: 'waiting for first strike', piecesDeliverable: 0 }],
      runsClosed: [],
      holds: [],
    });
    expect(await trial.ask('run', { run: 'RUN-9' }, 'inspector')).toBeNull();
    expect(await trial.ask('hold', { hold: 'HOLD-9' }, 'inspector')).toBeNull();
  });
});
