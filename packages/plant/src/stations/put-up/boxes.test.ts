import { describe, expect, it } from 'vitest';
import { MemoryStore } from '../../adapters/memory-store.ts';
import { balances, movements } from '../../journal/core-books.ts';
import { registerStations } from '../../journal/plant.ts';
import { compareBooks, rebuildInto } from '../../journal/rebuild.ts';
import type { Trial } from '../../journal/trial.ts';
import { reading, recorded, refusals } from '../laboratory/laboratory-trial.ts';
import { laboratoryStation } from '../laboratory/station.ts';
import { pressRoomStation } from '../press-room/station.ts';
import { receivingStation } from '../receiving/station.ts';
import { registersStation } from '../registers/station.ts';
import type { BoxPacked } from './bodies.ts';
import { type TubeRow, tubes } from './books.ts';
import { type BoxFacts, checkBox } from './box-check.ts';
import { putUpDocket } from './docket.ts';
import { boxesOfMelt, boxOf } from './index.ts';
import { namedBalance } from './instrument-check.ts';
import { meltInPutUp } from './melt-in-put-up.ts';
import type { PackBoxInput } from './pack-box.ts';
import {
  boxInput,
  failTubeBalance,
  filledTrial,
  fullTubeGrams,
  heldTubes,
  pack,
  weigh,
} from './put-up-trial.ts';
import { putUpStation } from './station.ts';

