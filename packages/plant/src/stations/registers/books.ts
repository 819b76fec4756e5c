import type { z } from 'zod';
import { defineBook } from '../../journal/books.ts';
import type { dieBody, purchaserBody, supplierBody } from './bodies.ts';
import type { Instrument } from './instruments.ts';
import type { EnrolledPerson } from './people.ts';
import type { PieceStandard } from './piece-standard.ts';

/** The plant itself, as it was founded. */
export type Plant = {
  readonly plant: string;
  readonly title: string;
  readonly timeZone: string;
  readonly entry: number;
};

export type Supplier = Readonly<z.infer<typeof supplierBody>>;
export type Purchaser = Readonly<z.infer<typeof purchaserBody>>;
export type Die = Readonly<z.infer<typeof dieBody>>;

/** Where in the journal a record of the registers stands, and since when it is so. */
type Standing = { readonly entry: number; readonly since: string };

export type PersonRow = EnrolledPerson & Standing;
export type PieceStandardRow = PieceStandard & Standing;
export type SupplierRow = Supplier & Standing;
export type PurchaserRow = Purchaser & Standing;
export type InstrumentRow = Instrument &
  Standing & {
    readonly document: string | null;
    /** Entry of the last check that passed; none since its calibration or registration. */
    readonly lastGood?: number;
  };
export type DieRow = Die & Standing;

export const plants = defineBook<Plant>({
  name: 'registers_plant',
  meaning: 'The plant: its name and where it stands.',
  key: ['plant'],
});

export const people = defineBook<PersonRow>({
  name: 'registers_person',
  meaning: 'A person, the roles held and the methods mastered.',
  key: ['person'],
});

export const pieceStandards = defineBook<PieceStandardRow>({
  name: 'registers_piece_standard',
  meaning: 'What a kind of piece must be.',
  key: ['pieceStandard'],
});

export const suppliers = defineBook<SupplierRow>({
  name: 'registers_supplier',
  meaning: 'Who may deliver blanks, and until when.',
  key: ['supplier'],
});

export const purchasers = defineBook<PurchaserRow>({
  name: 'registers_purchaser',
  meaning: 'Who may be sent pieces, and until when.',
  key: ['purchaser'],
});

export const instruments = defineBook<InstrumentRow>({
  name: 'registers_instrument',
  meaning: 'An instrument, where it stands and how long its readings count.',
  key: ['instrument'],
  indexes: { byPlace: ['place', 'instrument'], byKind: ['kind', 'instrument'] },
});

export const dies = defineBook<DieRow>({
  name: 'registers_die',
  meaning: 'A die or collar that the plant has received.',
  key: ['die'],
  indexes: { byStandard: ['pieceStandard', 'die'] },
});

export const registersBooks = [
  dies,
  instruments,
  people,
  pieceStandards,
  plants,
  purchasers,
  suppliers,
] as const;
