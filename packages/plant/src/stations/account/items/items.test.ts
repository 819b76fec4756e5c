import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { defineCommand, defineKind, draft, type Station } from '../../../journal/station.ts';
import { makeTrial, type Trial } from '../../../journal/trial.ts';
import { registersStation } from '../../registers/station.ts';
import { bodyOf, refusalOf } from '../account-trial.ts';
import { accountStation } from '../station.ts';
import { itemPapers } from './docket.ts';

/** A station that uses seals, as put-up does when it closes a box. */
const sealBody = z.strictObject({ seal: z.string() });
const Sealed = defineKind<z.infer<typeof sealBody>>({
  kind: 'TrialSealed',
  version: 1,
  station: 'trial-sealing',
  meaning: 'A seal is used.',
  body: sealBody,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'seal', id: body.seal }],
  apply: async () => undefined,
});
const sealing: Station = {
  station: 'trial-sealing',
  title: 'Sealing',
  kinds: [Sealed],
  books: [],
  commands: [
    defineCommand({
      command: 'use-seal',
      station: 'trial-sealing',
      title: 'Use seal',
      input: sealBody,
      roles: ['custodian'],
      signature: 'none',
      facts: async () => null,
      decide: (input) => ({ entries: [draft(Sealed, input)] }),
    }),
  ],
  questions: [],
  refusals: {},
};

const series = {
  series: 'S-1',
  item: 'seal',
  prefix: 'A',
  digits: 4,
  first: 1,
  last: 100,
  document: 'Note 17',
};

async function trialWithSeals(): Promise<Trial> {
  const trial = await makeTrial([registersStation, accountStation, sealing]);
  await trial.do('receive-numbers', series, 'custodian');
  for (const seal of ['A0007', 'A0003', 'A0007', 'A0999', 'A00031', 'B0003']) {
    await trial.do('use-seal', { seal }, 'custodian');
  }
  return trial;
}

const count = (trial: Trial, found: number) =>
  trial.do('count-numbers', { series: 'S-1', found }, 'custodian', 'inspector');

describe('seals and labels with numbers', () => {
  it('are left as received less used less spoiled', async () => {
    const trial = await trialWithSeals();
    const spoil = { series: 'S-1', first: 20, last: 24, reason: 'Torn off the reel.' };
    await trial.do('spoil-numbers', spoil, 'custodian', 'inspector');
    // 100 received, two of them in use (A0003 and A0007), five spoiled: 93 are left.
    expect(await trial.ask('number-series', {}, 'accountant')).toMatchObject({
      series: [{ received: 100, used: 2, spoiled: 5, left: 93, first: 'A0001', last: 'A0100' }],
    });
    expect(bodyOf(await count(trial, 93))).toMatchObject({ used: 2, spoiled: 5, difference: 0 });
    expect(await itemPapers(trial.books)).toEqual([]);
    expect(bodyOf(await count(trial, 91))).toMatchObject({ difference: -2 });
    expect((await itemPapers(trial.books)).map(({ what }) => what)).toEqual([
      '2 seals of series S-1 are missing.',
    ]);
  });

  it('come with a delivery note that has a name', async () => {
    const trial = await makeTrial([registersStation, accountStation]);
    expect(
      await trial.do('receive-numbers', { ...series, document: '   ' }, 'custodian'),
    ).toMatchObject({
      refusals: [{ refusal: 'InputNotAccepted', field: 'document' }],
    });
  });

  it('are not more than were received: that would be a slip of the pen', async () => {
    const trial = await trialWithSeals();
    expect(await count(trial, 930)).toMatchObject({
      refusals: [
        { refusal: 'MoreThanReceived', field: 'found', figures: { found: 930, received: 100 } },
      ],
    });
    expect(bodyOf(await count(trial, 100))).toMatchObject({ difference: 2 });
  });

  it('are counted by people who are not told how many should be left', async () => {
    const trial = await trialWithSeals();
    expect(await trial.ask('number-series', {}, 'custodian')).toMatchObject({
      seesBook: false,
      series: [{ used: null, spoiled: null, left: null }],
    });
  });

  it('says which number is in use though it was spoiled', async () => {
    const trial = await trialWithSeals();
    const spoil = { series: 'S-1', first: 50, last: 50, reason: 'Cut by mistake.' };
    await trial.do('spoil-numbers', spoil, 'custodian', 'inspector');
    await trial.do('use-seal', { seal: 'A0050' }, 'custodian');
    expect(await trial.ask('number-series', {}, 'accountant')).toMatchObject({
      series: [{ used: 3, spoiled: 1, left: 97, usedThoughSpoiled: ['A0050'] }],
    });
  });

  it.each([
    ['SeriesAlreadyReceived', 'receive-numbers', { ...series, first: 200, last: 300 }],
    [
      'SeriesAlreadyReceived',
      'receive-numbers',
      { ...series, series: 'S-2', first: 100, last: 101 },
    ],
    ['SeriesUnknown', 'spoil-numbers', { series: 'S-9', first: 1, last: 1, reason: 'Torn.' }],
    [
      'NumbersOutsideSeries',
      'spoil-numbers',
      { series: 'S-1', first: 99, last: 101, reason: 'Torn.' },
    ],
    ['NumbersInUse', 'spoil-numbers', { series: 'S-1', first: 1, last: 5, reason: 'Torn.' }],
    ['SeriesUnknown', 'count-numbers', { series: 'S-9', found: 1 }],
    ['InputNotAccepted', 'receive-numbers', { ...series, series: 'S-3', digits: 2 }],
  ])('is refused with %s', async (refusal, command, input) => {
    const trial = await trialWithSeals();
    expect(refusalOf(await trial.do(command, input, 'custodian', 'inspector'))).toEqual([refusal]);
  });
});
