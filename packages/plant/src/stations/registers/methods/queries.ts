import type { BookReader } from '../../../journal/books.ts';
import type { AssayMethod } from '../piece-standard.ts';
import { type MethodEditionRow, methodEditions, methodsInForce } from './books.ts';

export type MethodEdition = MethodEditionRow;

/** Which edition governs a run; it may be that none was ever stated, or none for that fineness. */
export type MethodInForce =
  | { readonly state: 'none stated' }
  | { readonly state: 'in force'; readonly edition: MethodEdition }
  | { readonly state: 'outside'; readonly editions: readonly MethodEdition[] };

/** Whether a fineness lies in the scope of an edition; a limit belongs to it. */
export function isInScope(
  edition: Pick<MethodEdition, 'scope'>,
  finenessPerMille: number,
): boolean {
  const { leastPerMille, greatestPerMille } = edition.scope;
  return finenessPerMille >= leastPerMille && finenessPerMille <= greatestPerMille;
}

/** The newest editions of the methods of that way of assay for that metal. */
export function methodsFor(
  books: BookReader,
  assayMethod: AssayMethod,
  metal: string,
): Promise<readonly MethodEdition[]> {
  return books.select(methodsInForce, { by: 'byAssay', prefix: [assayMethod, metal] });
}

/** The edition that governs a run on metal declared to be of that fineness. */
export async function methodInForce(
  books: BookReader,
  run: {
    readonly assayMethod: AssayMethod;
    readonly metal: string;
    readonly finenessPerMille: number;
  },
): Promise<MethodInForce> {
  const editions = await methodsFor(books, run.assayMethod, run.metal);
  if (editions.length === 0) return { state: 'none stated' };
  const edition = editions.find((one) => isInScope(one, run.finenessPerMille));
  return edition ? { state: 'in force', edition } : { state: 'outside', editions };
}

/** One edition of a method, also one that a newer edition has replaced. */
export function methodEditionOf(
  books: BookReader,
  named: { readonly method: string; readonly edition: number },
): Promise<MethodEdition | undefined> {
  return books.get(methodEditions, named.method, named.edition);
}
