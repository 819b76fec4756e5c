import { z } from 'zod';
import { idSchema } from '../../registers/index.ts';
import { fileLine, keptFileSchema, setAsideSchema } from './file-bodies.ts';

const decimalMarkSchema = z
  .enum(['point', 'comma'], 'point or comma')
  .meta({ title: 'Decimal sign', description: 'In tables that are handed out as text.' });

export const decimalSignChosen = z.strictObject({ decimalMark: decimalMarkSchema });

/** What a worksheet is for. */
export const worksheetKinds = ['blanks', 'cupellation'] as const;

const labelForm = 'a label of 1 to 80 characters';

export const worksheetRows = z
  .array(
    z.strictObject({
      line: fileLine,
      label: z
        .string(labelForm)
        .min(1, labelForm)
        .max(80, labelForm)
        .meta({ title: 'Label', description: 'Of the blank, proof or portion.' }),
    }),
    'a list of rows',
  )
  .min(1, 'at least one row')
  .max(2000, 'at most 2000 rows')
  .meta({ title: 'Rows', description: 'Where each reading stands in the file.' });

export const worksheetTaken = z.strictObject({
  worksheet: z.enum(worksheetKinds),
  melt: idSchema,
  /** Null for worksheets that are of no run. */
  assayRun: idSchema.nullable(),
  file: keptFileSchema,
  rows: worksheetRows,
  setAside: setAsideSchema,
});

export type DecimalSignChosenBody = z.infer<typeof decimalSignChosen>;
export type WorksheetTakenBody = z.infer<typeof worksheetTaken>;
