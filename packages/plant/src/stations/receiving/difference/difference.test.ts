import { beforeEach, describe, expect, it } from 'vitest';
import { bookWriter } from '../../../journal/books.ts';
import type { PaperSources } from '../../../journal/station.ts';
import { noteMeltReturned, noteRuling } from '../from-laboratory.ts';
import { grams, makeAnnouncedTrial, type ReceivingTrial, weighings } from '../trial-receiving.ts';
import { differenceLines, differences } from './books.ts';
import { differencePage } from './difference-page.ts';
import { differenceDocket } from './docket.ts';
import { differencePapers } from './papers.ts';

const balance = { instrument: 'BALANCE-1' };
const raising = {
  consignment: 'C-1',
  lines: [
    { thing: 'drum', id: 'D-1' },
    { thing: 'drum', id: 'D-3' },
  ],
  claimWithinDays: 10,
  answerWithinDays: 14,
  dayKind: 'calendar',
};
const answering = {
  difference: 'DIF-2026-1',
  answer: 'accepted in part',
  document: 'Letter of 4 March',
  file: null,
  words: 'One piece is owed; the seal was changed by the carrier.',
};
const settling = {
  difference: 'DIF-2026-1',
  lines: [
    { thing: 'drum', id: 'D-1', agreedPieces: -1, agreedMicrograms: -10_000_000, how: 'credit' },
    { thing: 'drum', id: 'D-3', agreedPieces: 0, agreedMicrograms: 0, how: 'withdrawn' },
  ],
  document: 'Minute 7',
  words: 'Counted by two people; the supplier agrees.',
};

/** D-1 is two pieces short, D-3 came with another seal, D-2 is as documented. */
async function makeDifferingTrial(): Promise<ReceivingTrial> {
  const trial = await makeAnnouncedTrial();
  const light = { ...weighings['D-1'], gross: grams('4980.0'), ...balance };
  await trial.recorded('weigh-drum', light, 'custodian');
  await trial.recorded('weigh-drum', light, 'custodian');
  await trial.recorded('tally-drum', { drum: 'D-1', piecesFound: 298 }, 'custodian', 'inspector');
  await trial.weigh('D-2');
  const stopping = { drum: 'D-3', sealFound: 'S-9', reason: 'Another seal than documented.' };
  await trial.recorded('stop-drum', stopping, 'custodian', 'inspector');
  const admitting = { drum: 'D-3', sealAdmitted: 'S-9', reason: 'The supplier names it.' };
  await trial.recorded('admit-drum', admitting, 'chief', 'custodian');
  const weighing = { ...weighings['D-3'], sealFound: 'S-9', ...balance };
  await trial.recorded('weigh-drum', weighing, 'custodian');
  await trial.recorded('tally-drum', { drum: 'D-3', piecesFound: 200 }, 'custodian', 'inspector');
  return trial;
}

const line = (trial: ReceivingTrial, id: string, thing = 'drum') =>
  trial.books.get(differenceLines, thing, id);

