import type { SeriesState } from '@cupel/calculation';
import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { balanceOfPlace } from '../../journal/core-books.ts';
import { maySeeBook } from '../../journal/sees-book.ts';
import { defineQuestion, type Person } from '../../journal/station.ts';
import type { Json, JsonObject } from '../../ports/json.ts';
import {
  instrumentsAtPlace,
  isApproved,
  outOfUse,
  pieceStandardOf,
  pieceStandardsOf,
  plantDay,
  supplierOf,
  suppliersOf,
} from '../registers/index.ts';
import { type Consignment, consignments, type Drum, takenLists } from './books.ts';
import { nextStepOfDrum } from './drum-refusals.ts';
import { drumTrial } from './drum-trial.ts';
import { PackingListTaken } from './entries.ts';
import { consignmentOf, meltOf, meltsOfConsignment, samplingOrderOf } from './index.ts';
import { inspectionHistory } from './inspection-history.ts';
import { mappingsOfSuppliers } from './list/list-read-model.ts';
import { nextStepOf } from './next-step.ts';
import { greatestTray, pickWalk } from './pick-walk.ts';
import { drumsOfConsignment } from './read-model.ts';
import { inspectionOf, seriesOf } from './series.ts';

const station = 'receiving';
/** Consignments that are done here and still shown. */
const shownDone = 12;

/** Consignments that wait for something, oldest first, then the newest that are done. */
export async function openConsignments(books: BookReader): Promise<readonly Consignment[]> {
  const inState = (state: Consignment['state']) =>
    books.select(consignments, { by: 'byState', prefix: [state] });
  const open = [...(await inState('announced')), ...(await inState('samples ordered'))];
  return open.sort((a, b) => a.entry - b.entry);
}

function summaryOfDrum(drum: Drum): JsonObject {
  const { netMicrograms, netDocumentedMicrograms, pieces, piecesDocumented } = drum;
  return {
    drum: drum.drum,
    melt: drum.melt,
    state: drum.state,
    next: nextStepOfDrum(drum.state),
    pieces,
    piecesDocumented,
    differencePieces: pieces - piecesDocumented,
    seal: drum.seal,
    netMicrograms,
    netDocumentedMicrograms,
    differenceGrossMicrograms:
      netMicrograms === null ? null : netMicrograms - netDocumentedMicrograms,
    words: drum.words,
  };
}

/** The series of a supplier's piece standard, read once however many consignments stand in it. */
function inspectionsRead(books: BookReader): (of: Consignment) => Promise<SeriesState> {
  const read = new Map<string, Promise<SeriesState>>();
  return (of) => {
    const name = JSON.stringify([of.supplier, of.pieceStandard]);
    const known = read.get(name) ?? inspectionOf(books, of);
    read.set(name, known);
    return known;
  };
}

async function summaryOf(
  books: BookReader,
  consignment: Consignment,
  inspectionRead: (of: Consignment) => Promise<SeriesState>,
): Promise<JsonObject> {
  const drums = await drumsOfConsignment(books, consignment.consignment);
  const melts = await meltsOfConsignment(books, consignment.consignment);
  const supplier = await supplierOf(books, consignment.supplier);
  const standard = await pieceStandardOf(books, consignment.pieceStandard);
  const inspection = await inspectionRead(consignment);
  const here = drums.filter(({ state }) => state !== 'returned');
  return {
    consignment: consignment.consignment,
    supplier: consignment.supplier,
    supplierName: supplier?.name ?? consignment.supplier,
    document: consignment.document,
    pieceStandard: consignment.pieceStandard,
    pieceStandardTitle: standard?.title ?? consignment.pieceStandard,
    state: consignment.state,
    announcedAt: consignment.announcedAt,
    entry: consignment.entry,
    next: nextStepOf(consignment, drums, melts, inspection),
    inspection: { severity: inspection.severity, reason: inspection.reason },
    pieces: here.reduce((sum, { pieces }) => sum + pieces, 0),
    piecesDocumented: drums.reduce((sum, { piecesDocumented }) => sum + piecesDocumented, 0),
    netMicrograms: here.reduce((sum, { netMicrograms }) => sum + (netMicrograms ?? 0), 0),
    settledDrums: drums.filter(({ state }) => state === 'counted' || state === 'tallied').length,
    melts: melts.map(({ melt, pieces, state }) => ({ melt, pieces, state })),
    drums: drums.map(summaryOfDrum),
  };
}

