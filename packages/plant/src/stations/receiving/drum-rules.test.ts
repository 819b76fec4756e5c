import { describe, expect, it } from 'vitest';
import { balances, descents } from '../../journal/core-books.ts';
import { drums } from './books.ts';
import { meltOf } from './index.ts';
import {
  grams,
  makeAnnouncedTrial,
  makeOrderedTrial,
  makeWeighedTrial,
  type ReceivingTrial,
  weighings,
} from './trial-receiving.ts';

const stopping = { drum: 'D-1', sealFound: 'S-7', reason: 'Another seal than documented.' };
const admitting = { drum: 'D-1', sealAdmitted: 'S-7', reason: 'Supplier confirms the new seal.' };
const returning = { drum: 'D-1', document: 'Return note 3' };

const piecesLying = async (trial: ReceivingTrial) => {
  const rows = await trial.books.select(balances, { prefix: ['receiving'] });
  return rows.map(({ melt, pieces, grossMicrograms, fineMicrograms }) => [
    melt,
    pieces,
    grossMicrograms,
    fineMicrograms,
  ]);
};

/** D-1 weighed one piece light twice: it waits for a tally. */
async function makeLightTrial(): Promise<ReceivingTrial> {
  const trial = await makeAnnouncedTrial();
  const light = { ...weighings['D-1'], gross: grams('4990.0'), instrument: 'BALANCE-1' };
  await trial.recorded('weigh-drum', light, 'custodian');
  await trial.recorded('weigh-drum', light, 'custodian');
  return trial;
}

describe('tally-drum', () => {
  it('settles a missing piece with the supplier, in pieces only', async () => {
    const trial = await makeLightTrial();
    const input = { drum: 'D-1', piecesFound: 299 };
    expect(await trial.recorded('tally-drum', input, 'custodian', 'inspector')).toEqual([
      {
        kind: 'DrumTallied',
        body: {
          consignment: 'C-1',
          melt: 'M-1',
          drum: 'D-1',
          pieceStandard: 'GOLD-10',
          metal: 'gold',
          finenessDeclaredPartsPerMillion: 999_900,
          piecesDocumented: 300,
          piecesBooked: 300,
          piecesFound: 299,
        },
        postings: [
          {
            metal: 'gold',
            pieceStandard: 'GOLD-10',
            melt: 'M-1',
            container: 'D-1',
            from: 'receiving',
            to: 'with-supplier',
            pieces: 1,
            grossMicrograms: 0,
            fineMicrograms: 0,
            estimated: false,
          },
        ],
      },
    ]);
    // 2990 g × 999.9 ‰ = 2989.701 g.
    expect(await piecesLying(trial)).toEqual([['M-1', 299, 2_990_000_000, 2_989_701_000]]);
    expect(await meltOf(trial.books, 'M-1')).toMatchObject({ pieces: 599 });
  });

  it('settles a piece too many the other way', async () => {
    const trial = await makeLightTrial();
    const input = { drum: 'D-1', piecesFound: 302 };
    const [entry] = await trial.recorded('tally-drum', input, 'custodian', 'inspector');
    expect(entry?.postings).toMatchObject([{ from: 'with-supplier', to: 'receiving', pieces: 2 }]);
    expect(await piecesLying(trial)).toMatchObject([['M-1', 302, 2_990_000_000, 2_989_701_000]]);
  });

  it('moves nothing when the count is as documented', async () => {
    const trial = await makeLightTrial();
    const input = { drum: 'D-1', piecesFound: 300 };
    const [entry] = await trial.recorded('tally-drum', input, 'custodian', 'inspector');
    expect(entry?.postings).toEqual([]);
    expect(await trial.books.get(drums, 'D-1')).toMatchObject({ state: 'tallied', pieces: 300 });
  });

  it('may check a drum whose count weight has proved', async () => {
    const trial = await makeWeighedTrial();
    const input = { drum: 'D-1', piecesFound: 300 };
    expect(await trial.recorded('tally-drum', input, 'custodian', 'inspector')).toHaveLength(1);
  });

  it('asks for a reason where neither document nor weight bears the count out', async () => {
    const trial = await makeLightTrial();
    // 2990 g are 291 to 305 pieces of 9.8 g to 10.2612 g; the document says 300, one piece about.
    const input = { drum: 'D-1', piecesFound: 329 };
    expect(await trial.refused('tally-drum', input, 'custodian', 'inspector')).toEqual([
      expect.objectContaining({
        refusal: 'CountUnborne',
        field: 'piecesFound',
        message:
          '329 pieces found in drum D-1: its document says 300, and its 2990 g are 291 to 305 pieces of Gold piece of ten grams.',
        figures: {
          drum: 'D-1',
          piecesFound: 329,
          piecesDocumented: 300,
          netGrams: 2990,
          fewest: 291,
          most: 305,
        },
      }),
    ]);
    const reason = 'Counted three times; 29 blanks of the drum are thin.';
    const outcome = await trial.do('tally-drum', { ...input, reason }, 'custodian', 'inspector');
    expect(outcome).toMatchObject({ outcome: 'recorded', entries: [{ reason }] });
  });

  it('takes a count that either the document or the weight bears out', async () => {
    for (const piecesFound of [291, 297, 303, 305]) {
      const trial = await makeLightTrial();
      const input = { drum: 'D-1', piecesFound };
      expect(await trial.recorded('tally-drum', input, 'custodian', 'inspector')).toHaveLength(1);
    }
  });

  it.each([3000, 611, 145, 30, 0])('refuses %i pieces of 300, whatever is said', async (found) => {
    const trial = await makeLightTrial();
    const input = { drum: 'D-1', piecesFound: found, reason: 'Counted twice.' };
    expect(await trial.refused('tally-drum', input, 'custodian', 'inspector')).toMatchObject([
      { refusal: 'CountImplausible', field: 'piecesFound', figures: { piecesDocumented: 300 } },
    ]);
  });

  it('needs two people, and a drum that has been weighed in', async () => {
    const trial = await makeAnnouncedTrial();
    const input = { drum: 'D-1', piecesFound: 300 };
    expect(await trial.refused('tally-drum', input, 'custodian')).toMatchObject([
      { refusal: 'WitnessMissing' },
    ]);
    expect(await trial.refused('tally-drum', input, 'custodian', 'custodian')).toMatchObject([
      { refusal: 'WitnessIsAuthor' },
    ]);
    expect(await trial.refused('tally-drum', input, 'custodian', 'storeman')).toMatchObject([
      { refusal: 'DrumStateUnfit', nextStep: 'Check its seal and weigh it.' },
    ]);
    const unknown = { ...input, drum: 'D-7' };
    expect(await trial.refused('tally-drum', unknown, 'custodian', 'storeman')).toMatchObject([
      { refusal: 'DrumUnknown' },
    ]);
    const negative = { ...input, piecesFound: -1 };
    expect(await trial.refused('tally-drum', negative, 'custodian', 'storeman')).toMatchObject([
      { refusal: 'InputNotAccepted', field: 'piecesFound' },
    ]);
  });
});

