import { describe, expect, it } from 'vitest';
import type { Calculated } from '../../journal/calculated.ts';
import { calculate } from '../../journal/calculated.ts';
import { descents } from '../../journal/core-books.ts';
import type { Trial } from '../../journal/trial.ts';
import { reading, recorded, refusals } from '../laboratory/laboratory-trial.ts';
import { putUpDocket } from './docket.ts';
import {
  deliveredTrial,
  filledTrial,
  fullTubeGrams,
  pack,
  putUpTrial,
  tubeInput,
  weigh,
} from './put-up-trial.ts';

/** Nineteen pieces of 8.01 g in a tube of 20 g. */
const shortTubeGrams = 172.19;

const open = (trial: Trial, piecesFound: number, tube = 'T-101') =>
  trial.do('open-tube', { tube, piecesFound }, 'custodian', 'inspector');

describe('a weighed tube', () => {
  it('is proved by one good weighing, recorded with its reading and the whole count', async () => {
    const trial = await deliveredTrial();
    const [body] = recorded(await weigh(trial, 'T-101', fullTubeGrams));
    const { count, ...kept } = body as { count: Calculated };
    expect(kept).toEqual({
      tube: 'T-101',
      filling: 1,
      melt: 'M-1',
      metal: 'gold',
      pieceStandard: 'lark-8',
      finenessDeclaredPartsPerMillion: 916_700,
      pieces: 20,
      gross: reading('180.20', 'g'),
      grossMicrograms: 180_200_000,
      tare: null,
      tareMicrograms: 20_000_000,
      netMicrograms: 160_200_000,
      reference: {
        origin: 'declared mass',
        referencePieces: 500,
        meanGrams: 8,
        meanStandardUncertaintyGrams: null,
        deliveries: [],
      },
      state: 'proved',
      runs: ['RUN-1'],
    });
    // By hand, in g²: pieces 20 × 0.01², lot 400 × 0.01², reference 400 × 0.01²/500, span
    // (160 × 0.00001)², tare 0.1², repeatability 0.01², one rounding 0.01²/12.
    const variance = 0.002 + 0.04 + 0.00008 + 0.00000256 + 0.01 + 0.0001 + 0.00000833;
    expect(count.output.standardUncertaintyGrams).toBeCloseTo(Math.sqrt(variance), 6);
    expect(calculate(count.calculation, count.input).calculated).toEqual(count);
  });

  it('descends from its melt and from the runs that had delivered', async () => {
    const trial = await deliveredTrial();
    recorded(await weigh(trial, 'T-101', fullTubeGrams));
    const parents = await trial.books.select(descents, {
      by: 'byChild',
      prefix: ['tube', 'T-101'],
    });
    expect(parents.map(({ parentThing, parentId }) => [parentThing, parentId])).toEqual([
      ['melt', 'M-1'],
      ['run', 'RUN-1'],
    ]);
  });

  it('with nineteen is weighed again, then stopped, then opened by two people', async () => {
    const trial = await deliveredTrial();
    const [first] = recorded(await weigh(trial, 'T-101', shortTubeGrams));
    expect(first).toMatchObject({ state: 'weigh again' });
    expect((await putUpDocket(trial.books)).map(({ act, weight }) => [act, weight])).toEqual([
      ['Weigh tube again', 'look'],
    ]);
    const [second] = recorded(await weigh(trial, 'T-101', shortTubeGrams));
    expect(second).toMatchObject({ state: 'stopped', filling: 1 });
    expect((await putUpDocket(trial.books)).map(({ act, weight }) => [act, weight])).toEqual([
      ['Open tube', 'stopped'],
    ]);
    expect(refusals(await weigh(trial, 'T-101', fullTubeGrams))).toEqual(['TubeStopped']);
    expect(recorded(await open(trial, 19))).toEqual([
      {
        tube: 'T-101',
        filling: 1,
        melt: 'M-1',
        pieceStandard: 'lark-8',
        piecesBooked: 20,
        piecesFound: 19,
        stateBefore: 'stopped',
      },
    ]);
    expect(await putUpDocket(trial.books)).toEqual([]);
    const [third] = recorded(await weigh(trial, 'T-101', fullTubeGrams));
    expect(third).toMatchObject({ state: 'proved', filling: 2 });
    const asked = (await trial.ask('tube', { tube: 'T-101' }, 'auditor')) as {
      weighings: readonly { state: string }[];
      openings: readonly { piecesFound: number; witness: string }[];
    };
    expect(asked.weighings.map(({ state }) => state)).toEqual(['weigh again', 'stopped', 'proved']);
    expect(asked.openings).toMatchObject([{ piecesFound: 19, witness: 'inspector' }]);
  });

  it('half a piece light is a bad weighing, and a good one after it proves the count', async () => {
    const trial = await deliveredTrial();
    const [first] = recorded(await weigh(trial, 'T-101', fullTubeGrams - 4));
    expect(first).toMatchObject({ state: 'weigh again' });
    const [second] = recorded(await weigh(trial, 'T-101', fullTubeGrams));
    expect(second).toMatchObject({ state: 'proved' });
  });

  it('is not proved on a balance that cannot, and such a weighing stays out of the next count', async () => {
    const trial = await deliveredTrial();
    const coarse = { instrument: 'T-COARSE', gross: reading('180', 'g') };
    const [first] = recorded(await weigh(trial, 'T-101', 0, coarse));
    const firstCount = (first as { count: Calculated }).count;
    expect(firstCount.output.verdict).toBe('cannot-prove');
    expect(first).toMatchObject({ state: 'weigh again' });
    const [second] = recorded(await weigh(trial, 'T-101', fullTubeGrams));
    expect(second).toMatchObject({ state: 'proved' });
    const secondCount = (second as { count: Calculated }).count;
    expect(secondCount.input.netReadingsGrams).toEqual([160.2]);
  });

  it('with its own tare weighed has two readings and the repeatability for a tare deviation', async () => {
    const trial = await deliveredTrial();
    const tare = { tare: reading('20.05', 'g') };
    const [body] = recorded(await weigh(trial, 'T-101', 180.25, tare));
    expect(body).toMatchObject({ tareMicrograms: 20_050_000, netMicrograms: 160_200_000 });
    expect((body as { count: Calculated }).count.input).toMatchObject({
      readingsTaken: 2,
      tareStandardDeviationGrams: 0.01,
    });
  });
});

