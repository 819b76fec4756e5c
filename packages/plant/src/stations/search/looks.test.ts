import { describe, expect, it } from 'vitest';
import type { RecordedEntry } from '../../journal/entry.ts';
import type { Trial } from '../../journal/trial.ts';
import { recorded, refusals } from '../laboratory/laboratory-trial.ts';
import { weigh } from '../put-up/put-up-trial.ts';
import { looks } from './books.ts';
import { LookTaken } from './entries.ts';
import type { Ranking } from './ranking.ts';
import { opened, searchTrial, tallied, tubeGrams } from './search-trial.ts';

interface Answer {
  readonly ranking: Ranking | null;
  readonly looks: readonly { readonly entry: number; readonly words: string }[];
}

const asked = async (trial: Trial, search: string, person = 'chief'): Promise<Answer> =>
  (await trial.ask('search', { search }, person)) as Answer;

async function ranked(trial: Trial, search: string): Promise<Ranking> {
  const { ranking } = await asked(trial, search);
  if (!ranking) throw new RangeError('the search has ended');
  return ranking;
}

/** A search for one piece that put-up's tally lacks, with nothing in the weighings. */
async function oneMissing(): Promise<{ trial: Trial; search: string }> {
  const trial = await searchTrial();
  await tallied(trial, 'put-up', 46);
  return { trial, search: await opened(trial) };
}

async function look(
  of: { trial: Trial; search: string },
  input: object,
  person = 'inspector',
): Promise<number> {
  const outcome = await of.trial.do(
    'record-look',
    { search: of.search, outcome: 'found', words: '', ...input },
    person,
  );
  recorded(outcome);
  return outcome.outcome === 'recorded' ? (outcome.entries[0]?.number ?? 0) : 0;
}

const lookedAt = (ranking: Ranking, name: string) => ranking.looks.find((one) => one.look === name);

const probabilityAt = (ranking: Ranking, name: string): number =>
  lookedAt(ranking, name)?.probability ?? 0;

const faultOf = (ranking: Ranking, name: string, value: number): number =>
  ranking.faults.find((one) => one.name === name && one.value === value)?.probability ?? 0;

describe('a look that found something', () => {
  it('lifts its place at once by what the chance to see it weighs against a false sighting', async () => {
    const of = await oneMissing();
    const before = await ranked(of.trial, of.search);
    const floor = lookedAt(before, 'floor/put-up');
    expect(floor).toMatchObject({ sightings: 0, findings: ['piece too many'], seenIfThere: 0.8 });
    await look(of, { look: 'floor/put-up', finding: 'piece too many' });
    const after = await ranked(of.trial, of.search);
    // Bayes by hand, one fault or another: found with 1 - 0.99 x 0.2 where it lies there, else with 0.01.
    const p = floor?.probability ?? 0;
    const lifted = (p * (1 - 0.99 * 0.2)) / 0.01;
    expect(probabilityAt(after, 'floor/put-up')).toBeCloseTo(lifted / (lifted + 1 - p), 3);
    expect(after.looks[0]).toMatchObject({ look: 'floor/put-up', sightings: 1 });
    expect(after.words).toMatch(
      /^Found: Look through put-up \(the cause lies there with 9\d\u00a0%\)/,
    );
    expect(after.stories[0]?.words).toBe('1 piece lost in put-up or taken from it');
    // For everybody at once, and a second person who finds it too leaves hardly a doubt.
    expect((await asked(of.trial, of.search, 'storeman')).ranking?.looks[0]?.look).toBe(
      'floor/put-up',
    );
    await look(of, { look: 'floor/put-up' }, 'storeman');
    expect(probabilityAt(await ranked(of.trial, of.search), 'floor/put-up')).toBeGreaterThan(0.998);
  });

  it('lifts only what can be found in that way', async () => {
    const of = await oneMissing();
    const before = await ranked(of.trial, of.search);
    await look(of, { look: 'tube/T-101', finding: 'piece too many' });
    const after = await ranked(of.trial, of.search);
    const ratio = (ranking: Ranking, value: number) =>
      faultOf(ranking, 'tube T-101', value) / probabilityAt(ranking, 'floor/put-up');
    expect(faultOf(before, 'tube T-101', -1)).toBeLessThan(1e-3);
    expect(ratio(after, 1) / ratio(before, 1)).not.toBeLessThan(90);
    await look(of, { look: 'tube/T-102', finding: 'piece missing' });
    expect(faultOf(await ranked(of.trial, of.search), 'tube T-102', 1)).toBeLessThan(1e-3);
  });

  it('is lowered again by another person who finds nothing, and withdrawn when called mistaken', async () => {
    const of = await oneMissing();
    const place = 'floor/put-up';
    const start = probabilityAt(await ranked(of.trial, of.search), place);
    const first = await look(of, { look: place });
    const found = probabilityAt(await ranked(of.trial, of.search), place);
    await look(of, { look: place, outcome: 'nothing found' }, 'storeman');
    const doubted = probabilityAt(await ranked(of.trial, of.search), place);
    expect(doubted).toBeLessThan(found);
    expect(doubted).toBeGreaterThan(start);
    const words = 'It was a blank of another melt.';
    const mistaken = { look: place, outcome: 'nothing found', words, mistaken: first };
    const last = await look(of, mistaken, 'storeman');
    const after = await ranked(of.trial, of.search);
    expect(probabilityAt(after, place)).toBeLessThan(start);
    expect(lookedAt(after, place)).toMatchObject({ sightings: 0, looks: 2 });
    expect(await of.trial.books.get(looks, of.search, first)).toMatchObject({ mistakenIn: last });
    const [line] = await of.trial.store.reader.lines(last, last + 1);
    expect(JSON.parse(line?.text ?? '{}')).toMatchObject({ corrects: first, reason: words });
  });

  it('says nothing of a second fault once the place has been tallied or weighed anew', async () => {
    const trial = await searchTrial(19);
    await tallied(trial, 'put-up', 45);
    const of = { trial, search: await opened(trial) };
    await look(of, { look: 'tube/T-102', finding: 'piece missing' });
    expect(faultOf(await ranked(trial, of.search), 'tube T-102', -1)).toBeGreaterThan(0.9);
    await look(of, { look: 'floor/put-up' });
    const lifted = probabilityAt(await ranked(trial, of.search), 'floor/put-up');
    await tallied(trial, 'put-up', 46);
    const after = probabilityAt(await ranked(trial, of.search), 'floor/put-up');
    expect(after).toBeLessThan(lifted / 2);
    recorded(await weigh(trial, 'T-102', tubeGrams(20)));
    expect(faultOf(await ranked(trial, of.search), 'tube T-102', -1)).toBeLessThan(0.5);
  });

  it('reads a look as it was recorded before anybody said as what it was found', async () => {
    const of = await oneMissing();
    const old = {
      search: of.search,
      look: 'floor/put-up',
      title: 'Look through put-up',
      outcome: 'found' as const,
      words: 'Under the bench.',
      probabilityBefore: 0.2,
      seenIfThere: 0.8,
      minutes: 25,
    };
    expect(LookTaken.body.parse(old)).toEqual(old);
    const before = probabilityAt(await ranked(of.trial, of.search), old.look);
    const last = (await of.trial.store.reader.lastLine())?.number ?? 0;
    const entry = { body: old, number: last, instant: '2026-03-02T08:00:00.000Z', author: 'dies' };
    await of.trial.store.write(async (writer) => {
      const { bookWriter } = await import('../../journal/books.ts');
      await LookTaken.apply(bookWriter(writer), entry as unknown as RecordedEntry<typeof old>);
    });
    // Another entry, so that the ranking is made anew.
    await look(of, { look: 'rejects', outcome: 'nothing found' });
    expect(probabilityAt(await ranked(of.trial, of.search), old.look)).toBeGreaterThan(2 * before);
  });

  it('keeps what a count found from those who count again', async () => {
    const of = await oneMissing();
    const input = { look: 'count/put-up', finding: 'piece too many', words: 'I counted 47.' };
    const entry = await look(of, input, 'inspector');
    const seen = async (person: string) =>
      (await asked(of.trial, of.search, person)).looks.find((one) => one.entry === entry);
    expect(await seen('chief')).toMatchObject({
      words: 'I counted 47.',
      finding: 'piece too many',
    });
    expect(await seen('storeman')).toMatchObject({ words: '' });
    expect(await seen('storeman')).not.toHaveProperty('finding');
    expect(LookTaken.readableBy).toContain('auditor');
  });
});

