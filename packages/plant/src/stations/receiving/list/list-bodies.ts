import { z } from 'zod';
import type { massReadingSchema } from '../../../journal/reading.ts';
import { idSchema, reasonSchema } from '../../registers/index.ts';
import { listMassUnits } from './amount.ts';

const nameForm = 'the name of a column, 1 to 120 characters';
const columnName = z.string(nameForm).min(1, nameForm).max(120, nameForm);

const massUnit = z.enum(listMassUnits, `one of ${listMassUnits.join(', ')}`);

/** What the columns of a list are called; nothing where the list has no such column. */
const listColumns = z
  .strictObject({
    drum: columnName.meta({ title: 'Drum' }),
    melt: columnName.nullable().meta({
      title: 'Melt',
      description: 'Nothing where the melt stands in a line of its own above its drums.',
    }),
    pieces: columnName.meta({ title: 'Pieces' }),
    gross: columnName.nullable().meta({ title: 'Gross mass' }),
    tare: columnName.nullable().meta({ title: 'Tare' }),
    net: columnName.nullable().meta({ title: 'Net mass' }),
    seal: columnName.meta({ title: 'Seal' }),
    fineness: columnName.nullable().meta({ title: 'Fineness' }),
  })
  .superRefine((columns, context) => {
    const problem = (field: string, message: string) =>
      context.addIssue({ code: 'custom', path: [field], message });
    const seen = new Map<string, string>();
    for (const [field, name] of Object.entries(columns)) {
      if (name === null) continue;
      const other = seen.get(name);
      if (other) problem(field, `a column of its own; ${name} is the ${other} already`);
      else seen.set(name, field);
    }
    const masses = [columns.gross, columns.tare, columns.net];
    if (masses.filter((name) => name !== null).length < 2) {
      problem('gross', 'two of gross, tare and net, from which the third follows');
    }
  });

/** How the packing lists of a supplier are read. */
export const listMappingSchema = z.strictObject({
  columns: listColumns.meta({ title: 'Columns', description: 'As the header calls them.' }),
  fillDown: z.boolean('true or false').meta({
    title: 'Melt and fineness hold for the rows below',
    description: 'True where they stand in the first row of a melt only, as in merged cells.',
  }),
  units: z
    .strictObject({ gross: massUnit, tare: massUnit, net: massUnit })
    .meta({ title: 'Units of mass', description: 'Where the cell itself names none.' }),
  finenessUnit: z
    .enum(['per mille', 'percent', 'fraction'], 'per mille, percent or fraction')
    .meta({ title: 'Unit of fineness' }),
  decimalMark: z.enum(['point', 'comma'], 'point or comma').meta({ title: 'Decimal mark' }),
  groupMark: z
    .enum(
      ['none', 'point', 'comma', 'blank', 'apostrophe'],
      'none, point, comma, blank or apostrophe',
    )
    .meta({ title: 'Mark between thousands' }),
});

export type ListMapping = Readonly<z.infer<typeof listMappingSchema>>;

export const listMappingConfirmed = z.strictObject({
  supplier: idSchema.meta({ title: 'Supplier', description: 'Whose packing lists.' }),
  mapping: listMappingSchema.meta({ title: 'Mapping' }),
});

export type ListMappingConfirmedBody = Readonly<z.infer<typeof listMappingConfirmed>>;

const line = z
  .int('a line of the file')
  .min(1, 'a line of the file')
  .max(10_000_000, 'a line of the file');
const cellText = z.string('the text of a cell').max(200, 'at most 200 characters');

/** A line that is not taken, and why. */
const lineSetAside = z.strictObject({
  line: line.meta({ title: 'Line' }),
  reason: reasonSchema.meta({ title: 'Reason', description: 'Why this line is not taken.' }),
});

const fileForm = 'a name of 1 to 200 characters';

/** The file of a packing list, and what was done with each of its lines. */
export const takenListSchema = z.strictObject({
  file: z
    .strictObject({
      name: z.string(fileForm).min(1, fileForm).max(200, fileForm).meta({ title: 'Name' }),
      sha256: z
        .string('64 hexadecimal digits')
        .regex(/^[0-9a-f]{64}$/, '64 hexadecimal digits')
        .meta({ title: 'SHA-256', description: 'Of the bytes that are kept.' }),
      kept: z.enum(['as sent', 'as read'], 'as sent or as read').meta({
        title: 'Kept',
        description:
          'As read: the cells as text, where the file itself is of no type that is kept.',
      }),
    })
    .meta({ title: 'File' }),
  mapping: listMappingSchema.meta({ title: 'Mapping', description: 'By which it was read.' }),
  rows: z
    .array(
      z.strictObject({
        line: line.meta({ title: 'Line' }),
        drum: idSchema.meta({ title: 'Drum' }),
        gross: cellText.meta({ title: 'Gross as sent' }),
        tare: cellText.meta({ title: 'Tare as sent' }),
      }),
      'a list of rows',
    )
    .min(1, 'at least one row')
    .max(2000, 'at most 2000 rows')
    .meta({ title: 'Rows', description: 'Where each drum stands, and its masses as sent.' }),
  setAside: z.array(lineSetAside, 'a list of lines').max(2000, 'at most 2000 lines').meta({
    title: 'Set aside',
    description: 'Lines that are not taken.',
  }),
  totals: z
    .array(
      z.strictObject({
        line: line.meta({ title: 'Line' }),
        column: cellText.meta({ title: 'Column' }),
        stated: cellText.meta({ title: 'Stated' }),
        check: z.enum(['agrees', 'not checked']).meta({ title: 'Check' }),
      }),
      'a list of sums',
    )
    .max(2000, 'at most 2000 sums')
    .meta({ title: 'Sums that the list states' }),
});

export type TakenList = Readonly<z.infer<typeof takenListSchema>>;

export const packingListTaken = z.strictObject({
  consignment: idSchema,
  supplier: idSchema,
  ...takenListSchema.shape,
});

export type PackingListTakenBody = Readonly<z.infer<typeof packingListTaken>>;

/** A mass as an announcement takes it. */
export type ListReading = z.infer<typeof massReadingSchema>;
