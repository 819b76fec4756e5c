import { z } from 'zod';
import { shownRefusal } from '../../journal/blind.ts';
import type { BookReader } from '../../journal/books.ts';
import { balanceOfPlace } from '../../journal/core-books.ts';
import { massReadingSchema } from '../../journal/reading.ts';
import { maySeeBook } from '../../journal/sees-book.ts';
import { defineQuestion, type Inquirer } from '../../journal/station.ts';
import type { Json } from '../../ports/json.ts';
import { idSchema, instrumentsAtPlace, pieceStandardOf } from '../registers/index.ts';
import { boxes, openings, tubes, weighings } from './books.ts';
import { deliveriesInTransit } from './in-transit.ts';
import { meltInPutUp } from './melt-in-put-up.ts';
import { judgeTube, tubeFacts } from './tube-weighing.ts';

const station = 'put-up';

/** Melts whose pieces lie in put-up, with what may be filled and what holds them; no counts for those who count. */
async function meltsHere(books: BookReader, inquirer: Inquirer) {
  const { instant } = inquirer;
  const book = maySeeBook(inquirer);
  const melts = [];
  for (const row of await balanceOfPlace(books, 'put-up')) {
    if (row.melt === '' || row.pieces === 0) continue;
    const found = await meltInPutUp(books, row.melt, instant);
    melts.push({
      melt: row.melt,
      metal: row.metal,
      pieceStandard: row.pieceStandard,
      title: found.standard?.title ?? row.pieceStandard,
      piecesHere: book ? row.pieces : null,
      piecesLoose: book ? found.piecesLoose : null,
      piecesCondemned: found.piecesCondemned,
      fillsTube: found.piecesLoose >= (found.standard?.piecesPerTube ?? 0),
      holds: found.holds.open,
      piecesPerTube: found.standard?.piecesPerTube ?? 0,
      tubesPerBox: found.standard?.tubesPerBox ?? 0,
    });
  }
  return melts;
}

async function tubesIn(books: BookReader, state: string) {
  const rows = await books.select(tubes, { by: 'byState', prefix: [state] });
  return rows.map(({ tube, melt, pieceStandard, pieces, words, since, readings }) => ({
    tube,
    melt,
    pieceStandard,
    pieces,
    words,
    since,
    weighings: readings.length,
  }));
}

const shownBoxes = 20;

/** Everything that the desk of put-up shows. */
const putUpDesk = defineQuestion({
  question: 'put-up-desk',
  station,
  input: z.strictObject({}),
  answer: async (books, _input, inquirer) => {
    const packed = await books.select(boxes, {
      by: 'byEntry',
      descending: true,
      limit: shownBoxes,
    });
    const scales = (await instrumentsAtPlace(books, 'put-up')).filter(
      ({ kind }) => kind === 'balance',
    );
    return {
      seesBook: maySeeBook(inquirer),
      inTransit: (await deliveriesInTransit(books)).map((row) => ({
        delivery: row.entry,
        run: row.run,
        melt: row.melt,
        sentBy: row.author,
        since: row.instant,
      })),
      melts: await meltsHere(books, inquirer),
      stopped: await tubesIn(books, 'stopped'),
      weighAgain: await tubesIn(books, 'weigh again'),
      proved: await tubesIn(books, 'proved'),
      boxes: packed.map(({ box, pieceStandard, pieces, netMicrograms, seal, instant: since }) => ({
        box,
        pieceStandard,
        pieces,
        netMicrograms,
        seal,
        tubes: packed.find((row) => row.box === box)?.tubes.length ?? 0,
        since,
      })),
      balances: scales.map(({ instrument, title, divisionGrams, calibrationDue }) => ({
        instrument,
        title,
        divisionGrams,
        calibrationDue,
      })),
    } as unknown as Json;
  },
});

/** One tube with every weighing and opening. */
const tubeQuestion = defineQuestion({
  question: 'tube',
  station,
  input: z.strictObject({ tube: idSchema }),
  answer: async (books, { tube }) => {
    const row = await books.get(tubes, tube);
    const standard = row && (await pieceStandardOf(books, row.pieceStandard));
    return {
      tube: row ?? null,
      title: standard?.title ?? null,
      weighings: await books.select(weighings, { prefix: [tube] }),
      openings: await books.select(openings, { prefix: [tube] }),
    } as unknown as Json;
  },
});

/** One sealed box. */
const boxQuestion = defineQuestion({
  question: 'box',
  station,
  input: z.strictObject({ box: idSchema }),
  answer: async (books, { box }) => {
    const row = await books.get(boxes, box);
    const standard = row && (await pieceStandardOf(books, row.pieceStandard));
    return { box: row ?? null, title: standard?.title ?? null } as unknown as Json;
  },
});

/** What a weighing would say, without recording it: for the eye while the balance settles. */
const tubeTrial = defineQuestion({
  question: 'tube-trial',
  station,
  input: z.strictObject({
    tube: idSchema,
    melt: idSchema,
    pieces: z.int().min(1).max(1000),
    gross: massReadingSchema,
    tare: massReadingSchema.nullable(),
    instrument: idSchema,
  }),
  answer: async (books, input, { instant, person }) => {
    const judged = judgeTube(input, await tubeFacts(books, input, { instant }));
    if ('refusals' in judged) {
      const refusals = judged.refusals.map((one) => shownRefusal(one, person));
      return { refusals, count: null } as unknown as Json;
    }
    return { refusals: [], state: judged.body.state, count: judged.count } as unknown as Json;
  },
});

export const putUpQuestions = [putUpDesk, tubeQuestion, boxQuestion, tubeTrial];
