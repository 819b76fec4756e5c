import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { defineQuestion, type Inquirer } from '../../../journal/station.ts';
import type { Json } from '../../../ports/json.ts';
import { maySeeBook } from '../sees-book.ts';
import { type RackRow, racks } from './books.ts';
import { contentOfRack } from './container.ts';

async function answerOf(books: BookReader, rack: RackRow, inquirer: Inquirer): Promise<Json> {
  const content = await contentOfRack(books, rack);
  const seesBook = maySeeBook(inquirer);
  const sum = (field: 'pieces' | 'grossMicrograms') =>
    content.reduce((total, one) => total + one[field], 0);
  return {
    rack: rack.rack,
    place: rack.place,
    title: rack.title,
    seesBook,
    containers: seesBook ? content.map((one) => ({ ...one })) : null,
    pieces: seesBook ? sum('pieces') : null,
    grossMicrograms: seesBook ? sum('grossMicrograms') : null,
    check: rack.check && {
      instant: rack.check.instant,
      found: rack.check.found.length,
      missing: seesBook ? [...rack.check.missing] : [],
      strange: seesBook ? [...rack.check.strange] : [],
    },
  };
}

const racksQuestion = defineQuestion({
  question: 'racks',
  station: 'account',
  input: z.strictObject({}),
  answer: async (books, _input, inquirer) => {
    const rows: Json[] = [];
    for (const rack of await books.select(racks)) rows.push(await answerOf(books, rack, inquirer));
    return { racks: rows };
  },
});

export const rackQuestions = [racksQuestion] as const;