describe('a sealed box', () => {
  it('takes its pieces to the strong room with the masses of its tubes', async () => {
    const trial = await filledTrial();
    const outcome = await pack(trial);
    if (outcome.outcome !== 'recorded') throw new RangeError(JSON.stringify(outcome.refusals));
    const [entry] = outcome.entries;
    const body = entry?.body as BoxPacked;
    expect(body).toMatchObject({ pieces: 40, seal: 'SEAL-1', tareMicrograms: 800_000_000 });
    expect(body.tubes.map(({ tube, pieces }) => [tube, pieces])).toEqual([
      ['T-101', 20],
      ['T-102', 20],
    ]);
    // 2 × 160.20 g; at 916.7 ‰ 320.40 g hold 293.710 68 g.
    expect(entry?.postings).toEqual([
      {
        metal: 'gold',
        pieceStandard: 'lark-8',
        melt: 'M-1',
        container: 'BOX-1',
        from: 'put-up',
        to: 'strong-room',
        pieces: 40,
        grossMicrograms: 320_400_000,
        fineMicrograms: 293_710_680,
        estimated: false,
      },
    ]);
    const left = await trial.books.get(balances, 'put-up', 'gold', 'lark-8', 'M-1');
    expect(left?.pieces).toBe(7);
    expect(await boxOf(trial.books, 'BOX-1')).toMatchObject({ box: 'BOX-1', witness: 'storeman' });
    expect(await boxesOfMelt(trial.books, 'M-1')).toEqual([
      { melt: 'M-1', box: 'BOX-1', pieces: 40 },
    ]);
  });

  it('says on which balance each mass was weighed: the bench for what came, the tubes for what left', async () => {
    const trial = await filledTrial();
    const [came] = await trial.books.select(movements, { descending: true, limit: 1 });
    expect(came).toMatchObject({
      from: 'in-transit',
      weighings: [{ instrument: 'B-1', readings: 1, grossMicrograms: came?.grossMicrograms }],
    });
    const second = { instrument: 'T-1', tare: reading('20.00', 'g') };
    recorded(await weigh(trial, 'T-102', fullTubeGrams, second));
    recorded(await pack(trial));
    const [left] = await trial.books.select(movements, { descending: true, limit: 1 });
    // The piece standard gives its tubes a tare of 20 g with a standard deviation of 0.1 g.
    expect(left).toMatchObject({
      to: 'strong-room',
      weighings: [
        {
          instrument: 'T-1',
          readings: 1,
          grossMicrograms: 160_200_000,
          storedTareDeviationGrams: 0.1,
        },
        {
          instrument: 'T-1',
          readings: 1,
          grossMicrograms: 160_200_000,
          storedTareDeviationGrams: 0,
        },
      ],
    });
  });

  it('is weighed against its closed tubes, where the masses of pieces and tubes cancel', async () => {
    const trial = await filledTrial();
    const [body] = recorded(await pack(trial, { gross: reading('1161.10', 'g') }));
    const { check } = body as BoxPacked;
    // 1161.10 − 800 − 2 × 180.20 = 0.70 g.
    expect(check.output.differenceGrams).toBeCloseTo(0.7, 9);
    // By hand, in g²: tubes 2 × (0.01² + 0.01²/12), tare 1², box 0.01² + 0.01²/12; one balance.
    expect(check.output.standardUncertaintyGrams).toBeCloseTo(Math.sqrt(1.000325), 9);
    expect(check.output.verdict).toBe('unchanged');
  });

  it('with its own tare weighed shows differences that the mean tare would hide', async () => {
    const trial = await filledTrial();
    const own = { tare: reading('801.30', 'g') };
    // 1161.75 − 801.30 − 360.40 = 0.05 g; by hand three standard uncertainties are
    // 3 × √(2 × 0.000108 + 0.0001 + 0.000108) = 0.062 g with the tare weighed.
    const [body] = recorded(await pack(trial, { ...own, gross: reading('1161.75', 'g') }));
    const { differenceGrams, standardUncertaintyGrams } = (body as BoxPacked).check.output;
    expect(differenceGrams).toBeCloseTo(0.05, 9);
    expect(standardUncertaintyGrams).toBeCloseTo(Math.sqrt(0.000425), 9);
    const other = await filledTrial();
    // 0.70 g, which passed with a tare deviation of 1 g.
    expect(refusals(await pack(other, { ...own, gross: reading('1162.40', 'g') }))).toEqual([
      'BoxDiffersFromTubes',
    ]);
  });

  it('is refused when a piece has left since its tubes were weighed', async () => {
    const trial = await filledTrial();
    const outcome = await pack(trial, { gross: reading('1152.39', 'g') });
    expect(refusals(outcome)).toEqual(['BoxDiffersFromTubes']);
  });

  it('is refused where one piece could leave unseen', async () => {
    const trial = await filledTrial();
    const coarse = { instrument: 'T-COARSE', gross: reading('1160', 'g') };
    expect(refusals(await pack(trial, coarse))).toEqual(['BoxNotProvable']);
  });

  it('is refused for a used name, a used seal, and tubes that are not proved', async () => {
    const trial = await filledTrial();
    recorded(await weigh(trial, 'T-103', 76.07, { pieces: 7 }));
    recorded(
      await trial.do('open-tube', { tube: 'T-103', piecesFound: 7 }, 'custodian', 'storeman'),
    );
    const no = async (changes: object) => refusals(await pack(trial, changes));
    expect(await no({ tubes: ['T-101', 'T-9'] })).toEqual(['TubeUnknown']);
    expect(await no({ tubes: ['T-101', 'T-101'] })).toEqual(['TubeRepeated']);
    expect(await no({ tubes: ['T-101', 'T-103'] })).toEqual(['TubeNotClosed']);
    expect(await no({ instrument: 'B-OLD' })).toEqual(['CalibrationOverdue']);
    // The seal of the drum that brought the melt.
    expect(await no({ seal: 'S-M-1' })).toEqual(['SealAlreadyUsed']);
    recorded(await weigh(trial, 'T-103', 68.06, { pieces: 7 }));
    expect(await no({ tubes: ['T-101', 'T-103'] })).toEqual(['TubeNotProved']);
    recorded(await pack(trial));
    expect(await no({})).toEqual([
      'BoxAlreadyPacked',
      'SealAlreadyUsed',
      'TubeAlreadyPacked',
      'TubeAlreadyPacked',
    ]);
  });

  it('needs a second person', async () => {
    const trial = await filledTrial();
    expect(refusals(await trial.do('pack-box', boxInput(), 'custodian'))).toEqual([
      'WitnessMissing',
    ]);
    expect(refusals(await trial.do('pack-box', boxInput(), 'custodian', 'custodian'))).toEqual([
      'WitnessIsAuthor',
    ]);
  });
});

describe('the rule of a box', () => {
  const factsOf = async (trial: Trial): Promise<BoxFacts> => {
    const instant = new Date(trial.now).toISOString();
    const melt = await meltInPutUp(trial.books, 'M-1', instant);
    const balance = await namedBalance(trial.books, 'T-1', instant);
    const found: (TubeRow | undefined)[] = [];
    for (const tube of ['T-101', 'T-102']) found.push(await trial.books.get(tubes, tube));
    return {
      box: undefined,
      tubes: found,
      standard: melt.standard,
      isSealUsed: false,
      balance,
      tubeBalances: new Map([['T-1', balance]]),
      melts: new Map([['M-1', melt]]),
      doubts: new Map(),
    };
  };
  const decided = (facts: BoxFacts) => {
    const checked = checkBox(boxInput() as PackBoxInput, facts);
    return 'refusals' in checked ? checked.refusals.map(({ refusal }) => refusal) : [];
  };

  it('refuses tubes of two piece standards, and more tubes than a box holds', async () => {
    const facts = await factsOf(await filledTrial());
    expect(decided(facts)).toEqual([]);
    const [first, second] = facts.tubes;
    const other = { ...second, pieceStandard: 'heron-31' } as TubeRow;
    expect(decided({ ...facts, tubes: [first, other] })).toEqual(['BoxMixesStandards']);
    const { standard } = facts;
    if (!standard) throw new RangeError('no piece standard');
    expect(decided({ ...facts, standard: { ...standard, tubesPerBox: 1 } })).toEqual([
      'BoxOverfull',
    ]);
  });

  it('refuses a box over a hold that reaches its melt', async () => {
    const facts = await factsOf(await filledTrial());
    const melt = facts.melts.get('M-1');
    if (!melt) throw new RangeError('no melt');
    const held = { ...melt, holds: { open: ['HOLD-9'], piecesCondemned: 0 } };
    expect(decided({ ...facts, melts: new Map([['M-1', held]]) })).toEqual(['MeltOnHold']);
  });
});

