import type { BookReader } from '../../journal/books.ts';
import { threads } from '../../journal/core-books.ts';
import {
  type DoubtfulWeighing,
  doubtOfWeighing,
  doubtsOfMelt,
  type MeltDoubt,
  type MeltResult,
  type RulingRow,
  resultOf,
  rulingOf,
} from '../laboratory/index.ts';
import { holdsBeyondPress } from '../press-room/index.ts';
import { type BoxRow, boxOf, tubeWeighingOf, type WeighingRow } from '../put-up/index.ts';
import {
  type Consignment,
  consignmentOf,
  type FurtherRound,
  furtherRoundsOf,
  type Melt,
  meltOf,
  type SamplingOrder,
  samplingOrderOf,
} from '../receiving/index.ts';
import {
  type PieceStandard,
  type Plant,
  personOf,
  pieceStandardOf,
  plantOf,
  supplierOf,
} from '../registers/index.ts';
import { type CertificateLine, type CertifiedBoxRow, certificateLines } from './books.ts';
import { certifiedBoxOf } from './read-model.ts';

/** What is known of a box that is to be certified. */
export interface BoxFacts {
  readonly box: string;
  readonly row: BoxRow | undefined;
  readonly certified: CertifiedBoxRow | undefined;
  /** The weighing that proved each tube, by tube. */
  readonly weighings: ReadonlyMap<string, WeighingRow>;
  /** Why its own weighing, or that of one of its tubes, proves nothing; nothing where they do. */
  readonly doubt: DoubtfulWeighing | undefined;
}

/** What is known of a melt in those boxes. */
export interface MeltFacts {
  readonly melt: string;
  readonly row: Melt | undefined;
  readonly consignment: Consignment | undefined;
  readonly supplierName: string;
  readonly sampling: SamplingOrder | undefined;
  readonly drawnInstant: string;
  /** Rounds of further blanks that the laboratory asked for. */
  readonly further: readonly FurtherRound[];
  readonly result: MeltResult | undefined;
  readonly ruling: RulingRow | undefined;
  readonly openHolds: readonly string[];
  /** What its release rests on and is in doubt. */
  readonly doubts: readonly MeltDoubt[];
}

/** Everything that the rule of a certificate needs to know. */
export interface IssueFacts {
  readonly plant: Plant | undefined;
  readonly existing: CertificateLine | undefined;
  readonly replaced: CertificateLine | undefined;
  readonly standard: PieceStandard | undefined;
  readonly boxes: readonly BoxFacts[];
  readonly melts: readonly MeltFacts[];
  /** Names of the people who signed, by id. */
  readonly names: ReadonlyMap<string, string>;
}

async function boxFacts(books: BookReader, box: string): Promise<BoxFacts> {
  const row = await boxOf(books, box);
  const weighings = new Map<string, WeighingRow>();
  for (const { tube, weighedEntry } of row?.tubes ?? []) {
    const weighing = await tubeWeighingOf(books, tube, weighedEntry);
    if (weighing) weighings.set(tube, weighing);
  }
  return {
    box,
    row,
    certified: await certifiedBoxOf(books, box),
    weighings,
    doubt: row && (await doubtOfBox(books, row, [...weighings.values()])),
  };
}

/** Whether the balance of the box, or that of one of its tubes, was in doubt when it weighed. */
async function doubtOfBox(
  books: BookReader,
  row: BoxRow,
  weighings: readonly WeighingRow[],
): Promise<DoubtfulWeighing | undefined> {
  for (const weighing of [row, ...weighings]) {
    const doubt = await doubtOfWeighing(books, weighing);
    if (doubt) return doubt;
  }
  return undefined;
}

/** Reads what is known of a melt. */
export async function meltFacts(books: BookReader, melt: string): Promise<MeltFacts> {
  const row = await meltOf(books, melt);
  const sampling = await samplingOrderOf(books, melt);
  const drawn = sampling?.drawnEntry
    ? await books.get(threads, 'melt', melt, sampling.drawnEntry)
    : undefined;
  const supplier = row && (await supplierOf(books, row.supplier));
  return {
    melt,
    row,
    consignment: row && (await consignmentOf(books, row.consignment)),
    supplierName: supplier?.name ?? row?.supplier ?? '',
    sampling,
    drawnInstant: drawn?.instant ?? '',
    further: await furtherRoundsOf(books, melt),
    result: await resultOf(books, melt),
    ruling: await rulingOf(books, melt),
    openHolds: (await holdsBeyondPress(books, melt)).open,
    doubts: await doubtsOfMelt(books, melt),
  };
}

/** The people who signed for a melt. */
function signers({ result, ruling }: MeltFacts): readonly string[] {
  const people = [result?.result.signer, result?.result.checked?.author, ruling?.author];
  return people.filter((person) => person !== undefined);
}

/** Reads what the rule of a certificate needs to know. */
export async function issueFacts(
  books: BookReader,
  input: {
    readonly certificate: string;
    readonly replaces: string | null;
    readonly boxes: readonly string[];
  },
): Promise<IssueFacts> {
  const boxes: BoxFacts[] = [];
  for (const box of input.boxes) boxes.push(await boxFacts(books, box));
  const names = new Set(boxes.flatMap(({ row }) => row?.melts.map(({ melt }) => melt) ?? []));
  const melts: MeltFacts[] = [];
  for (const melt of [...names].sort()) melts.push(await meltFacts(books, melt));
  const people = new Map<string, string>();
  for (const person of melts.flatMap(signers)) {
    people.set(person, (await personOf(books, person))?.name ?? person);
  }
  const pieceStandard = boxes.find(({ row }) => row)?.row?.pieceStandard;
  return {
    plant: await plantOf(books),
    existing: await books.get(certificateLines, input.certificate),
    replaced:
      input.replaces === null ? undefined : await books.get(certificateLines, input.replaces),
    standard: pieceStandard === undefined ? undefined : await pieceStandardOf(books, pieceStandard),
    boxes,
    melts,
    names: people,
  };
}
