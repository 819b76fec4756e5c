import type { BookReader } from '../../journal/books.ts';
import { dayOf } from '../../journal/shift.ts';
import type { Person } from '../../journal/station.ts';
import {
  type Die,
  dies,
  instruments,
  type Plant,
  type Purchaser,
  people,
  pieceStandards,
  plants,
  purchasers,
  type Supplier,
  suppliers,
} from './books.ts';
import { type SuspectIntervalRow, suspectIntervals } from './instrument-checks/books.ts';
import type { Instrument } from './instruments.ts';
import type { AssayMethod, PieceStandard } from './piece-standard.ts';
import { type ReagentLotRow, reagentLots } from './reagents/books.ts';
import { type ReferenceMaterialRow, referenceMaterials } from './reference-materials/books.ts';

export type { Die, Plant, Purchaser, Supplier } from './books.ts';
export { refusingFarDays } from './far-days.ts';
export { finenessSlip } from './fineness-slips.ts';
export { daySchema, idSchema, reasonSchema, titleSchema } from './identity.ts';
export type { SuspectIntervalRow } from './instrument-checks/books.ts';
export { stoppedInstrument } from './instrument-checks/stopped.ts';
export {
  type Instrument,
  type InstrumentKind,
  isCalibrationOverdue,
  outOfUse,
} from './instruments.ts';
export { connectedInstruments, measurementOf } from './lines/queries.ts';
export {
  isInScope,
  type MethodEdition,
  type MethodInForce,
  methodEditionOf,
  methodInForce,
} from './methods/queries.ts';
export {
  type AssayMethod,
  assayMethods,
  type PieceStandard,
  requiredProbabilityOf,
} from './piece-standard.ts';
export type { ReagentLotRow } from './reagents/books.ts';
export { draftTitrantFactor, withdrawTitrantFactor } from './reagents/entries.ts';
export { expiredLot, unfitLot } from './reagents/lot-rules.ts';
export { quantitySchema } from './reference-materials/bodies.ts';
export type { ReferenceMaterialRow } from './reference-materials/books.ts';
export { notInUse } from './reference-materials/commands.ts';
export { draftReferenceMaterialUsed } from './reference-materials/entries.ts';

/** The key of the one record of the book of plants. */
const thisPlant = 'plant';

/** The plant as it was founded; nothing before that. */
export async function plantOf(books: BookReader): Promise<Plant | undefined> {
  return books.get(plants, thisPlant);
}

/** The calendar day of an instant where the plant stands; in UTC while no plant is founded. */
export async function plantDay(books: BookReader, instant: string): Promise<string> {
  return dayOf((await plantOf(books))?.timeZone ?? 'UTC', new Date(instant));
}

export async function pieceStandardOf(
  books: BookReader,
  pieceStandard: string,
): Promise<PieceStandard | undefined> {
  return books.get(pieceStandards, pieceStandard);
}

/** Every piece standard, in the order of their ids. */
export async function pieceStandardsOf(books: BookReader): Promise<readonly PieceStandard[]> {
  return books.select(pieceStandards);
}

export async function supplierOf(
  books: BookReader,
  supplier: string,
): Promise<Supplier | undefined> {
  return books.get(suppliers, supplier);
}

export async function purchaserOf(
  books: BookReader,
  purchaser: string,
): Promise<Purchaser | undefined> {
  return books.get(purchasers, purchaser);
}

/** Whether the approval of a supplier or purchaser still holds on that day. */
export function isApproved(party: { readonly approvedUntil: string }, day: string): boolean {
  return party.approvedUntil >= day;
}

/** A person as the rules see one; also those who have left. */
export async function personOf(books: BookReader, person: string): Promise<Person | undefined> {
  const row = await books.get(people, person);
  if (!row) return undefined;
  return { person: row.person, name: row.name, roles: row.roles, active: row.active };
}

/** Every person of the register, in the order of their ids. */
export async function peopleOf(books: BookReader): Promise<readonly Person[]> {
  const rows = await books.select(people);
  return rows.map(({ person, name, roles, active }) => ({ person, name, roles, active }));
}

/** Whether the person may carry out and sign the method on that day (`2026-11-25`). */
export async function authorisedFor(
  books: BookReader,
  person: string,
  method: AssayMethod,
  day: string,
): Promise<boolean> {
  const row = await books.get(people, person);
  if (!row?.active) return false;
  return row.methods.some((held) => held.method === method && held.until >= day);
}

export async function instrumentOf(
  books: BookReader,
  instrument: string,
): Promise<Instrument | undefined> {
  return books.get(instruments, instrument);
}

/** The instruments that stand at a place. */
export async function instrumentsAtPlace(
  books: BookReader,
  place: string,
): Promise<readonly Instrument[]> {
  return books.select(instruments, { by: 'byPlace', prefix: [place] });
}

export async function dieOf(books: BookReader, die: string): Promise<Die | undefined> {
  return books.get(dies, die);
}

/** The dies and collars that strike a piece standard. */
export async function diesOfStandard(
  books: BookReader,
  pieceStandard: string,
): Promise<readonly Die[]> {
  return books.select(dies, { by: 'byStandard', prefix: [pieceStandard] });
}

/** A reference material of the register, also one that was retired. */
export async function referenceMaterialOf(
  books: BookReader,
  referenceMaterial: string,
): Promise<ReferenceMaterialRow | undefined> {
  return books.get(referenceMaterials, referenceMaterial);
}

/** A lot of a reagent, also one that expired or was condemned; its newest factor if it is a titrant. */
export async function reagentLotOf(
  books: BookReader,
  lot: string,
): Promise<ReagentLotRow | undefined> {
  return books.get(reagentLots, lot);
}

/** The lots that were condemned. */
export async function condemnedLotsOf(books: BookReader): Promise<readonly ReagentLotRow[]> {
  return books.select(reagentLots, { by: 'byState', prefix: ['condemned'] });
}

/** What failed checks put in doubt, of one instrument or of all. */
export async function suspectIntervalsOf(
  books: BookReader,
  instrument?: string,
): Promise<readonly SuspectIntervalRow[]> {
  return books.select(suspectIntervals, instrument === undefined ? {} : { prefix: [instrument] });
}

/** Every supplier of the register, also those whose approval has run out. */
export async function suppliersOf(books: BookReader): Promise<readonly Supplier[]> {
  return books.select(suppliers);
}

/** Every purchaser of the register, also those whose approval has run out. */
export async function purchasersOf(books: BookReader): Promise<readonly Purchaser[]> {
  return books.select(purchasers);
}
