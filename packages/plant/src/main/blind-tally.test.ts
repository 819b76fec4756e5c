import { beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { balanceOfPlace, threads } from '../journal/core-books.ts';
import { coreQuestions } from '../journal/core-questions.ts';
import { type InsidePlace, insidePlaces } from '../journal/place.ts';
import { registerStations } from '../journal/plant.ts';
import {
  defineKind,
  defineQuestion,
  draft,
  type Question,
  type Station,
} from '../journal/station.ts';
import { type Trial, trialPeople } from '../journal/trial.ts';
import { accountStation } from '../stations/account/station.ts';
import { certificateStation } from '../stations/certificate/station.ts';
import { recorded } from '../stations/laboratory/laboratory-trial.ts';
import { pressRoomTrial, send, strikeRun } from '../stations/press-room/press-room-trial.ts';
import { boxInput, fullTubeGrams, numberOf, weigh } from '../stations/put-up/put-up-trial.ts';
import { putUpStation } from '../stations/put-up/station.ts';
import { opened, tallied } from '../stations/search/search-trial.ts';
import { searchStation } from '../stations/search/station.ts';
import { stations } from './stations.ts';

/*
 * The counter does not see the book. Every place holds a number of pieces that stands nowhere else; a person
 * who counts asks every question of the plant, and none may answer with such a number. Somebody who sees the
 * book asks the same and is answered: so the walk would find it.
 */

const body = z.strictObject({ place: z.enum(insidePlaces), pieces: z.int() });

const LooseFound = defineKind<z.infer<typeof body>>({
  kind: 'TrialLooseFound',
  version: 1,
  station: 'loose',
  meaning: 'Loose pieces came to a place of the trial.',
  body,
  postings: ({ place, pieces }) => [
    {
      metal: 'gold',
      pieceStandard: 'lark-8',
      melt: 'M-1',
      container: null,
      from: 'with-supplier',
      to: place,
      pieces,
      grossMicrograms: pieces * 8_013_121,
      fineMicrograms: pieces * 7_345_027,
      estimated: false,
    },
  ],
  things: () => [{ thing: 'melt', id: 'M-1' }],
  apply: async () => {},
});

/** Brings loose pieces to places, as nothing in the plant does at will. */
const looseStation: Station = {
  station: 'loose',
  title: 'Loose',
  kinds: [LooseFound],
  books: [],
  commands: [
    {
      command: 'bring-loose',
      station: 'loose',
      title: 'Bring loose pieces',
      input: body,
      roles: ['chief assayer'],
      signature: 'none',
      facts: async () => undefined,
      decide: (input) => ({ entries: [draft(LooseFound, input as z.infer<typeof body>)] }),
    },
  ],
  questions: [],
  refusals: {},
};

let trial: Trial;
let search: string;
const totals = new Map<InsidePlace, readonly string[]>();

const spread = (place: InsidePlace): number => 1_040_017 + 73_471 * insidePlaces.indexOf(place);

/** A plant at work with a number of its own at every place; the archive and the scrap had one entry alone. */
beforeAll(async () => {
  trial = await pressRoomTrial([
    putUpStation,
    accountStation,
    searchStation,
    certificateStation,
    looseStation,
  ]);
  await strikeRun(trial, 47);
  const delivery = numberOf(await send(trial, 43));
  recorded(await trial.do('accept-delivery', { delivery, pieces: 43 }, 'custodian'));
  recorded(await weigh(trial, 'T-101', fullTubeGrams));
  recorded(await weigh(trial, 'T-102', fullTubeGrams));
  recorded(await trial.do('pack-box', boxInput(), 'custodian', 'inspector'));
  recorded(await send(trial, 3));
  recorded(
    await trial.do(
      'open-rack',
      { rack: 'RACK-1', place: 'strong-room', title: 'North wall' },
      'chief',
    ),
  );
  recorded(await trial.do('put-away', { rack: 'RACK-1', containers: ['BOX-1'] }, 'custodian'));
  await tallied(trial, 'laboratory', 3);
  search = await opened(trial);
  for (const place of insidePlaces) {
    recorded(await trial.do('bring-loose', { place, pieces: spread(place) }, 'chief'));
    if (['archive', 'scrap'].includes(place)) continue;
    recorded(await trial.do('bring-loose', { place, pieces: 20_011 }, 'chief'));
  }
  for (const place of insidePlaces) {
    const rows = await balanceOfPlace(trial.books, place);
    const pieces = rows.reduce((sum, row) => sum + row.pieces, 0);
    const gross = rows.reduce((sum, row) => sum + row.grossMicrograms, 0);
    totals.set(place, [String(pieces), pieces.toLocaleString('en'), String(gross)]);
  }
});

/** Every question, those that belong to no station among them. */
function questionsOf(planted: readonly Question[] = []): readonly Question[] {
  const registry = registerStations(stations);
  const core = coreQuestions({ stations, reader: trial.store.reader, kind: registry.kind });
  return [...core, ...stations.flatMap(({ questions }) => questions), ...planted];
}

const grams = { text: '180.20', unit: 'g', typed: true };

/** Inputs that cannot be guessed from their names. */
const givenInputs: Readonly<Record<string, readonly object[]>> = {
  entries: [{ limit: 500 }, { from: 1, limit: 500 }],
  'tube-trial': [
    { tube: 'T-103', melt: 'M-1', pieces: 20, gross: grams, tare: null, instrument: 'T-1' },
  ],
};

interface Field {
  readonly enum?: readonly unknown[];
  readonly type?: string;
}

/** Values that a field of that name may have: the ids of the things that the journal speaks of. */
async function valuesOf(name: string, field: Field): Promise<readonly unknown[]> {
  if (field.enum) return field.enum;
  const rows = await trial.books.select(threads, {});
  const things = new Set(rows.filter(({ thing }) => thing === name).map(({ id }) => id));
  if (things.size > 0) return [...things];
  const [line] = await trial.store.reader.lines(1, 2);
  const known: Readonly<Record<string, readonly unknown[]>> = {
    id: [...new Set(rows.map(({ id }) => id))].slice(0, 60),
    thing: [...new Set(rows.map(({ thing }) => thing))],
    code: ['BOX-1', 'M-1', 'T-101'],
    shift: [JSON.parse(line?.text ?? '{}').shift],
    period: ['2026-03', '2026-03-02'],
    pieceStandard: ['lark-8'],
    search: [search],
    month: ['2026-03'],
  };
  return known[name] ?? (field.type === 'integer' ? [1] : ['M-1']);
}

/** So many inputs are tried of one question. */
const mostInputs = 400;

async function inputsOf(question: Question): Promise<readonly object[]> {
  const given = givenInputs[question.question];
  if (given) return given;
  const schema = z.toJSONSchema(question.input, { io: 'input', unrepresentable: 'any' });
  const fields = Object.entries((schema.properties ?? {}) as Record<string, Field>);
  let inputs: object[] = [{}];
  for (const [name, field] of fields) {
    const values = await valuesOf(name, field);
    inputs = inputs.flatMap((input) => values.map((value) => ({ ...input, [name]: value })));
  }
  return inputs.filter((input) => question.input.safeParse(input).success).slice(0, mostInputs);
}

/** The questions whose answers tell a person what should lie at a place, with the place. */
async function told(person: string, planted: readonly Question[] = []): Promise<string[]> {
  const inquirer = {
    person: { person, name: person, roles: trialPeople[person] ?? [], active: true },
    instant: new Date(trial.now).toISOString(),
  };
  const found = new Set<string>();
  let asked = 0;
  for (const question of questionsOf(planted)) {
    for (const input of await inputsOf(question)) {
      asked += 1;
      const text = JSON.stringify(await question.answer(trial.books, input, inquirer));
      for (const [place, figures] of totals) {
        const says = figures.some((one) => new RegExp(`(?<!\\d)${one}(?!\\d)`).test(text));
        if (says) found.add(`${question.question}: ${place}`);
      }
    }
  }
  expect(asked).toBeGreaterThan(100);
  return [...found].sort();
}

describe('the book of a place that is to be counted', () => {
  it.each(['custodian', 'storeman', 'inspector', 'assayer', 'dies'])(
    'stands in no answer to the %s',
    async (person) => {
      expect(await told(person)).toEqual([]);
    },
  );

  it('stands in the answers to those who see it, for every place', async () => {
    const found = await told('accountant');
    for (const place of insidePlaces) {
      expect(found.some((one) => one.endsWith(`: ${place}`))).toBe(true);
    }
    expect(found).toContain('line: put-up');
    expect(found).toContain('receiving-desk: receiving');
    expect(found).toContain('entries: archive');
  });

  it('is found where a question tells it', async () => {
    const leak = defineQuestion({
      question: 'leaking-desk',
      station: 'loose',
      input: z.strictObject({ place: z.enum(insidePlaces) }),
      answer: async (books, { place }) => {
        const rows = await balanceOfPlace(books, place);
        const pieces = rows.reduce((sum, row) => sum + row.pieces, 0);
        return { words: `About ${pieces.toLocaleString('en')} pieces lie there.` };
      },
    });
    expect(await told('custodian', [leak])).toEqual(
      insidePlaces.map((place) => `leaking-desk: ${place}`).sort(),
    );
  });

  it('stands in no refusal of what would take too much', async () => {
    const pieces = 999_999_999;
    const gross = { text: '9000000', unit: 'kg', typed: true };
    const said = JSON.stringify([
      await trial.do('scrap-pieces', { melt: 'M-1', pieces, reason: 'Bent.' }, 'custodian', 'dies'),
      await trial.do('take-blanks', { melt: 'M-1', pieces, gross, instrument: 'B-1' }, 'inspector'),
      await weigh(trial, 'T-103', 8030, { pieces: 1000 }),
    ]);
    for (const figures of totals.values())
      for (const one of figures) expect(said).not.toContain(one);
  });

  it('stands in no paper that everybody may read: each is of one thing that has a name', () => {
    const open = stations
      .flatMap(({ papers }) => papers ?? [])
      .filter(({ readableBy }) => !readableBy)
      .map(({ paper }) => paper)
      .sort();
    expect(open).toEqual([
      'blank-sheet',
      'box-label',
      'certificate',
      'certificate-record',
      'cupellation-sheet',
      'further-pick-list',
      'melt-determinations',
      'month-determinations',
      'pick-list',
      'portion-note',
      'supplier-difference',
      'tube-receipt',
    ]);
  });

  it('leaves what is in a named container to whoever moves it', async () => {
    const tube = await trial.ask('tube', { tube: 'T-101' }, 'custodian');
    expect(tube).toMatchObject({ tube: { pieces: 20 } });
    expect(await trial.ask('box', { box: 'BOX-1' }, 'custodian')).toMatchObject({
      box: { pieces: 40 },
    });
  });
});