describe('a difference with the supplier', () => {
  it('is opened by the acts that show it, with figures and evidence', async () => {
    const trial = await makeDifferingTrial();
    // The document states the tare to 0.1 kg, so that 30 g less are within its last digit.
    expect(await line(trial, 'D-1')).toMatchObject({
      state: 'open',
      causes: ['pieces'],
      piecesAnnounced: 300,
      piecesFound: 298,
      differencePieces: -2,
      netAnnouncedMicrograms: 3_010_000_000,
      netFoundMicrograms: 2_980_000_000,
      differenceMicrograms: -30_000_000,
      evidence: [5 + 1, 5 + 2, 5 + 3],
    });
    expect(await line(trial, 'D-2')).toMatchObject({ state: 'none', causes: [] });
    expect(await line(trial, 'D-3')).toMatchObject({
      state: 'open',
      causes: ['seal'],
      sealDocumented: 'S-3',
      sealFound: 'S-9',
      differencePieces: 0,
    });
  });

  it('is opened for a mass that is beyond what balances and document leave open', async () => {
    const trial = await makeAnnouncedTrial();
    // 120 g below the document, of which the last digit of the tare, 0.1 kg, explains 29 g (one sigma).
    const light = { ...weighings['D-2'], gross: grams('4880.0'), ...balance };
    await trial.recorded('weigh-drum', light, 'custodian');
    await trial.recorded('weigh-drum', light, 'custodian');
    expect(await line(trial, 'D-2')).toMatchObject({
      state: 'open',
      causes: ['mass'],
      differenceMicrograms: -120_000_000,
    });
  });

  it('holds all of a drum that went back', async () => {
    const trial = await makeAnnouncedTrial();
    await trial.recorded('return-drum', { drum: 'D-2', document: 'Note 8' }, 'chief', 'custodian');
    expect(await line(trial, 'D-2')).toMatchObject({
      causes: ['returned'],
      piecesFound: 0,
      differencePieces: -300,
      differenceMicrograms: -3_000_000_000,
    });
  });

  it('is opened by a refused melt, follows what went back, and goes away with another ruling', async () => {
    const trial = await makeDifferingTrial();
    const told = { number: 99, instant: '2026-03-05T08:00:00.000Z' };
    await trial.store.write(async (writer) => {
      const books = bookWriter(writer);
      await noteRuling(books, told, { melt: 'M-1', isRefused: true });
    });
    expect(await line(trial, 'M-1', 'melt')).toMatchObject({
      state: 'open',
      causes: ['refused'],
      differencePieces: -598,
      differenceMicrograms: -5_980_500_000,
    });
    await trial.store.write(async (writer) => {
      const books = bookWriter(writer);
      await noteMeltReturned(
        books,
        { ...told, number: 100 },
        {
          melt: 'M-1',
          pieces: 518,
          grossMicrograms: 5_180_000_000,
        },
      );
    });
    expect(await line(trial, 'M-1', 'melt')).toMatchObject({
      causes: ['refused', 'returned'],
      piecesFound: 80,
      differencePieces: -518,
      evidence: [99, 100],
    });
    await trial.store.write(async (writer) => {
      await noteRuling(
        bookWriter(writer),
        { ...told, number: 101 },
        {
          melt: 'M-1',
          isRefused: false,
        },
      );
    });
    expect(await line(trial, 'M-1', 'melt')).toMatchObject({ state: 'none', causes: [] });
  });
});

describe('raise-difference', () => {
  it('gathers lines into a numbered document, with its deadlines', async () => {
    const trial = await makeDifferingTrial();
    const [entry] = await trial.recorded('raise-difference', raising, 'custodian', 'inspector');
    expect(entry).toMatchObject({
      kind: 'DifferenceRaised',
      postings: [],
      body: {
        difference: 'DIF-2026-1',
        number: 1,
        differencePieces: -2,
        raisedOn: '2026-03-02',
        // A Monday and fourteen days: Monday the 16th.
        answerDue: '2026-03-16',
        isLate: false,
        deadlines: { calculation: 'claim-clock' },
        lines: [
          { id: 'D-1', causes: ['pieces'], evidence: [6, 7, 8] },
          { id: 'D-3', causes: ['seal'] },
        ],
      },
    });
    expect(await line(trial, 'D-1')).toMatchObject({ state: 'raised', raisedIn: 'DIF-2026-1' });
  });

  it('says that a claim comes too late, and raises it all the same', async () => {
    const trial = await makeDifferingTrial();
    trial.now = Date.parse('2026-03-20T07:00:00.000Z');
    const [entry] = await trial.recorded('raise-difference', raising, 'custodian', 'inspector');
    // Ten days from Monday 2 March end on Thursday 12 March.
    expect(entry?.body).toMatchObject({
      isLate: true,
      words: expect.stringContaining('raised too late, the last day was 2026-03-12'),
    });
  });

  const cases: readonly (readonly [string, object, string, string])[] = [
    ['an unknown consignment', { consignment: 'C-7' }, 'ConsignmentUnknown', 'consignment'],
    [
      'a drum that is as documented',
      { lines: [{ thing: 'drum', id: 'D-2' }] },
      'NothingDiffers',
      'lines.0.id',
    ],
    [
      'a drum twice',
      {
        lines: [
          { thing: 'drum', id: 'D-1' },
          { thing: 'drum', id: 'D-1' },
        ],
      },
      'DifferenceLineTwice',
      'lines.1.id',
    ],
  ];
  it.each(cases)('refuses %s', async (_what, change, refusal, field) => {
    const trial = await makeDifferingTrial();
    expect(
      await trial.refused('raise-difference', { ...raising, ...change }, 'custodian', 'inspector'),
    ).toMatchObject([{ refusal, field }]);
  });

  it('refuses what stands in a document, and numbers on', async () => {
    const trial = await makeDifferingTrial();
    const one = { ...raising, lines: [{ thing: 'drum', id: 'D-1' }] };
    await trial.recorded('raise-difference', one, 'custodian', 'inspector');
    expect(await trial.refused('raise-difference', one, 'custodian', 'inspector')).toMatchObject([
      { refusal: 'DifferenceAlreadyRaised', figures: { difference: 'DIF-2026-1' } },
    ]);
    const other = { ...raising, lines: [{ thing: 'drum', id: 'D-3' }] };
    const [entry] = await trial.recorded('raise-difference', other, 'chief', 'custodian');
    expect(entry?.body).toMatchObject({ difference: 'DIF-2026-2', number: 2 });
  });

  it('opens a line again whose figures change afterwards', async () => {
    const trial = await makeDifferingTrial();
    await trial.recorded('raise-difference', raising, 'custodian', 'inspector');
    const returning = { drum: 'D-1', document: 'Note 9' };
    await trial.recorded('return-drum', returning, 'chief', 'custodian');
    expect(await line(trial, 'D-1')).toMatchObject({
      state: 'open',
      raisedIn: null,
      earlier: ['DIF-2026-1'],
      causes: ['pieces', 'returned'],
    });
    expect(await line(trial, 'D-3')).toMatchObject({ state: 'raised' });
  });
});