describe('stop-drum and admit-drum', () => {
  it('let a drum with another seal go on, but only to be counted by hand', async () => {
    const trial = await makeAnnouncedTrial();
    expect(await trial.recorded('stop-drum', stopping, 'custodian', 'inspector')).toEqual([
      {
        kind: 'DrumStopped',
        body: { consignment: 'C-1', melt: 'M-1', ...stopping },
        postings: [],
      },
    ]);
    const weighing = { ...weighings['D-1'], sealFound: 'S-7', instrument: 'BALANCE-1' };
    expect(await trial.refused('weigh-drum', weighing, 'custodian')).toMatchObject([
      { refusal: 'DrumStateUnfit', nextStep: 'Let the chief assayer admit it or send it back.' },
    ]);
    expect(await trial.recorded('admit-drum', admitting, 'chief', 'custodian')).toEqual([
      {
        kind: 'DrumAdmitted',
        body: { consignment: 'C-1', melt: 'M-1', ...admitting },
        postings: [],
      },
    ]);
    const [weighed] = await trial.recorded('weigh-drum', weighing, 'custodian');
    expect(weighed?.body).toMatchObject({
      state: 'needs tally',
      count: { output: { verdict: 'proved' } },
      words: expect.stringContaining('Admitted with another seal: count by hand.'),
    });
  });

  it('ask for a new tally of a drum that was stopped after its count, and post the difference once', async () => {
    const trial = await makeLightTrial();
    const tally = (piecesFound: number) =>
      trial.recorded('tally-drum', { drum: 'D-1', piecesFound }, 'custodian', 'inspector');
    await tally(299);
    await trial.recorded('stop-drum', stopping, 'custodian', 'inspector');
    await trial.recorded('admit-drum', admitting, 'chief', 'custodian');
    const [again] = await tally(299);
    expect(again?.postings).toEqual([]);
    expect(await piecesLying(trial)).toMatchObject([['M-1', 299, 2_990_000_000, 2_989_701_000]]);
  });

  it('refuse a seal that is on another drum', async () => {
    const trial = await makeAnnouncedTrial();
    await trial.recorded('stop-drum', stopping, 'custodian', 'inspector');
    const input = { ...admitting, sealAdmitted: 'S-2' };
    expect(await trial.refused('admit-drum', input, 'chief', 'custodian')).toMatchObject([
      {
        refusal: 'SealAlreadyUsed',
        message: 'Seal S-2 was on drum D-2.',
        nextStep: 'Put a new seal on the drum and state its number.',
      },
    ]);
  });

  it('refuse a drum that is not stopped, an unknown drum, and one person alone', async () => {
    const trial = await makeAnnouncedTrial();
    expect(await trial.refused('admit-drum', admitting, 'chief', 'custodian')).toMatchObject([
      { refusal: 'DrumStateUnfit' },
    ]);
    const unknown = { ...stopping, drum: 'D-7' };
    expect(await trial.refused('stop-drum', unknown, 'custodian', 'inspector')).toMatchObject([
      { refusal: 'DrumUnknown' },
    ]);
    expect(await trial.refused('stop-drum', stopping, 'custodian')).toMatchObject([
      { refusal: 'WitnessMissing' },
    ]);
    expect(await trial.refused('admit-drum', admitting, 'custodian', 'inspector')).toMatchObject([
      { refusal: 'RoleMissing' },
    ]);
  });
});

