import { beforeEach, describe, expect, it } from 'vitest';
import { coreQuestions } from './core-questions.ts';
import { registerStations } from './plant.ts';
import type { DocketPaper, Question, Role, Station } from './station.ts';
import { makeTrial, type Trial } from './trial.ts';
import { trialStation } from './trial-station.ts';

const paper = (id: string, since: string, weight: DocketPaper['weight']): DocketPaper => ({
  paper: id,
  station: 'put-up',
  what: `Tube ${id} waits.`,
  why: 'It was weighed.',
  holdsUp: 'its box',
  act: `Open tube ${id}`,
  path: `/put-up/tubes/${id}`,
  since,
  weight,
});

const putUp: Station = {
  station: 'put-up',
  title: 'Put-up',
  kinds: [],
  books: [],
  commands: [],
  questions: [],
  refusals: {},
  docket: async () => [
    paper('T-2', '2026-03-02T06:30:00.000Z', 'look'),
    paper('T-1', '2026-03-01T22:10:00.000Z', 'stopped'),
  ],
};

const stations = [trialStation, putUp];
let trial: Trial;
let questions: readonly Question[];

async function ask(question: string, input: object = {}, role: Role = 'chief assayer') {
  const found = questions.find((one) => one.question === question);
  if (!found) throw new Error(`no question ${question}`);
  const person = { person: 'asking', name: 'asking', roles: [role], active: true };
  const inquirer = { person, instant: '2026-03-02T07:00:00.000Z' };
  // biome-ignore lint/suspicious/noExplicitAny: the shape of an answer is what the test looks at
  return (await found.answer(trial.books, found.input.parse(input), inquirer)) as any;
}

const move = (drum: string, from: string, to: string, metal: string, pieces: number) => ({
  drum,
  melt: metal === 'gold' ? 'M-1' : 'M-2',
  metal,
  from,
  to,
  pieces,
  grossMicrograms: pieces * 31_100_000,
  words: '',
});

beforeEach(async () => {
  trial = await makeTrial(stations);
  const registry = registerStations(stations);
  questions = coreQuestions({ stations, reader: trial.store.reader, kind: registry.kind });
  const moves = [
    move('D-1', 'with-supplier', 'receiving', 'gold', 200),
    move('D-2', 'with-supplier', 'receiving', 'silver', 500),
    move('D-1', 'receiving', 'put-up', 'gold', 40),
  ];
  for (const one of moves) await trial.do('trial-move-pieces', { moves: [one] }, 'custodian');
});

describe('the line', () => {
  it('tells what lies at each inside place by metal, in the order of the flow', async () => {
    const { places } = await ask('line');
    expect(places.map(({ place }: { place: string }) => place)).toEqual([
      'receiving',
      'laboratory',
      'press-room',
      'put-up',
      'strong-room',
      'archive',
      'scrap',
      'in-transit',
    ]);
    expect(places[0].metals).toEqual([
      { metal: 'gold', pieces: 160, grossMicrograms: 4_976_000_000, fineMicrograms: 4_976_000_000 },
      {
        metal: 'silver',
        pieces: 500,
        grossMicrograms: 15_550_000_000,
        fineMicrograms: 15_550_000_000,
      },
    ]);
    expect(places[3].metals[0].pieces).toBe(40);
    expect(places[1].metals).toEqual([]);
    expect(places.some(({ isHidden }: { isHidden: boolean }) => isHidden)).toBe(false);
  });

  it.each(['custodian', 'inspector', 'assayer', 'die keeper'] as const)(
    'tells no figures to a %s, who is to count them',
    async (role) => {
      const { places } = await ask('line', {}, role);
      for (const place of places) expect(place).toMatchObject({ metals: [], isHidden: true });
      // Where something waits is no figure, and is told as before.
      expect(places[3]).toMatchObject({ waiting: 2, stopped: 1 });
    },
  );

  it.each(['metal accountant', 'auditor'] as const)(
    'tells the %s what lies where',
    async (role) => {
      const { places } = await ask('line', {}, role);
      expect(places[3]).toMatchObject({ isHidden: false, metals: [{ pieces: 40 }] });
    },
  );

  it('counts the papers that wait at the place of their station', async () => {
    const line = await ask('line');
    expect(line.places[3]).toMatchObject({ place: 'put-up', waiting: 2, stopped: 1 });
    expect(line.places[0]).toMatchObject({ waiting: 0, stopped: 0 });
    expect(line).toMatchObject({ waiting: 2, stopped: 1 });
  });
});

