import type { BookReader } from '../../journal/books.ts';
import {
  type Blank,
  blanks,
  type Consignment,
  consignments,
  type Drum,
  drums,
  type Melt,
  melts,
  type SamplingOrder,
  samplingOrders,
  supplierFinenesses,
} from './books.ts';
import { sealHolder } from './seal-use.ts';

export type { Blank, Consignment, Drum, JudgedLotRow, Melt, SamplingOrder } from './books.ts';
export { noteBlanks, noteMeltReturned, noteResult, noteRuling } from './from-laboratory.ts';
export type { FurtherRound } from './further/books.ts';
export { furtherRoundsOf, noteFurtherAsked, noteFurtherLapsed } from './further/read-model.ts';
export { draftLotJudged, type LotFindings } from './lot-judgement.ts';
export type { PortionRow } from './portions/books.ts';
export { heldBlanks } from './portions/read-model.ts';
export { judgedLotOf } from './series.ts';
export { type LotByVariables, lotByVariables } from './variables/bodies.ts';
export { judgeByVariables } from './variables/judge.ts';

/** A melt with the consignment and supplier it came from. */
export async function meltOf(books: BookReader, melt: string): Promise<Melt | undefined> {
  return books.get(melts, melt);
}

/** The melts of a consignment, in the order of their ids. */
export async function meltsOfConsignment(
  books: BookReader,
  consignment: string,
): Promise<readonly Melt[]> {
  return books.select(melts, { by: 'byConsignment', prefix: [consignment] });
}

export type CountedDrum = Pick<Drum, 'drum' | 'melt' | 'consignment' | 'pieces'>;

/** The drums whose count rests on their weighing alone, in consignments that are not sampled yet. */
export async function drumsCountedByWeight(books: BookReader): Promise<readonly CountedDrum[]> {
  const open = await books.select(consignments, { by: 'byState', prefix: ['announced'] });
  const found: CountedDrum[] = [];
  for (const { consignment } of open) {
    const own = await books.select(drums, { by: 'byConsignment', prefix: [consignment] });
    found.push(...own.filter(({ state }) => state === 'counted'));
  }
  return found;
}

/** The drums of a melt, in the order of their ids; also those sent back. */
export async function drumsOfMelt(books: BookReader, melt: string): Promise<readonly Drum[]> {
  return books.select(drums, { by: 'byMelt', prefix: [melt] });
}

/** The blanks of a melt's sample, in the order of the picks. */
export async function blanksOfMelt(books: BookReader, melt: string): Promise<readonly Blank[]> {
  return books.select(blanks, { by: 'byMelt', prefix: [melt] });
}

/** How the sample of a melt was ordered and drawn; nothing before it is ordered. */
export async function samplingOrderOf(
  books: BookReader,
  melt: string,
): Promise<SamplingOrder | undefined> {
  return books.get(samplingOrders, melt);
}

export async function consignmentOf(
  books: BookReader,
  consignment: string,
): Promise<Consignment | undefined> {
  return books.get(consignments, consignment);
}

/** Whether a seal number has been used in the plant: a seal can be used once. */
export async function isSealUsed(books: BookReader, seal: string): Promise<boolean> {
  return (await sealHolder(books, seal)) !== undefined;
}

/**
 * The supplier's own fineness of a melt; nothing when he stated none. Whoever asks keeps it from
 * everybody until the plant's own result is signed.
 */
export async function supplierFinenessOf(
  books: BookReader,
  melt: string,
): Promise<number | undefined> {
  return (await books.get(supplierFinenesses, melt))?.supplierFinenessPerMille;
}
