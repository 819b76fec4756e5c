import type { JsonObject } from '../../../ports/json.ts';

/** What the question `registers-desk` answers. */
export interface RegistersAnswer {
  readonly day: string;
  readonly plant: { readonly title: string; readonly timeZone: string } | null;
  readonly people: readonly JsonObject[];
  readonly pieceStandards: readonly JsonObject[];
  readonly suppliers: readonly JsonObject[];
  readonly purchasers: readonly JsonObject[];
  readonly instruments: readonly JsonObject[];
  readonly dies: readonly JsonObject[];
}

/** A register as its page shows it. */
export interface Register {
  /** Part of the path. */
  readonly list: string;
  readonly title: string;
  readonly rows: keyof Omit<RegistersAnswer, 'day' | 'plant'>;
  /** Field that names a record. */
  readonly id: string;
  /** Kind of thing of its lineage; nothing where no entry names it so. */
  readonly thing: string;
  readonly columns: readonly { readonly field: string; readonly title: string }[];
  /** Command that adds a record, with the words of its act. */
  readonly add: { readonly command: string; readonly label: string };
  /** Command that changes a record, and the fields that it keeps. */
  readonly change?: {
    readonly command: string;
    readonly label: string;
    readonly fields: readonly string[];
  };
}

/** The registers, in the order in which a new plant fills them. */
export const registers: readonly Register[] = [
  {
    list: 'people',
    title: 'People',
    rows: 'people',
    id: 'person',
    thing: 'person',
    columns: [
      { field: 'person', title: 'Sign-in name' },
      { field: 'name', title: 'Name' },
      { field: 'roles', title: 'Roles' },
      { field: 'methods', title: 'Methods' },
      { field: 'active', title: 'Here' },
    ],
    add: { command: 'enrol-person', label: 'Enrol person' },
    change: {
      command: 'change-person',
      label: 'Change person',
      fields: ['person', 'name', 'roles', 'methods', 'active'],
    },
  },
  {
    list: 'piece-standards',
    title: 'Piece standards',
    rows: 'pieceStandards',
    id: 'pieceStandard',
    thing: 'piece standard',
    columns: [
      { field: 'pieceStandard', title: 'Id' },
      { field: 'title', title: 'Title' },
      { field: 'metal', title: 'Metal' },
      { field: 'finenessLimitPerMille', title: 'Least fineness, ‰' },
      { field: 'massDeclaredMilligrams', title: 'Declared mass, mg' },
      { field: 'piecesPerTube', title: 'In a tube' },
      { field: 'tubesPerBox', title: 'Tubes in a box' },
    ],
    add: { command: 'register-piece-standard', label: 'Register piece standard' },
  },
  {
    list: 'suppliers',
    title: 'Suppliers',
    rows: 'suppliers',
    id: 'supplier',
    thing: 'supplier',
    columns: [
      { field: 'supplier', title: 'Id' },
      { field: 'name', title: 'Name' },
      { field: 'approvedUntil', title: 'Approved until' },
    ],
    add: { command: 'register-supplier', label: 'Register supplier' },
    change: {
      command: 'change-supplier',
      label: 'Change supplier',
      fields: ['supplier', 'name', 'approvedUntil'],
    },
  },
  {
    list: 'purchasers',
    title: 'Purchasers',
    rows: 'purchasers',
    id: 'purchaser',
    thing: 'purchaser',
    columns: [
      { field: 'purchaser', title: 'Id' },
      { field: 'name', title: 'Name' },
      { field: 'approvedUntil', title: 'Approved until' },
    ],
    add: { command: 'approve-purchaser', label: 'Approve purchaser' },
    change: {
      command: 'change-purchaser',
      label: 'Change purchaser',
      fields: ['purchaser', 'name', 'approvedUntil'],
    },
  },
  {
    list: 'instruments',
    title: 'Instruments',
    rows: 'instruments',
    id: 'instrument',
    thing: 'instrument',
    columns: [
      { field: 'instrument', title: 'Id' },
      { field: 'title', title: 'Title' },
      { field: 'kind', title: 'Kind' },
      { field: 'place', title: 'Place' },
      { field: 'divisionGrams', title: 'Division, g' },
      { field: 'calibrationDue', title: 'Calibration due' },
    ],
    add: { command: 'register-instrument', label: 'Register instrument' },
    change: {
      command: 'record-calibration',
      label: 'Record calibration',
      fields: ['instrument', 'divisionGrams', 'repeatabilityGrams', 'gainRelative'],
    },
  },
  {
    list: 'dies',
    title: 'Dies and collars',
    rows: 'dies',
    id: 'die',
    thing: 'die',
    columns: [
      { field: 'die', title: 'Id' },
      { field: 'part', title: 'Part' },
      { field: 'pieceStandard', title: 'Piece standard' },
    ],
    add: { command: 'receive-die', label: 'Receive die' },
  },
];
