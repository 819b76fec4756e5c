import { describe, expect, it } from 'vitest';
import { balances } from '../../journal/core-books.ts';
import type { Trial } from '../../journal/trial.ts';
import { reading, recorded, refusals } from '../laboratory/laboratory-trial.ts';
import { send, strikeRun } from '../press-room/press-room-trial.ts';
import { putUpDocket } from './docket.ts';
import {
  deliveredTrial,
  faultAfterDelivery,
  fullTubeGrams,
  numberOf,
  putUpTrial,
  weigh,
} from './put-up-trial.ts';

const piecesAt = async (trial: Trial, place: string): Promise<number> =>
  (await trial.books.get(balances, place, 'gold', 'lark-8', 'M-1'))?.pieces ?? 0;

describe('accepting a delivery', () => {
  it('brings the pieces out of transit, and off the docket, at the mass they were sent with', async () => {
    const trial = await putUpTrial();
    await strikeRun(trial, 47);
    const delivery = numberOf(await send(trial, 47));
    const waiting = await putUpDocket(trial.books);
    expect(waiting.map(({ act, path }) => ({ act, path }))).toEqual([
      { act: 'Accept delivery', path: '/put-up' },
    ]);
    const outcome = await trial.do('accept-delivery', { delivery, pieces: 47 }, 'custodian');
    if (outcome.outcome !== 'recorded') throw new RangeError('refused');
    // 47 × 8.01 g = 376.47 g; × 916.7 ‰ = 345.110 049 g.
    expect(outcome.entries[0]?.postings).toMatchObject([
      {
        from: 'in-transit',
        to: 'put-up',
        pieces: 47,
        grossMicrograms: 376_470_000,
        fineMicrograms: 345_110_049,
      },
    ]);
    expect(await piecesAt(trial, 'in-transit')).toBe(0);
    expect(await piecesAt(trial, 'put-up')).toBe(47);
    expect(await putUpDocket(trial.books)).toEqual([]);
  });

  it('is refused for an unknown delivery, another count, the sender, and a second time', async () => {
    const trial = await putUpTrial();
    await strikeRun(trial, 47);
    const input = { run: 'RUN-1', melt: 'M-1', pieces: 20, instrument: 'B-1' };
    const sent = await trial.do(
      'deliver-pieces',
      { ...input, gross: reading('160.20', 'g') },
      'custodian',
    );
    const delivery = numberOf(sent);
    const accept = async (changes: object, author = 'storeman') =>
      trial.do('accept-delivery', { delivery, pieces: 20, ...changes }, author);
    expect(refusals(await accept({ delivery: 1 }))).toEqual(['DeliveryUnknown']);
    expect(refusals(await accept({ pieces: 19 }))).toEqual(['DeliveryDiffers']);
    expect(refusals(await accept({}, 'custodian'))).toEqual(['SenderCannotAccept']);
    recorded(await accept({}));
    expect(refusals(await accept({}))).toEqual(['DeliveryAlreadyAccepted']);
  });
});

describe('loose pieces', () => {
  const loose = (pieces: number, changes: object = {}) => ({
    melt: 'M-1',
    pieces,
    gross: reading((pieces * 8.01).toFixed(2), 'g'),
    instrument: 'T-1',
    ...changes,
  });

  it('go to the archive with two people, out of those in no tube', async () => {
    const trial = await deliveredTrial();
    const setAside = (pieces: number, changes: object = {}) =>
      trial.do('set-aside-pieces', loose(pieces, changes), 'custodian', 'inspector');
    recorded(await setAside(2));
    expect(await piecesAt(trial, 'archive')).toBe(2);
    recorded(await weigh(trial, 'T-101', fullTubeGrams));
    // 47 less 2 in the archive and 20 in a tube leaves 25.
    expect(refusals(await setAside(26))).toEqual(['NotEnoughLoosePieces']);
    recorded(await setAside(25));
    expect(refusals(await setAside(1, { melt: 'M-9' }))).toEqual(['MeltUnknown']);
    expect(refusals(await setAside(1, { gross: reading('16.02', 'g') }))).toEqual([
      'PiecesDoNotFitMass',
      'NotEnoughLoosePieces',
    ]);
  });

  it('stay where they are while a fault of the metal holds their melt', async () => {
    const trial = await faultAfterDelivery('metal');
    expect(refusals(await weigh(trial, 'T-101', 100.1, { pieces: 10 }))).toEqual(['MeltOnHold']);
    const setAside = await trial.do('set-aside-pieces', loose(1), 'custodian', 'inspector');
    expect(refusals(setAside)).toEqual(['MeltOnHold']);
  });

  it('are not touched by a die fault whose bracket has not left the press room', async () => {
    const trial = await faultAfterDelivery('die or collar');
    const weighed = recorded(await weigh(trial, 'T-101', 100.1, { pieces: 10 }));
    expect(weighed).toMatchObject([{ state: 'proved' }]);
  });

  it('that are condemned go to the scrap before anything of the melt goes on', async () => {
    const trial = await faultAfterDelivery('metal');
    const scrap = (pieces: number) =>
      trial.do('scrap-pieces', loose(pieces), 'custodian', 'inspector');
    expect(refusals(await scrap(1))).toEqual(['PiecesNotCondemned']);
    const { holds } = (await trial.ask('press-room-desk', {}, 'chief')) as {
      holds: readonly { hold: string }[];
    };
    const ruling = { hold: holds[0]?.hold, ruling: 'scrap', reason: 'The metal is laminated.' };
    recorded(await trial.do('resolve-hold', ruling, 'chief'));
    expect(refusals(await weigh(trial, 'T-101', 100.1, { pieces: 10 }))).toEqual([
      'PiecesCondemned',
    ]);
    expect(refusals(await scrap(11))).toEqual(['PiecesNotCondemned', 'NotEnoughLoosePieces']);
    recorded(await scrap(10));
    expect(await piecesAt(trial, 'scrap')).toBe(10);
    expect(await piecesAt(trial, 'put-up')).toBe(0);
  });
});