describe('a tube that was weighed on a balance in doubt', () => {
  it('goes into no box before the chief assayer has answered for its weighing', async () => {
    const trial = await filledTrial();
    const hold = await failTubeBalance(trial);
    expect(await pack(trial, { instrument: 'T-2' })).toMatchObject({
      refusals: [
        { refusal: 'TubeWeighingHeld', field: 'tubes.0', figures: { tube: 'T-101', hold } },
        { refusal: 'TubeWeighingHeld', field: 'tubes.1' },
      ],
    });
    const [first, second] = await heldTubes(trial, hold);
    const answer = (entry: number, finding: string) =>
      trial.do('answer-hold', { hold, entries: [entry], finding, reason: 'Checked.' }, 'chief');
    recorded(await answer(first ?? 0, 'stands'));
    recorded(await answer(second ?? 0, 'set aside'));
    expect(await pack(trial, { instrument: 'T-2' })).toMatchObject({
      refusals: [{ field: 'tubes.1', message: expect.stringContaining('was set aside') }],
    });
    // What was set aside waits on the docket until the tube is opened.
    const aside = async () =>
      (await putUpDocket(trial.books)).filter(({ paper }) => paper.startsWith('put-up set aside'));
    expect(await aside()).toMatchObject([
      {
        what: 'A weighing of tube T-102, booked with 20 pieces of melt M-1, was set aside.',
        act: 'Open tube, and weigh it again',
        path: '/put-up/tubes/T-102',
      },
    ]);
    const opening = { tube: 'T-102', piecesFound: 20 };
    recorded(await trial.do('open-tube', opening, 'custodian', 'storeman'));
    expect(await aside()).toEqual([]);
    recorded(await weigh(trial, 'T-102', 180.2, { instrument: 'T-2' }));
    expect(await aside()).toEqual([]);
    recorded(await pack(trial, { instrument: 'T-2' }));
  });
});

describe('the books of put-up', () => {
  it('are the same when they are made anew from the journal', async () => {
    const trial = await filledTrial();
    recorded(await weigh(trial, 'T-103', 68.06, { pieces: 7 }));
    recorded(
      await trial.do('open-tube', { tube: 'T-103', piecesFound: 6 }, 'custodian', 'storeman'),
    );
    recorded(await pack(trial));
    const registry = registerStations([
      registersStation,
      receivingStation,
      laboratoryStation,
      pressRoomStation,
      putUpStation,
    ]);
    const anew = new MemoryStore('trial');
    await rebuildInto(trial.store, anew, registry);
    const comparisons = await compareBooks(trial.store, anew, registry);
    expect(comparisons.filter((one) => !one.equal)).toEqual([]);
    expect(comparisons.find((one) => one.book === 'put_up_tube')?.records).toBe(3);
  });

  it('answer the desk with what lies loose, what is packed and the balances', async () => {
    const trial = await filledTrial();
    recorded(await pack(trial));
    // Whoever counts put-up is told what can be filled, and not how much should lie there.
    expect(await trial.ask('put-up-desk', {}, 'custodian')).toMatchObject({
      seesBook: false,
      melts: [{ melt: 'M-1', piecesHere: null, piecesLoose: null, fillsTube: false }],
    });
    expect(await trial.ask('put-up-desk', {}, 'accountant')).toMatchObject({
      inTransit: [],
      melts: [{ melt: 'M-1', piecesHere: 7, piecesLoose: 7, piecesPerTube: 20, holds: [] }],
      stopped: [],
      weighAgain: [],
      proved: [],
      boxes: [{ box: 'BOX-1', pieces: 40, tubes: 2, seal: 'SEAL-1' }],
      balances: [{ instrument: 'T-1' }, { instrument: 'T-COARSE' }],
    });
    expect(await trial.ask('box', { box: 'BOX-1' }, 'auditor')).toMatchObject({
      title: 'Lark 8 g',
      box: { box: 'BOX-1', pieces: 40 },
    });
  });
});
