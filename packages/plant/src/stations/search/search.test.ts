import { calculationById, runCalculation } from '@cupel/calculation';
import { describe, expect, it } from 'vitest';
import { recorded, refusals } from '../laboratory/laboratory-trial.ts';
import { weigh } from '../put-up/put-up-trial.ts';
import type { KindTallyRow } from './books.ts';
import { kindTallies } from './books.ts';
import type { Calibration } from './calibration.ts';
import { type Ranking, rank } from './ranking.ts';
import { searchFacts } from './search-facts.ts';
import { opened, searchTrial, tallied, tubeGrams } from './search-trial.ts';

interface Answer {
  readonly search: { readonly state: string; readonly minutesLooked: number };
  readonly ranking: Ranking | null;
}

type Asking = Awaited<ReturnType<typeof searchTrial>>;

async function ranked(trial: Asking, search: string, person = 'chief'): Promise<Ranking> {
  const answer = (await trial.ask('search', { search }, person)) as unknown as Answer;
  if (!answer.ranking) throw new RangeError('the search has ended');
  return answer.ranking;
}

describe('a search', () => {
  it('names the short tube that a weighing shows when put-up is one piece short', async () => {
    const trial = await searchTrial(19);
    await tallied(trial, 'put-up', 46);
    await tallied(trial, 'press-room', 0);
    const search = await opened(trial);
    const ranking = await ranked(trial, search);
    expect(ranking.residuals).toEqual([
      { place: 'press-room', pieces: 0 },
      { place: 'put-up', pieces: 1 },
    ]);
    expect(ranking.faults[0]).toMatchObject({ name: 'tube T-102', value: -1 });
    expect(ranking.faults[0]?.evidence).toMatch(/^152\.19 g: 19 fit .*weigh again first$/);
    expect(ranking.looks[0]?.look).toBe('tube/T-102');
    expect(ranking.words).toContain('tube T-102 holds 19, not 20');
  });

  it('lets a look in vain move the suspicion to the next place, for everybody at once', async () => {
    const trial = await searchTrial();
    await tallied(trial, 'put-up', 46);
    await tallied(trial, 'press-room', 0);
    const search = await opened(trial);
    const before = await ranked(trial, search);
    const [first, second] = before.looks;
    if (!first || !second) throw new RangeError('two looks are needed');
    const look = { search, look: first.look, outcome: 'nothing found', words: 'All there.' };
    recorded(await trial.do('record-look', look, 'inspector'));
    const after = await ranked(trial, search, 'storeman');
    const left = after.looks.find((one) => one.look === first.look);
    expect(left?.probability ?? 0).toBeLessThan(first.probability / 2);
    expect(left === undefined || left.looks === 1).toBe(true);
    expect(after.looks.find((one) => one.look === second.look)?.probability).toBeGreaterThan(
      second.probability,
    );
  });

  it('foretells what weighing the suspected tube once more would show, and keeps to it', async () => {
    const trial = await searchTrial(19);
    await tallied(trial, 'put-up', 46);
    const search = await opened(trial);
    const before = await ranked(trial, search);
    const [look] = before.looks;
    expect(look?.look).toBe('tube/T-102');
    const outcomes = look?.again?.outcomes ?? [];
    expect(outcomes[0]?.shows).toBe(-1);
    expect(outcomes.reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(1, 9);
    expect(look?.again?.words).toMatch(
      /^Weighed once more it shows 19 \(0\.\d+\), .*; that settles \d+ % of what is open here\.$/,
    );
    recorded(await weigh(trial, 'T-102', tubeGrams(19)));
    const after = await ranked(trial, search);
    const fault = (ranking: Ranking) =>
      ranking.faults.find(({ name, value }) => name === 'tube T-102' && value === -1);
    expect(fault(after)?.probability ?? 0).toBeGreaterThan(fault(before)?.probability ?? 1);
    // What a second weighing has told a third cannot tell.
    const left = after.looks.find((one) => one.look === 'tube/T-102')?.again?.openBits ?? 9;
    expect(left).toBeLessThan(look?.again?.openBits ?? 0);
  });

  it('tells nobody who counts what his count would show', async () => {
    const trial = await searchTrial();
    await tallied(trial, 'put-up', 46);
    const search = await opened(trial);
    const countOf = (ranking: Ranking) =>
      ranking.looks.find((one) => one.look === 'count/put-up')?.again;
    expect(countOf(await ranked(trial, search))?.words).toMatch(
      /^Counted once more it shows .*1 piece more/,
    );
    expect(countOf(await ranked(trial, search, 'storeman'))).toBeNull();
  });

  it('ranks the same when the posterior is calculated elsewhere, which pays for many suspicions only', async () => {
    const trial = await searchTrial();
    await tallied(trial, 'put-up', 46);
    const search = await opened(trial);
    const facts = await searchFacts(trial.books, 'lark-8');
    const [tube] = facts?.tubes ?? [];
    if (!facts || !tube) throw new RangeError('a tube is needed');
    const many = Array.from({ length: 600 }, (_, at) => ({ ...tube, tube: `T-${1000 + at}` }));
    const calls: string[] = [];
    const calculate = async (id: string, input: object) => {
      calls.push(id);
      const answer = runCalculation(calculationById(id), structuredClone(input));
      return answer.outcome === 'computed' ? (answer.output as object) : {};
    };
    const of = { rates: new Map(), taken: [] };
    const full = { ...facts, tubes: many };
    expect(await rank(full, of, calculate)).toEqual(await rank(full, of));
    expect(calls).toEqual(['fault-posterior']);
    await rank(facts, of, calculate);
    expect(calls).toHaveLength(1);
    expect((await ranked(trial, search)).looks.length).toBeGreaterThan(0);
  });

  it('shows where to look to those who count, and not what should lie there', async () => {
    const trial = await searchTrial();
    await tallied(trial, 'put-up', 46);
    const search = await opened(trial);
    const ranking = await ranked(trial, search, 'storeman');
    expect(ranking.looks.length).toBeGreaterThan(0);
    expect(ranking).toMatchObject({ residuals: [], stories: [], faults: [], words: '' });
  });

  it('finds tubes that were never booked by their number of pieces', async () => {
    const trial = await searchTrial();
    // Two tubes lie in the strong room and no entry says so.
    await tallied(trial, 'put-up', 7);
    await tallied(trial, 'strong-room', 40);
    const search = await opened(trial);
    const { faults } = await ranked(trial, search);
    expect(faults[0]).toMatchObject({ name: 'tubes not booked', value: 40 });
  });

  it('explains a move of any size that was forgotten, and a piece gone beside it', async () => {
    const trial = await searchTrial();
    // Thirteen of the 47 lie with the scrap and no entry says so; one of the others is gone.
    await tallied(trial, 'put-up', 33);
    await tallied(trial, 'scrap', 13);
    const ranking = await ranked(trial, await opened(trial));
    expect(ranking.unexplained).toBe(false);
    expect(ranking.faults[0]).toMatchObject({
      name: 'move from put-up to scrap not recorded',
      value: 13,
    });
    expect(ranking.stories[0]?.words).toContain('13 pieces went from put-up to scrap');
  });

  it('says that faults can hide behind a total of nothing when a weighing betrays them', async () => {
    const trial = await searchTrial(19);
    await tallied(trial, 'put-up', 47);
    const search = await opened(trial);
    const ranking = await ranked(trial, search);
    expect(ranking.residuals).toEqual([{ place: 'put-up', pieces: 0 }]);
    expect(ranking.noFaultProbability).toBeLessThan(0.99);
    expect(ranking.looks[0]?.look).toBe('tube/T-102');
  });

  it('learns a rate from a confirmed cause and from nothing else', async () => {
    const trial = await searchTrial(19);
    await tallied(trial, 'put-up', 46);
    const search = await opened(trial);
    const rowOf = () => trial.books.get(kindTallies, 'tube miscounted') as Promise<KindTallyRow>;
    expect(await rowOf()).toMatchObject({ confirmed: 0 });
    const look = { search, look: 'tube/T-102', outcome: 'found', words: 'Nineteen in it.' };
    recorded(await trial.do('record-look', look, 'inspector'));
    expect(await rowOf()).toMatchObject({ confirmed: 0 });
    const end = {
      search,
      end: 'cause confirmed',
      cause: 'tube T-102',
      kind: null,
      proof: 'Opened by two: nineteen pieces; the twentieth lay under the chute.',
    };
    const [body] = recorded(await trial.do('end-search', end, 'chief', 'storeman'));
    expect(body).toMatchObject({ kind: 'tube miscounted', rankPredicted: 1, minutesLooked: 0.5 });
    expect(await rowOf()).toMatchObject({ confirmed: 1 });
    const desk = (await trial.ask('searches', {}, 'chief')) as unknown as {
      kinds: { kind: string; rate: number; assumedRate: number }[];
    };
    const tube = desk.kinds.find(({ kind }) => kind === 'tube miscounted');
    expect(tube?.rate).toBeGreaterThan(tube?.assumedRate ?? 1);
  });

  it('compares what was foretold with what was confirmed, for those who see the book', async () => {
    const trial = await searchTrial(19);
    const calibration = async (person = 'chief') =>
      (await trial.ask('search-calibration', {}, person)) as unknown as Calibration | null;
    expect(await calibration()).toMatchObject({ causes: null, looks: null });
    await tallied(trial, 'put-up', 46);
    const search = await opened(trial);
    const before = (await ranked(trial, search)).faults.find(({ name }) => name === 'tube T-102');
    const look = { search, look: 'tube/T-102', outcome: 'found', words: 'Nineteen in it.' };
    recorded(await trial.do('record-look', look, 'inspector'));
    const end = {
      search,
      end: 'cause confirmed',
      cause: 'tube T-102',
      kind: null,
      proof: 'Opened by two: nineteen pieces.',
    };
    recorded(await trial.do('end-search', end, 'chief', 'storeman'));
    const found = await calibration();
    expect(found?.searches).toEqual({
      compared: 1,
      withoutForetold: 0,
      leftUnresolved: 0,
      causeNotNamed: 0,
    });
    expect(found?.causes?.table.found).toBe(1);
    const band = found?.causes?.table.bands.find((one) => one.found === 1);
    expect(band?.from).toBeLessThanOrEqual(before?.probability ?? 0);
    expect(band?.to).toBeGreaterThan(before?.probability ?? 1);
    expect(found?.looks?.table).toMatchObject({ cases: 1, found: 1 });
    expect(found?.words).toContain('1 found is few');
    expect(await calibration('storeman')).toBeNull();
    // A search that is left unresolved says nothing of what it foretold, and is only counted.
    const second = await opened(trial);
    const unresolved = { ...end, search: second, end: 'left unresolved', cause: null };
    recorded(await trial.do('end-search', unresolved, 'chief', 'storeman'));
    const after = await calibration();
    expect(after?.searches.leftUnresolved).toBe(1);
    expect(after?.causes).toEqual(found?.causes);
    expect(after?.words).toContain('1 left unresolved stands outside');
  });

  it('counts the opportunities of each entry once', async () => {
    const trial = await searchTrial();
    await tallied(trial, 'put-up', 46);
    const first = await opened(trial);
    const delivered = () => trial.books.get(kindTallies, 'delivery miscounted');
    expect(await delivered()).toMatchObject({ opportunities: 1 });
    const end = {
      search: first,
      end: 'left unresolved',
      cause: null,
      kind: null,
      proof: 'Nothing was found in two hours.',
    };
    recorded(await trial.do('end-search', end, 'chief', 'storeman'));
    await opened(trial);
    expect(await delivered()).toMatchObject({ opportunities: 1 });
  });

  it('waits on the docket while it is open', async () => {
    const trial = await searchTrial();
    await tallied(trial, 'put-up', 46);
    const search = await opened(trial);
    const { searchStation } = await import('./station.ts');
    const papers = await searchStation.docket?.(trial.books, '2026-03-02T12:00:00.000Z');
    expect(papers).toMatchObject([
      { paper: `search/${search}`, weight: 'stopped', path: `/search/${search}` },
    ]);
    expect(papers?.[0]?.what).toContain('1 piece missing in put-up');
    expect(papers?.[0]?.readableBy).toEqual(['metal accountant', 'chief assayer', 'auditor']);
    expect(JSON.stringify(papers?.[0]?.toOthers)).not.toMatch(/missing|put-up|stopped/);
    // Nor does the journal show them what the search begins from and foretells.
    for (const name of ['SearchOpened', 'CausesForetold']) {
      const kind = searchStation.kinds.find((one) => one.kind === name);
      expect(kind?.readableBy).toEqual(['metal accountant', 'chief assayer', 'auditor']);
    }
  });
});

describe('what a search refuses', () => {
  it('begins only from tallies, of a registered piece, once', async () => {
    const trial = await searchTrial();
    const open = (pieceStandard: string) => trial.do('open-search', { pieceStandard }, 'chief');
    expect(refusals(await open('nothing'))).toEqual(['PieceStandardUnknown']);
    expect(refusals(await open('lark-8'))).toEqual(['NothingTallied']);
    await tallied(trial, 'put-up', 47);
    await opened(trial);
    expect(refusals(await open('lark-8'))).toEqual(['SearchAlreadyOpen']);
  });

  it('takes looks that it names, while it is open', async () => {
    const trial = await searchTrial();
    await tallied(trial, 'put-up', 46);
    const search = await opened(trial);
    const record = (changes: object) =>
      trial.do(
        'record-look',
        { search, look: 'count/put-up', outcome: 'nothing found', words: '', ...changes },
        'inspector',
      );
    expect(refusals(await record({ search: 'S-1' }))).toEqual(['SearchUnknown']);
    expect(refusals(await record({ look: 'behind the moon' }))).toEqual(['LookUnknown']);
    const end = (changes: object) =>
      trial.do(
        'end-search',
        {
          search,
          end: 'cause confirmed',
          cause: null,
          kind: null,
          proof: 'It was found by counting.',
          ...changes,
        },
        'chief',
        'storeman',
      );
    expect(refusals(await end({}))).toEqual(['CauseNotStated']);
    expect(refusals(await end({ cause: 'a tube of the moon' }))).toEqual(['CauseUnknown']);
    recorded(await end({ kind: 'something else' }));
    expect(refusals(await record({}))).toEqual(['SearchOver']);
    expect(refusals(await end({ kind: 'something else' }))).toEqual(['SearchOver']);
  });
});
