import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { defineQuestion, type Person } from '../../../journal/station.ts';
import type { Json, JsonObject } from '../../../ports/json.ts';
import { pieceStandardOf, supplierOf } from '../../registers/index.ts';
import { consignments, melts } from '../books.ts';
import { forgoneCertificates, type MaterialCertificate } from './books.ts';
import { MaterialCertificateAttached } from './entries.ts';
import { awaitedOf, certificatesOf, certifiedValuesOf, isResultSigned } from './read-model.ts';

/** Who may open the file before the results are signed: who received it, and never one who assays. */
function mayOpenFirst({ roles }: Person): boolean {
  const reads = roles.some((role) => MaterialCertificateAttached.readableBy?.includes(role));
  return reads && !roles.includes('assayer');
}

async function isEverySigned(books: BookReader, ids: readonly string[]): Promise<boolean> {
  for (const melt of ids) if (!(await isResultSigned(books, melt))) return false;
  return true;
}

async function certificateShown(
  books: BookReader,
  row: MaterialCertificate,
  person: Person,
): Promise<JsonObject> {
  const mayOpen = mayOpenFirst(person) || (await isEverySigned(books, row.melts));
  const { entry, instant, document, melts: named, strange, file } = row;
  return {
    entry,
    instant,
    document,
    melts: [...named],
    strange: [...strange],
    name: file.name,
    // The file states the supplier's values: its hash would open it.
    sha256: mayOpen ? file.sha256 : null,
  };
}

/** What certificates say of a melt: nothing to anybody before the plant's own result is signed. */
async function meltShown(books: BookReader, melt: string): Promise<JsonObject> {
  const values = await certifiedValuesOf(books, melt);
  const isSigned = await isResultSigned(books, melt);
  return {
    melt,
    certificates: values.length,
    isSigned,
    values: isSigned ? (values as unknown as Json) : [],
  };
}

/** The material certificates of a consignment, its melts without one, and what may be shown of each. */
const certificatesQuestion = defineQuestion({
  question: 'material-certificates',
  station: 'receiving',
  input: z.strictObject({ consignment: z.string() }),
  answer: async (books, input, { person }) => {
    const row = await books.get(consignments, input.consignment);
    if (!row) return null;
    const own = await books.select(melts, { by: 'byConsignment', prefix: [input.consignment] });
    const standing = await certificatesOf(books, input.consignment);
    const named = new Set(standing.flatMap((one) => one.melts));
    const forgone = await books.select(forgoneCertificates, { prefix: [input.consignment] });
    for (const { melt } of forgone) named.add(melt);
    const certificates: JsonObject[] = [];
    for (const one of standing) certificates.push(await certificateShown(books, one, person));
    const shown: JsonObject[] = [];
    for (const { melt } of own) shown.push(await meltShown(books, melt));
    const standard = await pieceStandardOf(books, row.pieceStandard);
    return {
      consignment: row.consignment,
      supplierName: (await supplierOf(books, row.supplier))?.name ?? row.supplier,
      pieceStandardTitle: standard?.title ?? row.pieceStandard,
      finenessLimitPerMille: standard?.finenessLimitPerMille ?? null,
      certificates,
      melts: shown,
      missing: own
        .filter(({ melt, state }) => !named.has(melt) && state !== 'returned')
        .map(({ melt }) => melt),
      /** Melts for which a certificate is waited, since others of the consignment came with one. */
      awaited: (await awaitedOf(books, input.consignment)).map(({ melt }) => melt),
      forgone: forgone.map(({ melt, reason, entry, instant }) => ({
        melt,
        reason,
        entry,
        instant,
      })),
    };
  },
});

export const documentQuestions = [certificatesQuestion] as const;