describe('the docket', () => {
  it('holds the papers of all stations, oldest first, with the station’s title', async () => {
    const { papers } = await ask('docket');
    expect(papers.map((one: { paper: string }) => one.paper)).toEqual(['T-1', 'T-2']);
    expect(papers[0].stationTitle).toBe('Put-up');
  });

  it('keeps papers from those who may not read them, or says to them what they may know', async () => {
    const base = paper('T-3', '2026-03-01T20:00:00.000Z', 'stopped');
    const closed = { ...base, readableBy: ['chief assayer' as const] };
    const toOthers = {
      what: 'Something waits.',
      why: '',
      holdsUp: 'Nothing.',
      weight: 'look' as const,
    };
    const told = { ...base, paper: 'T-4', readableBy: ['auditor' as const], toOthers };
    const station: Station = { ...putUp, docket: async () => [closed, told] };
    const sources = { reader: trial.store.reader, kind: registerStations(stations).kind };
    questions = coreQuestions({ ...sources, stations: [trialStation, station] });
    const chief = await ask('docket');
    expect(chief.papers.map((one: { paper: string }) => one.paper)).toEqual(['T-3', 'T-4']);
    expect(chief.papers[1]).toMatchObject({ what: 'Something waits.', weight: 'look' });
    const custodian = await ask('docket', {}, 'custodian');
    expect(custodian.papers).toHaveLength(1);
    expect(custodian.papers[0]).not.toHaveProperty('readableBy');
    expect(await ask('line', {}, 'custodian')).toMatchObject({ waiting: 1, stopped: 0 });
  });
});

describe('lineage', () => {
  it('tells the entries of a thing, and what came out of what, both ways', async () => {
    const drum = await ask('lineage', { thing: 'drum', id: 'D-1' });
    expect(drum.isKnown).toBe(true);
    expect(drum.entries.map(({ number }: { number: number }) => number)).toEqual([1, 3]);
    expect(drum.entries[0]).toMatchObject({
      kind: 'TrialPiecesMoved',
      author: 'custodian',
      meaning: 'Pieces of a drum went from one place to another.',
    });
    expect(drum.ancestors).toEqual([{ thing: 'melt', id: 'M-1', depth: 1 }]);
    expect(drum.descendants).toEqual([]);
    const melt = await ask('lineage', { thing: 'melt', id: 'M-1' });
    expect(melt.descendants).toEqual([{ thing: 'drum', id: 'D-1', depth: 1 }]);
  });

  it('says of an unknown thing that nothing speaks of it', async () => {
    expect(await ask('lineage', { thing: 'drum', id: 'D-99' })).toMatchObject({
      isKnown: false,
      entries: [],
      ancestors: [],
      descendants: [],
    });
  });
});

describe('codes', () => {
  it('lead to the things that bear them', async () => {
    expect(await ask('find-code', { code: 'D-1' })).toEqual({
      code: 'D-1',
      things: [{ thing: 'drum', id: 'D-1', entries: 2 }],
    });
    expect((await ask('find-code', { code: 'D-99' })).things).toEqual([]);
  });
});

describe('entries', () => {
  it('are the last ones, or those from a number on', async () => {
    const last = await ask('entries', { limit: 2 });
    expect(last.entries.map(({ number }: { number: number }) => number)).toEqual([2, 3]);
    expect(last.last).toBe(3);
    const first = await ask('entries', { from: 1, limit: 1 });
    expect(first.entries[0]).toMatchObject({
      number: 1,
      body: { drum: 'D-1' },
      things: [
        { thing: 'drum', id: 'D-1' },
        { thing: 'melt', id: 'M-1' },
      ],
    });
    expect((await ask('entries', { from: 9, limit: 5 })).entries).toEqual([]);
  });

  it('hide the body of a kind that is not for the person who asks', async () => {
    const registry = registerStations(stations);
    const hidden = coreQuestions({
      stations,
      reader: trial.store.reader,
      kind: (name) => {
        const kind = registry.kind(name);
        return kind && { ...kind, readableBy: ['auditor'] };
      },
    });
    questions = hidden;
    expect((await ask('entries', { from: 1, limit: 1 })).entries[0].body).toEqual({});
  });
});
