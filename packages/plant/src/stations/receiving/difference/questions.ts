import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { defineQuestion } from '../../../journal/station.ts';
import type { Json, JsonObject } from '../../../ports/json.ts';
import { personOf, pieceStandardOf, plantDay, supplierOf } from '../../registers/index.ts';
import { consignments } from '../books.ts';
import { type Difference, differences } from './books.ts';
import type { ClaimTerms } from './deadlines.ts';
import { linesOfConsignment, openDifferences, unsettledDifferences } from './queries.ts';

const station = 'receiving';
/** Settled documents that the desk still shows. */
const shownSettled = 30;

const nameOfSupplier = async (books: BookReader, supplier: string): Promise<string> =>
  (await supplierOf(books, supplier))?.name ?? supplier;

async function summaryOf(books: BookReader, row: Difference, day: string): Promise<JsonObject> {
  return {
    difference: row.difference,
    consignment: row.consignment,
    supplier: row.supplier,
    supplierName: await nameOfSupplier(books, row.supplier),
    state: row.state,
    since: row.since,
    raisedOn: row.raisedOn,
    answerDue: row.answerDue,
    isOverdue: row.state === 'raised' && day > row.answerDue,
    isLate: row.isLate,
    lines: row.lines.length,
    differencePieces: row.differencePieces,
    differenceMicrograms: row.differenceMicrograms,
    answer: row.answers.at(-1)?.answer ?? null,
    agreedPieces: row.settlement?.agreedPieces ?? null,
    agreedMicrograms: row.settlement?.agreedMicrograms ?? null,
  };
}

/** The terms of the newest claim on a supplier; those of common practice where there was none. */
async function termsFor(books: BookReader, supplier: string): Promise<ClaimTerms> {
  const newest = { by: 'bySupplier', prefix: [supplier], descending: true, limit: 1 };
  const [last] = await books.select(differences, newest);
  const input = last?.deadlines.input as unknown as
    | { readonly rules: readonly { readonly days: number; readonly dayKind: 'calendar' }[] }
    | undefined;
  const [claim, answer] = [input?.rules[0], input?.rules.at(-1)];
  return {
    claimWithinDays: claim?.days ?? 10,
    answerWithinDays: answer?.days ?? 14,
    dayKind: claim?.dayKind ?? 'calendar',
  };
}

/** Every difference with a supplier: what is open, what was raised, what was settled lately. */
const differencesQuestion = defineQuestion({
  question: 'supplier-differences',
  station,
  input: z.strictObject({}),
  answer: async (books, _input, { instant }) => {
    const day = await plantDay(books, instant);
    const open: JsonObject[] = [];
    for (const { consignment, lines, isReady, since } of await openDifferences(books)) {
      open.push({
        consignment: consignment.consignment,
        supplierName: await nameOfSupplier(books, consignment.supplier),
        document: consignment.document,
        isReady,
        since,
        lines: [...lines] as unknown as Json,
      });
    }
    const settled = await books.select(differences, {
      by: 'byState',
      prefix: ['settled'],
      descending: true,
      limit: shownSettled,
    });
    const documents: JsonObject[] = [];
    for (const row of [...(await unsettledDifferences(books)), ...settled]) {
      documents.push(await summaryOf(books, row, day));
    }
    return { day, open, documents };
  },
});

/** In what one consignment differs, and the documents in which that was raised. */
const consignmentDifferences = defineQuestion({
  question: 'consignment-differences',
  station,
  input: z.strictObject({ consignment: z.string() }),
  answer: async (books, input, { instant }) => {
    const row = await books.get(consignments, input.consignment);
    if (!row) return null;
    const day = await plantDay(books, instant);
    const raised = await books.select(differences, {
      by: 'byConsignment',
      prefix: [input.consignment],
    });
    const documents: JsonObject[] = [];
    for (const one of raised) documents.push(await summaryOf(books, one, day));
    const standard = await pieceStandardOf(books, row.pieceStandard);
    return {
      consignment: row.consignment,
      supplierName: await nameOfSupplier(books, row.supplier),
      pieceStandardTitle: standard?.title ?? row.pieceStandard,
      document: row.document,
      lines: [...(await linesOfConsignment(books, input.consignment))] as unknown as Json,
      documents,
      terms: { ...(await termsFor(books, row.supplier)) },
    };
  },
});

async function namesOf(books: BookReader, ids: readonly string[]): Promise<JsonObject> {
  const names: Record<string, string> = {};
  for (const id of new Set(ids)) names[id] = (await personOf(books, id))?.name ?? id;
  return names;
}

/** One document with its lines, answers and settlement. */
const differenceQuestion = defineQuestion({
  question: 'supplier-difference',
  station,
  input: z.strictObject({ difference: z.string() }),
  answer: async (books, input, { instant }) => {
    const row = await books.get(differences, input.difference);
    if (!row) return null;
    const day = await plantDay(books, instant);
    const people = [
      row.author,
      row.witness,
      ...row.answers.map(({ author }) => author),
      ...(row.settlement ? [row.settlement.author, row.settlement.witness] : []),
    ];
    return {
      ...row,
      supplierName: await nameOfSupplier(books, row.supplier),
      isOverdue: row.state === 'raised' && day > row.answerDue,
      names: await namesOf(books, people),
    } as unknown as Json;
  },
});

export const differenceQuestions = [
  differencesQuestion,
  consignmentDifferences,
  differenceQuestion,
] as const;