describe('a tube is refused', () => {
  it('for a melt, number, balance or tare that is wrong', async () => {
    const trial = await deliveredTrial();
    const no = async (changes: object) =>
      refusals(await weigh(trial, 'T-101', fullTubeGrams, changes));
    expect(await no({ melt: 'M-9' })).toEqual(['MeltUnknown']);
    expect(await no({ pieces: 21 })).toEqual(['TubeOverfull']);
    expect(await no({ instrument: 'P-1' })).toEqual(['InstrumentUnfit']);
    expect(await no({ instrument: 'B-OLD' })).toEqual(['CalibrationOverdue']);
    expect(await no({ tare: reading('180.20', 'g') })).toEqual(['TareNotBelowGross']);
    expect(await no({ gross: reading('-180.20', 'g') })).toEqual(['InputNotAccepted']);
    expect(await no({ gross: reading('180.20', 'mm') })).toContain('InputNotAccepted');
  });

  it('for more pieces than lie loose, or another filling than it is closed with', async () => {
    const trial = await filledTrial();
    // 47 less 40 in two tubes leaves 7.
    expect(refusals(await weigh(trial, 'T-103', fullTubeGrams))).toEqual(['NotEnoughLoosePieces']);
    expect(refusals(await weigh(trial, 'T-101', 100.1, { pieces: 10 }))).toEqual([
      'FillingDiffers',
    ]);
    recorded(await weigh(trial, 'T-103', 76.07, { pieces: 7 }));
  });

  it('once it lies in a box, and by those who may not', async () => {
    const trial = await filledTrial();
    expect(refusals(await trial.do('weigh-tube', tubeInput('T-101', 180.2), 'inspector'))).toEqual([
      'RoleMissing',
    ]);
    recorded(await pack(trial));
    expect(refusals(await weigh(trial, 'T-101', fullTubeGrams))).toEqual(['TubeAlreadyPacked']);
  });

  it('to be opened when it is unknown, open, packed, or without a second person', async () => {
    const trial = await filledTrial();
    expect(refusals(await open(trial, 20, 'T-9'))).toEqual(['TubeUnknown']);
    const alone = await trial.do('open-tube', { tube: 'T-101', piecesFound: 20 }, 'custodian');
    expect(refusals(alone)).toEqual(['WitnessMissing']);
    recorded(await open(trial, 20));
    expect(refusals(await open(trial, 20))).toEqual(['TubeNotClosed']);
    recorded(await weigh(trial, 'T-101', fullTubeGrams));
    recorded(await pack(trial));
    expect(refusals(await open(trial, 20))).toEqual(['TubeAlreadyPacked']);
  });
});

describe('the question tube-trial', () => {
  it('judges as the record would, and records nothing', async () => {
    const trial = await deliveredTrial();
    const before = await trial.store.reader.lastLine();
    const asked = (await trial.ask('tube-trial', tubeInput('T-101', 172.19), 'custodian')) as {
      state: string;
      count: { verdict: string; posterior: readonly { pieces: number; probability: number }[] };
    };
    expect(await trial.store.reader.lastLine()).toEqual(before);
    expect(asked).toMatchObject({ state: 'weigh again', refusals: [] });
    const likely = asked.count.posterior.reduce((best, one) =>
      one.probability > best.probability ? one : best,
    );
    expect(likely.pieces).toBe(19);
    const [body] = recorded(await weigh(trial, 'T-101', shortTubeGrams));
    expect((body as { count: Calculated }).count.output).toEqual(asked.count);
  });

  it('answers the reasons where the tube could not be recorded', async () => {
    const trial = await putUpTrial();
    expect(await trial.ask('tube-trial', tubeInput('T-101', 180.2), 'custodian')).toMatchObject({
      count: null,
      refusals: [{ refusal: 'NotEnoughLoosePieces', figures: { pieces: 20 } }],
    });
    expect(await trial.ask('tube-trial', tubeInput('T-101', 180.2), 'accountant')).toMatchObject({
      refusals: [{ figures: { pieces: 20, piecesLoose: 0 } }],
    });
  });
});
