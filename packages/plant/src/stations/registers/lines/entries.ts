import type { z } from 'zod';
import type { BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import { defineKind } from '../../../journal/station.ts';
import {
  type InstrumentConnected as ConnectedBody,
  instrumentConnected,
  instrumentDisconnected,
} from './bodies.ts';
import { instrumentLines } from './books.ts';
import { endOf } from './queries.ts';

const station = 'registers';

async function applyConnected(
  books: BookWriter,
  { body, number, instant }: RecordedEntry<ConnectedBody>,
): Promise<void> {
  const row = { ...body, end: endOf(body.line), entry: number, since: instant };
  await books.put(instrumentLines, row);
}

export const InstrumentConnected = defineKind<ConnectedBody>({
  kind: 'InstrumentConnected',
  version: 1,
  station,
  meaning:
    'The chief assayer states on which line an instrument is read and what its lines look like. It vouches for no single reading.',
  body: instrumentConnected,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'instrument', id: body.instrument }],
  apply: applyConnected,
});

export const InstrumentDisconnected = defineKind<z.infer<typeof instrumentDisconnected>>({
  kind: 'InstrumentDisconnected',
  version: 1,
  station,
  meaning:
    'The chief assayer takes an instrument off its line. Readings that came by it stay as they were.',
  body: instrumentDisconnected,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'instrument', id: body.instrument }],
  apply: (books, entry) => books.remove(instrumentLines, entry.body.instrument),
});

export const lineKinds = [InstrumentConnected, InstrumentDisconnected] as const;