describe('record-answer and settle-difference', () => {
  let trial: ReceivingTrial;
  beforeEach(async () => {
    trial = await makeDifferingTrial();
    await trial.recorded('raise-difference', raising, 'custodian', 'inspector');
  });

  it('end a difference with what two people agree, and move no metal', async () => {
    await trial.recorded('record-answer', answering, 'custodian');
    expect(await trial.books.get(differences, 'DIF-2026-1')).toMatchObject({
      state: 'answered',
      answers: [{ answer: 'accepted in part', author: 'custodian' }],
    });
    const [entry] = await trial.recorded('settle-difference', settling, 'chief', 'accountant');
    expect(entry).toMatchObject({
      kind: 'DifferenceSettled',
      postings: [],
      body: { agreedPieces: -1, agreedMicrograms: -10_000_000 },
    });
    expect(await trial.books.get(differences, 'DIF-2026-1')).toMatchObject({ state: 'settled' });
    expect(await line(trial, 'D-1')).toMatchObject({ state: 'settled' });
  });

  it('withdraws a difference without an answer', async () => {
    const lines = settling.lines.map((one) => ({
      ...one,
      agreedPieces: 0,
      agreedMicrograms: 0,
      how: 'withdrawn',
    }));
    const withdrawing = { ...settling, lines };
    const entries = await trial.recorded('settle-difference', withdrawing, 'chief', 'custodian');
    expect(entries).toHaveLength(1);
  });

  it('need a document that is raised and not settled', async () => {
    const unknown = { ...answering, difference: 'DIF-2026-9' };
    expect(await trial.refused('record-answer', unknown, 'custodian')).toMatchObject([
      { refusal: 'DifferenceUnknown' },
    ]);
    expect(await trial.refused('settle-difference', settling, 'chief', 'custodian')).toMatchObject([
      { refusal: 'DifferenceNotAnswered' },
    ]);
    await trial.recorded('record-answer', answering, 'custodian');
    await trial.recorded('settle-difference', settling, 'chief', 'custodian');
    expect(await trial.refused('record-answer', answering, 'custodian')).toMatchObject([
      { refusal: 'DifferenceAlreadySettled' },
    ]);
  });

  it('refuses other lines, and more than was claimed', async () => {
    await trial.recorded('record-answer', answering, 'custodian');
    const [first, second] = settling.lines;
    const refusing = (lines: readonly unknown[]) =>
      trial.refused('settle-difference', { ...settling, lines }, 'chief', 'custodian');
    expect(await refusing([first])).toMatchObject([
      { refusal: 'SettlementLinesDiffer', figures: { missing: ['drum D-3'] } },
    ]);
    expect(await refusing([first, second, { ...second, id: 'D-2' }])).toMatchObject([
      { refusal: 'SettlementLinesDiffer', figures: { strange: ['drum D-2'] } },
    ]);
    expect(await refusing([{ ...first, agreedPieces: -3 }, second])).toMatchObject([
      { refusal: 'SettlementBeyondClaim', field: 'lines.0.agreedPieces' },
    ]);
    expect(await refusing([first, { ...second, agreedMicrograms: -1 }])).toMatchObject([
      { refusal: 'SettlementBeyondClaim', field: 'lines.1.agreedMicrograms' },
    ]);
  });

  it('stands on the docket with its age until it is settled', async () => {
    const papers = async () =>
      (await differenceDocket(trial.books, new Date(trial.now).toISOString())).map(
        ({ act, why, since }) => [act, why, since],
      );
    const since = '2026-03-02T07:00:00.000Z';
    expect(await papers()).toEqual([
      ['Record the answer', 'The answer is due on 2026-03-16.', since],
    ]);
    trial.now = Date.parse('2026-03-17T07:00:00.000Z');
    expect(await papers()).toEqual([
      ['Record the answer', 'The answer was due on 2026-03-16.', since],
    ]);
    await trial.recorded('record-answer', answering, 'custodian');
    expect((await papers()).map(([act, why]) => [act, why])).toEqual([
      ['Settle the difference', 'The supplier answered: accepted in part.'],
    ]);
    await trial.recorded('settle-difference', settling, 'chief', 'custodian');
    expect(await papers()).toEqual([]);
  });

  it('prints as the same bytes each time, with what was found in words', async () => {
    const row = await trial.books.get(differences, 'DIF-2026-1');
    if (!row) throw new RangeError('not raised');
    const page = differencePage({
      row,
      plantTitle: 'Trial Plant',
      supplierName: 'North Smelter',
      standardTitle: 'Gold piece of ten grams',
      entryHash: undefined,
      nameOf: (person) => person,
    });
    expect(page.lines).toMatchObject([
      {
        name: 'D-1',
        causes: 'another count',
        announced: ['300', '3\u2009010.0'],
        found: ['298', '2\u2009980.0'],
        difference: ['−2', '−30.0'],
      },
      { name: 'D-3', seal: 'Seal S-3 by the document, S-9 found' },
    ]);
    const [paper] = differencePapers;
    const sources: PaperSources = {
      books: trial.books,
      instant: '2026-03-02T07:00:00.000Z',
      signer: trial.signer,
      proofOf: async () => undefined,
    };
    const first = await paper.render(sources, 'DIF-2026-1');
    expect(new TextDecoder().decode(first?.bytes.slice(0, 5))).toBe('%PDF-');
    expect(await paper.render(sources, 'DIF-2026-1')).toEqual(first);
    expect(await paper.render(sources, 'DIF-2026-9')).toBeUndefined();
  });
});

