import { z } from 'zod';
import type { Json } from '../ports/json.ts';
import type { StoreReader } from '../ports/store.ts';
import { shownEntry } from './blind.ts';
import type { BookReader } from './books.ts';
import { sumsOfPlace, threads } from './core-books.ts';
import { type Entry, parseEntry } from './entry.ts';
import { entriesOf, kinshipOf } from './lineage.ts';
import { insidePlaces } from './place.ts';
import { maySeeBook } from './sees-book.ts';
import {
  type DocketPaper,
  defineQuestion,
  type EntryKind,
  type Inquirer,
  type Person,
  type Question,
  type Station,
} from './station.ts';

/** What the questions that belong to no station need. */
export interface CoreQuestionSources {
  readonly stations: readonly Station[];
  readonly reader: StoreReader;
  readonly kind: (name: string) => EntryKind | undefined;
}

const station = 'journal';
const nothing = z.strictObject({});

type Paper = DocketPaper & { readonly stationTitle: string };

/** A paper as a person may read it; nothing when it is not for him. */
function shownPaper(paper: DocketPaper, person: Person): DocketPaper | undefined {
  const { readableBy, toOthers, ...open } = paper;
  if (!readableBy || readableBy.some((role) => person.roles.includes(role))) return open;
  return toOthers && { ...open, ...toOthers };
}

/** Every paper of every station that a person may read, oldest first. */
async function papersOf(
  books: BookReader,
  stations: readonly Station[],
  { instant, person }: Inquirer,
): Promise<readonly Paper[]> {
  const papers: Paper[] = [];
  for (const { docket, title } of stations) {
    for (const paper of (await docket?.(books, instant)) ?? []) {
      const shown = shownPaper(paper, person);
      if (shown) papers.push({ ...shown, stationTitle: title });
    }
  }
  return papers.sort((one, other) => (one.since < other.since ? -1 : 1));
}

function docketQuestion({ stations }: CoreQuestionSources): Question {
  return defineQuestion({
    question: 'docket',
    station,
    input: nothing,
    answer: async (books, _input, inquirer) => ({
      papers: (await papersOf(books, stations, inquirer)) as unknown as Json,
    }),
  });
}

/** Which place of the line a station's papers wait at. */
const placeOfStation: Readonly<Record<string, string>> = {
  receiving: 'receiving',
  laboratory: 'laboratory',
  'press-room': 'press-room',
  'put-up': 'put-up',
  certificate: 'strong-room',
};

async function metalsAt(books: BookReader, place: (typeof insidePlaces)[number]) {
  const metals = new Map<string, { pieces: number; gross: number; fine: number }>();
  for (const row of await sumsOfPlace(books, place)) {
    const sum = metals.get(row.metal) ?? { pieces: 0, gross: 0, fine: 0 };
    sum.pieces += row.pieces;
    sum.gross += row.grossMicrograms;
    sum.fine += row.fineMicrograms;
    metals.set(row.metal, sum);
  }
  return [...metals].map(([metal, { pieces, gross, fine }]) => ({
    metal,
    pieces,
    grossMicrograms: gross,
    fineMicrograms: fine,
  }));
}

function lineQuestion({ stations }: CoreQuestionSources): Question {
  return defineQuestion({
    question: 'line',
    station,
    input: nothing,
    answer: async (books, _input, inquirer) => {
      const papers = await papersOf(books, stations, inquirer);
      const isHidden = !maySeeBook(inquirer);
      const stopped = (list: readonly Paper[]) =>
        list.filter((paper) => paper.weight === 'stopped').length;
      const places = [];
      for (const place of insidePlaces) {
        const here = papers.filter((paper) => placeOfStation[paper.station] === place);
        // Whoever counts a place must not read off what should lie there.
        const metals = isHidden ? [] : await metalsAt(books, place);
        places.push({ place, metals, isHidden, waiting: here.length, stopped: stopped(here) });
      }
      return { places, waiting: papers.length, stopped: stopped(papers) };
    },
  });
}

const thingInput = z.strictObject({ thing: z.string().min(1), id: z.string().min(1) });

function lineageQuestion({ reader, kind }: CoreQuestionSources): Question {
  return defineQuestion({
    question: 'lineage',
    station,
    input: thingInput,
    answer: async (books, of) => {
      const entries = [];
      for (const number of await entriesOf(books, of)) {
        const line = await reader.line(number);
        if (line) entries.push(storyLine(parseEntry(line), kind));
      }
      const kinship = await kinshipOf(books, of);
      return { ...of, isKnown: entries.length > 0, ...kinship, entries } as unknown as Json;
    },
  });
}

function storyLine(entry: Entry, kind: CoreQuestionSources['kind']) {
  const { number, instant, shift, author, witness, corrects, reason } = entry;
  const meaning = kind(entry.kind)?.meaning ?? '';
  const told = { number, instant, shift, author, witness, corrects, reason, meaning };
  return { ...told, kind: entry.kind, station: entry.station };
}

function findCodeQuestion(): Question {
  return defineQuestion({
    question: 'find-code',
    station,
    input: z.strictObject({ code: z.string().min(1).max(200) }),
    answer: async (books, { code }) => {
      const entries = new Map<string, number>();
      for (const row of await books.select(threads, { by: 'byId', prefix: [code] })) {
        entries.set(row.thing, (entries.get(row.thing) ?? 0) + 1);
      }
      const things = [...entries].map(([thing, count]) => ({ thing, id: code, entries: count }));
      return { code, things };
    },
  });
}

const entriesInput = z.strictObject({
  /** Number of the first entry; the last ones when left out. */
  from: z.int().min(1).optional(),
  limit: z.int().min(1).max(500),
});

function entriesQuestion({ reader, kind }: CoreQuestionSources): Question {
  return defineQuestion({
    question: 'entries',
    station,
    input: entriesInput,
    answer: async (_books, { from, limit }, { person }) => {
      const last = (await reader.lastLine())?.number ?? 0;
      const first = from ?? Math.max(1, last - limit + 1);
      const lines = await reader.lines(first, first + limit);
      const entries = lines.map((line) => {
        const entry = parseEntry(line);
        return shownEntry(entry, { kind: kind(entry.kind), person });
      });
      return { entries, last } as unknown as Json;
    },
  });
}

/** The questions that belong to no station: the line, the docket, lineage, codes and the journal itself. */
export function coreQuestions(sources: CoreQuestionSources): readonly Question[] {
  return [
    docketQuestion(sources),
    entriesQuestion(sources),
    findCodeQuestion(),
    lineageQuestion(sources),
    lineQuestion(sources),
  ];
}
