import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { balanceOfPlace } from '../../journal/core-books.ts';
import { maySeeBook } from '../../journal/sees-book.ts';
import { defineQuestion } from '../../journal/station.ts';
import type { Json } from '../../ports/json.ts';
import { type BoxRow, boxesOfMelt, boxOf } from '../put-up/index.ts';
import { idSchema, personOf, pieceStandardOf, purchaserOf } from '../registers/index.ts';
import {
  type CertifiedBoxRow,
  certificateLines,
  certificates,
  certifiedBoxes,
  dispatches,
} from './books.ts';

interface StrongRoomBox {
  readonly row: BoxRow;
  readonly certified: CertifiedBoxRow | undefined;
}

/** The sealed boxes that lie in the strong room, in the order in which they were packed. */
export async function boxesInStrongRoom(books: BookReader): Promise<readonly StrongRoomBox[]> {
  const names = new Set<string>();
  for (const { melt, pieces } of await balanceOfPlace(books, 'strong-room')) {
    if (pieces > 0) for (const { box } of await boxesOfMelt(books, melt)) names.add(box);
  }
  const found: StrongRoomBox[] = [];
  for (const name of names) {
    const row = await boxOf(books, name);
    const certified = await books.get(certifiedBoxes, name);
    if (row && !certified?.dispatch) found.push({ row, certified });
  }
  return found.sort((left, right) => left.row.entry - right.row.entry);
}

async function boxAnswer(books: BookReader, { row, certified }: StrongRoomBox): Promise<Json> {
  const standard = await pieceStandardOf(books, row.pieceStandard);
  return {
    box: row.box,
    seal: row.seal,
    pieceStandard: row.pieceStandard,
    title: standard?.title ?? row.pieceStandard,
    metal: row.metal,
    melts: row.melts.map(({ melt, pieces }) => ({ melt, pieces })),
    tubes: row.tubes.length,
    pieces: row.pieces,
    grossMicrograms: row.netMicrograms,
    fineMicrograms: row.fineMicrograms,
    packed: row.instant,
    entry: row.entry,
    certificate: certified?.certificate ?? null,
  };
}

async function strongRoomAnswer(books: BookReader): Promise<Json> {
  const boxes = await boxesInStrongRoom(books);
  return Promise.all(boxes.map((box) => boxAnswer(books, box)));
}

const strongRoom = defineQuestion({
  question: 'strong-room',
  station: 'certificate',
  input: z.strictObject({}),
  answer: async (books) => ({ boxes: await strongRoomAnswer(books) }),
});

/** How many certificates and dispatches a desk lists. */
const listed = 100;

const certificateDesk = defineQuestion({
  question: 'certificate-desk',
  station: 'certificate',
  input: z.strictObject({}),
  answer: async (books, _input, inquirer) => {
    const newest = { by: 'byEntry', descending: true, limit: listed };
    const gone = await books.select(dispatches, newest);
    return {
      seesBook: maySeeBook(inquirer),
      boxes: await strongRoomAnswer(books),
      certificates: (await books.select(certificateLines, newest)).map((line) => ({ ...line })),
      dispatches: await Promise.all(
        gone.map(async (row) => ({
          ...row,
          purchaserName: (await purchaserOf(books, row.purchaser))?.name ?? row.purchaser,
        })),
      ),
    };
  },
});

const certificateQuestion = defineQuestion({
  question: 'certificate',
  station: 'certificate',
  input: z.strictObject({ certificate: idSchema }),
  answer: async (books, { certificate }) => {
    const row = await books.get(certificates, certificate);
    if (!row) return null;
    const boxes = await Promise.all(
      row.content.boxes.map(async ({ box }) => {
        const state = await books.get(certifiedBoxes, box);
        return { box, certificate: state?.certificate ?? null, dispatch: state?.dispatch ?? null };
      }),
    );
    return {
      ...row,
      authorName: (await personOf(books, row.author))?.name ?? row.author,
      boxes,
      papers: { certificate: row.certificate, record: row.certificate },
    };
  },
});

export const certificateQuestions = [certificateDesk, certificateQuestion, strongRoom] as const;