describe('return-drum', () => {
  it('sends back exactly what came in', async () => {
    const trial = await makeWeighedTrial();
    const [entry] = await trial.recorded('return-drum', returning, 'chief', 'custodian');
    expect(entry?.postings).toMatchObject([
      {
        from: 'receiving',
        to: 'with-supplier',
        pieces: 300,
        grossMicrograms: 3_001_000_000,
        fineMicrograms: 3_000_699_900,
      },
    ]);
    expect(await meltOf(trial.books, 'M-1')).toMatchObject({ pieces: 300, state: 'announced' });
    expect(await trial.refused('return-drum', returning, 'chief', 'custodian')).toMatchObject([
      { refusal: 'DrumStateUnfit', nextStep: expect.stringContaining('gone back') },
    ]);
  });

  it('moves nothing for a drum that was never weighed in, and ends a melt without drums', async () => {
    const trial = await makeAnnouncedTrial();
    const input = { ...returning, drum: 'D-3' };
    const [entry] = await trial.recorded('return-drum', input, 'chief', 'custodian');
    expect(entry?.postings).toEqual([]);
    expect(await meltOf(trial.books, 'M-2')).toMatchObject({ pieces: 0, state: 'returned' });
  });

  it('sends back the pieces that a tally found', async () => {
    const trial = await makeLightTrial();
    await trial.recorded('tally-drum', { drum: 'D-1', piecesFound: 299 }, 'custodian', 'inspector');
    await trial.recorded('return-drum', returning, 'chief', 'custodian');
    expect(await piecesLying(trial)).toEqual([]);
  });
});

describe('the drums of a consignment', () => {
  it.each([
    ['tally-drum', { drum: 'D-1', piecesFound: 300 }],
    ['stop-drum', stopping],
    ['return-drum', returning],
  ])('stay as they are once its samples are ordered: %s', async (command, input) => {
    const trial = await makeOrderedTrial();
    const author = command === 'return-drum' ? 'chief' : 'inspector';
    expect(await trial.refused(command, input, author, 'custodian')).toMatchObject([
      {
        refusal: 'SamplesAlreadyOrdered',
        message: 'The samples of consignment C-1 have been ordered.',
      },
    ]);
  });

  it('descend from supplier, consignment and melt', async () => {
    const trial = await makeAnnouncedTrial();
    const rows = await trial.books.select(descents);
    const pairs = rows.map((row) => `${row.parentId} > ${row.childId}`).sort();
    expect(pairs).toEqual([
      'C-1 > M-1',
      'C-1 > M-2',
      'M-1 > D-1',
      'M-1 > D-2',
      'M-2 > D-3',
      'NORTH > C-1',
    ]);
  });
});