describe('what a look that found something refuses', () => {
  it('takes no finding that the look cannot show, nor one where nothing was found', async () => {
    const of = await oneMissing();
    const tried = (input: object) =>
      of.trial.do(
        'record-look',
        { search: of.search, look: 'floor/put-up', outcome: 'found', words: '', ...input },
        'inspector',
      );
    expect(refusals(await tried({ finding: 'wrong on paper' }))).toEqual(['FindingNotPossible']);
    expect(refusals(await tried({ finding: 'piece too many', outcome: 'nothing found' }))).toEqual([
      'FindingNotPossible',
    ]);
  });

  it('lets only another person call a look mistaken, which found something there and still stands', async () => {
    const of = await oneMissing();
    const first = await look(of, { look: 'floor/put-up' });
    const tried = (input: object, person = 'storeman') =>
      of.trial.do(
        'record-look',
        {
          search: of.search,
          look: 'floor/put-up',
          outcome: 'nothing found',
          words: '',
          mistaken: first,
          ...input,
        },
        person,
      );
    expect(refusals(await tried({ mistaken: 1 }))).toEqual(['SightingUnknown']);
    expect(refusals(await tried({ look: 'count/put-up' }))).toEqual(['SightingUnknown']);
    expect(refusals(await tried({ outcome: 'found' }))).toEqual(['SightingUpheld']);
    expect(refusals(await tried({}, 'inspector'))).toEqual(['SightingByOneself']);
    recorded(await tried({}));
    expect(refusals(await tried({}))).toEqual(['SightingUnknown']);
  });
});

describe('a command of the search', () => {
  it('takes its figures from the ranking that a tablet asked for, without calculating again', async () => {
    const of = await oneMissing();
    const shown = await ranked(of.trial, of.search);
    const after = (await of.trial.store.reader.lastLine())?.number;
    const { presentSearch } = await import('./present-search.ts');
    const refuse = () => Promise.reject(new Error('this has been calculated'));
    const present = await presentSearch(of.trial.books, of.search, refuse);
    expect(present?.ranking).toBe((await presentSearch(of.trial.books, of.search))?.ranking);
    expect(present).toMatchObject({ rankedAfter: after, ranking: { words: shown.words } });
    const entry = await look(of, { look: 'floor/put-up' });
    expect(await of.trial.books.get(looks, of.search, entry)).toMatchObject({
      rankedAfter: after,
      probabilityBefore: probabilityAt(shown, 'floor/put-up'),
    });
  });
});