/** Everything the desk of receiving shows; the suppliers' own values are in none of it. */
const receivingDesk = defineQuestion({
  question: 'receiving-desk',
  station,
  input: z.strictObject({}),
  answer: async (books, _input, inquirer) => {
    const day = await plantDay(books, inquirer.instant);
    const done = await books.select(consignments, {
      by: 'byState',
      prefix: ['samples drawn'],
      descending: true,
      limit: shownDone,
    });
    const inspectionRead = inspectionsRead(books);
    const shown = [];
    for (const row of [...(await openConsignments(books)), ...done]) {
      shown.push(await summaryOf(books, row, inspectionRead));
    }
    const suppliers = await suppliersOf(books);
    const standards = await pieceStandardsOf(books);
    const instruments = await instrumentsAtPlace(books, 'receiving');
    return {
      day,
      consignments: shown,
      // Whoever counts receiving is not told what should lie there.
      lying: maySeeBook(inquirer) ? await balanceOfPlace(books, 'receiving') : null,
      suppliers: suppliers.map((supplier) => ({
        supplier: supplier.supplier,
        name: supplier.name,
        approvedUntil: supplier.approvedUntil,
        isApproved: isApproved(supplier, day),
      })),
      pieceStandards: standards.map(({ pieceStandard, title }) => ({ pieceStandard, title })),
      balances: instruments
        .filter(({ kind }) => kind === 'balance')
        .map((balance) => ({
          instrument: balance.instrument,
          title: balance.title,
          outOfUse: outOfUse(balance, day),
        })),
      listMappings: [...(await mappingsOfSuppliers(books))],
    };
  },
});

/** The file may state the supplier's own fineness: its hash opens it, so those who assay are not told it. */
async function packingListShown(
  books: BookReader,
  consignment: string,
  person: Person,
): Promise<Json> {
  const taken = await books.get(takenLists, consignment);
  if (!taken) return null;
  const mayOpen = person.roles.some((role) => PackingListTaken.readableBy?.includes(role));
  const { file, setAside, totals, entry } = taken;
  return {
    entry,
    name: file.name,
    kept: file.kept,
    sha256: mayOpen ? file.sha256 : null,
    setAside,
    totals: totals.length,
  };
}

/** One consignment with every drum's readings and counts. */
const consignmentQuestion = defineQuestion({
  question: 'consignment',
  station,
  input: z.strictObject({ consignment: z.string() }),
  answer: async (books, input, { person }) => {
    const row = await consignmentOf(books, input.consignment);
    if (!row) return null;
    const drums = await drumsOfConsignment(books, input.consignment);
    const orders: JsonObject[] = [];
    for (const { melt } of await meltsOfConsignment(books, input.consignment)) {
      const order = await samplingOrderOf(books, melt);
      if (order) {
        const { samplePieces, assayPieces, physicalPieces, drawnEntry, severity } = order;
        const { acceptanceNumber, rejectionNumber, variables } = order;
        orders.push({
          melt,
          severity,
          samplePieces,
          assayPieces,
          physicalPieces,
          acceptanceNumber,
          rejectionNumber,
          variablesPieces: variables?.pieces ?? null,
          drawnEntry,
        });
      }
    }
    return {
      ...(await summaryOf(books, row, (of) => inspectionOf(books, of))),
      drums: drums.map((drum) => ({
        ...summaryOfDrum(drum),
        grossDocumented: drum.grossDocumented,
        tareDocumented: drum.tareDocumented,
        stopReason: drum.state === 'stopped' ? drum.stopReason : null,
        netReadingsMicrograms: drum.netReadingsMicrograms,
        count: drum.count,
        changedAt: drum.changedAt,
      })),
      orders,
      seedEntry: row.seedEntry,
      packingList: await packingListShown(books, input.consignment, person),
    };
  },
});

/** Which blanks to take out of which drum, and how they were drawn. */
const pickList = defineQuestion({
  question: 'pick-list',
  station,
  input: z.strictObject({
    melt: z.string(),
    trayPieces: z.int().min(1).max(greatestTray).optional(),
  }),
  answer: async (books, input) => {
    const melt = await meltOf(books, input.melt);
    const order = await samplingOrderOf(books, input.melt);
    if (!melt || !order) return null;
    const walk = await pickWalk(books, input.melt, input.trayPieces ?? null);
    const { plan, draw, variables, ...shown } = order;
    return {
      ...shown,
      supplier: melt.supplier,
      state: melt.state,
      planWords: plan.output.words ?? '',
      variables: variables
        ? { pieces: variables.pieces, words: variables.plan.output.words }
        : null,
      plan,
      draw: { calculation: draw.calculation, version: draw.version, input: draw.input },
      walkWords: walk.words,
      drums: walk.drums,
      substitutions: walk.substitutions,
      verified: walk.verified,
    } as unknown as Json;
  },
});

/** The lots of one supplier and piece standard in order, and the severity that they earned. */
const inspectionSeriesQuestion = defineQuestion({
  question: 'inspection-series',
  station,
  input: z.strictObject({ supplier: z.string(), pieceStandard: z.string() }),
  answer: async (books, input) => {
    const supplier = await supplierOf(books, input.supplier);
    const standard = await pieceStandardOf(books, input.pieceStandard);
    if (!supplier || !standard) return null;
    const { severity, reason, decidedBy } = await inspectionOf(books, input);
    return {
      ...input,
      supplierName: supplier.name,
      pieceStandardTitle: standard.title,
      severity,
      reason,
      decidedBy: [...decidedBy],
      rows: [...(await seriesOf(books, input))],
      history: await inspectionHistory(books, input),
    };
  },
});

export const receivingQuestions = [
  receivingDesk,
  consignmentQuestion,
  drumTrial,
  pickList,
  inspectionSeriesQuestion,
] as const;
