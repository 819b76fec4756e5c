import type { BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import { defineKind } from '../../../journal/station.ts';
import { type MethodStated as MethodStatedBody, methodStated } from './bodies.ts';
import { methodEditions, methodsInForce } from './books.ts';

async function applyMethod(
  books: BookWriter,
  entry: RecordedEntry<MethodStatedBody>,
): Promise<void> {
  const { body, number, instant, author } = entry;
  const row = { ...body, metal: body.scope.metal, entry: number, since: instant, author };
  await books.put(methodEditions, row);
  await books.put(methodsInForce, row);
}

export const MethodStated = defineKind<MethodStatedBody>({
  kind: 'MethodStated',
  version: 1,
  station: 'registers',
  meaning:
    'The chief assayer states how a fineness is found: scope, calculation, controls, reagents and cautions. A new edition holds for the runs that follow; earlier runs keep theirs.',
  body: methodStated,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'method', id: body.method }],
  apply: applyMethod,
});

export const methodKinds = [MethodStated] as const;