describe('the questions of differences', () => {
  it('show what is open, and only call for it once every drum is settled', async () => {
    const trial = await makeAnnouncedTrial();
    const stopping = { drum: 'D-3', sealFound: null, reason: 'The seal is gone.' };
    await trial.recorded('stop-drum', stopping, 'custodian', 'inspector');
    expect(await trial.ask('supplier-differences', {}, 'custodian')).toMatchObject({
      open: [{ consignment: 'C-1', isReady: false, lines: [{ id: 'D-3', sealFound: null }] }],
      documents: [],
    });
    expect(await differenceDocket(trial.books, '2026-03-02T07:00:00.000Z')).toEqual([]);
    const differing = await makeDifferingTrial();
    expect(await differenceDocket(differing.books, '2026-03-02T07:00:00.000Z')).toMatchObject([
      {
        what: '2 drums of consignment C-1 differ from Delivery note 4711: −2 pieces, −29.8 g.',
        act: 'Raise the difference',
        path: '/receiving/consignments/C-1/difference',
      },
    ]);
  });

  it('take the terms of the last claim on the same supplier', async () => {
    const trial = await makeDifferingTrial();
    const terms = async () =>
      (await trial.ask('consignment-differences', { consignment: 'C-1' }, 'custodian')) as object;
    expect(await terms()).toMatchObject({
      terms: { claimWithinDays: 10, answerWithinDays: 14, dayKind: 'calendar' },
    });
    const own = { ...raising, claimWithinDays: 5, answerWithinDays: 7, dayKind: 'business' };
    await trial.recorded('raise-difference', own, 'custodian', 'inspector');
    expect(await terms()).toMatchObject({
      terms: { claimWithinDays: 5, answerWithinDays: 7, dayKind: 'business' },
      documents: [{ difference: 'DIF-2026-1', state: 'raised' }],
    });
    expect(
      await trial.ask('supplier-difference', { difference: 'DIF-2026-1' }, 'inspector'),
    ).toMatchObject({
      supplierName: 'North Smelter',
      names: { custodian: 'custodian' },
    });
    expect(await trial.ask('supplier-difference', { difference: 'X-1' }, 'inspector')).toBeNull();
    expect(
      await trial.ask('consignment-differences', { consignment: 'C-9' }, 'custodian'),
    ).toBeNull();
  });
});
