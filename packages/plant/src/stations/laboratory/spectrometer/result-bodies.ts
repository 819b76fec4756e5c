import { z } from 'zod';
import { type Calculated, calculatedSchema } from '../../../journal/calculated.ts';
import { idSchema } from '../../registers/index.ts';
import { fileLine, keptFileSchema, setAsideSchema } from '../exchange/file-bodies.ts';
import { contentForm, figureUnits } from './content-unit.ts';

const calculated = calculatedSchema as unknown as z.ZodType<Calculated>;

const nameForm = 'the name of a column, 1 to 120 characters';
const columnName = z.string(nameForm).min(1, nameForm).max(120, nameForm);
const optionalColumn = (title: string, description?: string) =>
  columnName.nullable().meta({ title, ...(description === undefined ? {} : { description }) });
const elementName = z
  .string('the symbol of an element')
  .regex(/^[A-Z][a-z]?$/, 'the symbol of an element')
  .meta({ title: 'Element' });
const unit = z
  .enum(figureUnits, `one of ${figureUnits.join(', ')}`)
  .meta({ title: 'Unit of content or signal' });

/** How the table lies. */
const resultLayouts = ['elements across', 'elements down', 'one value in a row'] as const;

const markForm = 'up to 40 characters';
const mark = (title: string) =>
  z
    .string(markForm)
    .max(40, markForm)
    .meta({ title, description: 'How their labels begin; empty where the file has none.' });

/** How the result files of an instrument are read. */
export const resultMappingSchema = z.strictObject({
  layout: z
    .enum(resultLayouts, `one of ${resultLayouts.join(', ')}`)
    .meta({ title: 'Layout', description: 'How elements and solutions lie in the table.' }),
  columns: z
    .strictObject({
      label: optionalColumn('Label of the solution', 'Nothing where solutions stand across.'),
      role: optionalColumn('Kind of the row', 'Sample, standard or blank, where a column says so.'),
      element: optionalColumn('Element', 'Nothing where elements stand across.'),
      content: optionalColumn('Content', 'Where one value stands in a row.'),
      unit: optionalColumn('Unit'),
      limit: optionalColumn('Detection limit'),
    })
    .meta({ title: 'Columns', description: 'As the header calls them.' }),
  elements: z
    .array(z.strictObject({ column: columnName, element: elementName.nullable(), unit }))
    .max(200, 'at most 200 columns')
    .meta({
      title: 'Columns of elements',
      description: 'Where elements stand across; a column without an element is left out.',
    }),
  leftOut: z.array(columnName).max(200, 'at most 200 columns').meta({
    title: 'Columns left out',
    description: 'Where solutions stand across: columns that are none.',
  }),
  unit: unit.meta({ title: 'Unit', description: 'Where the file names none.' }),
  decimalMark: z.enum(['point', 'comma'], 'point or comma').meta({ title: 'Decimal mark' }),
  groupMark: z
    .enum(
      ['none', 'point', 'comma', 'blank', 'apostrophe'],
      'none, point, comma, blank or apostrophe',
    )
    .meta({ title: 'Mark between thousands' }),
  fillDown: z.boolean('true or false').meta({
    title: 'A label holds for the rows below',
    description: 'True where it stands at the first replicate only.',
  }),
  marks: z
    .strictObject({
      calibration: mark('Calibration standards'),
      drift: mark('Drift standard'),
      blank: mark('Reagent blanks'),
    })
    .meta({ title: 'Rows that are no samples' }),
});

export type ResultMapping = Readonly<z.infer<typeof resultMappingSchema>>;

const contentAccepted = 'a content from 0 to 1000000 mg/kg';
const content = (title: string) =>
  z
    .number(contentAccepted)
    .min(0, contentAccepted)
    .max(1_000_000, contentAccepted)
    .meta({ title, unit: 'mg/kg' });
const percentAccepted = (most: number) => `a percentage from 0 to ${most}`;
const percent = (title: string, description: string, most: number) =>
  z
    .number(percentAccepted(most))
    .min(0, percentAccepted(most))
    .max(most, percentAccepted(most))
    .meta({ title, description, unit: '%' });
const labelForm = 'a label of 1 to 80 characters';
const label = z.string(labelForm).min(1, labelForm).max(80, labelForm).meta({ title: 'Label' });

/** How the signals of standards are weighted: all alike, or as the repeated ones of each spread. */
const signalWeightings = ['equal', 'relative'] as const;

const isEachOnce = (items: readonly string[]) => new Set(items).size === items.length;

/** What the laboratory knows of the method on an instrument, beside what its files say. */
export const resultMethodSchema = z.strictObject({
  calibrationRelativeUncertaintyPercent: percent(
    'Calibration uncertainty',
    'Relative standard uncertainty of a content by the calibration alone.',
    50,
  ),
  driftLimitPercent: percent('Drift limit', 'Beyond it a run must be answered for.', 50),
  limits: z
    .array(z.strictObject({ element: elementName, detectionLimit: content('Detection limit') }))
    .max(100, 'at most 100 elements')
    .refine((rows) => isEachOnce(rows.map((row) => row.element)), { error: 'each element once' })
    .meta({ title: 'Detection limits', description: 'Where the file states none.' }),
  standards: z
    .array(
      z.strictObject({
        label,
        contents: z
          .array(z.strictObject({ element: elementName, content: content('Certified content') }))
          .min(1, 'at least one element')
          .max(100, 'at most 100 elements'),
      }),
    )
    .max(40, 'at most 40 standards')
    .refine((rows) => isEachOnce(rows.map((row) => row.label)), { error: 'each standard once' })
    .meta({
      title: 'Calibration standards',
      description: 'With the contents they are known to have.',
    }),
  signals: z
    .strictObject({
      weighting: z
        .enum(signalWeightings, `one of ${signalWeightings.join(', ')}`)
        .meta({ title: 'Weighting of the standards' }),
      isDriftTakenOff: z.boolean('true or false').meta({
        title: 'The drift is taken off',
        description: 'Between readings of the drift standard.',
      }),
    })
    .exactOptional()
    .meta({ title: 'Signals', description: 'Where the file has signals and no contents.' }),
});

export type ResultMethod = Readonly<z.infer<typeof resultMethodSchema>>;

export const resultMappingConfirmed = z.strictObject({
  instrument: idSchema.meta({ title: 'Spectrometer', description: 'Whose result files.' }),
  mapping: resultMappingSchema.meta({ title: 'Mapping' }),
  method: resultMethodSchema.meta({ title: 'Method' }),
});

export type ResultMappingConfirmedBody = Readonly<z.infer<typeof resultMappingConfirmed>>;

const rowRoles = ['sample', 'calibration', 'drift', 'blank', 'limit'] as const;
export type RowRole = (typeof rowRoles)[number];

const keptText = 'digits with a point, < before a limit, or nothing';

/** A table as it was read: elements, and what each row says of them. */
export const readTableSchema = z
  .strictObject({
    elements: z
      .array(z.strictObject({ element: elementName, unit }))
      .min(1, 'at least one element')
      .max(100, 'at most 100 elements')
      .refine((all) => isEachOnce(all.map(({ element }) => element)), {
        error: 'each element once',
      })
      .meta({ title: 'Elements' }),
    rows: z
      .array(
        z.strictObject({
          line: fileLine,
          label,
          role: z.enum(rowRoles, `one of ${rowRoles.join(', ')}`).meta({ title: 'Role' }),
          contents: z
            .array(z.string(keptText).max(24, keptText).regex(contentForm, keptText))
            .max(100, 'at most 100 contents')
            .meta({ title: 'Contents', description: 'One for each element, in its unit.' }),
        }),
      )
      .min(1, 'at least one row')
      .max(1000, 'at most 1000 rows')
      .meta({ title: 'Rows', description: 'In the order in which they were measured.' }),
  })
  .refine(
    (table) => table.rows.every(({ contents }) => contents.length === table.elements.length),
    { error: 'rows with one content for each element', path: ['rows'] },
  );

export type ReadTable = Readonly<z.infer<typeof readTableSchema>>;

const finding = z.strictObject({
  solution: z.string(),
  element: z.string(),
  replicates: z.number().int().min(1),
  /** Mean of the replicates, one below its limit counting as the limit; null where none has a figure. */
  meanMilligramsPerKilogram: z.number().nullable(),
  /** As the calculation takes it: null below the detection limit. */
  contentMilligramsPerKilogram: z.number().nullable(),
  standardUncertaintyMilligramsPerKilogram: z.number(),
  detectionLimitMilligramsPerKilogram: z.number(),
  limitFrom: z.enum(['file', 'method', 'blanks', 'line', 'none']),
  countedMilligramsPerKilogram: z.number(),
  sharePercent: z.number(),
  flags: z.array(z.string()),
});

const drift = z.strictObject({
  element: z.string(),
  /** Means of the drift standard, each between samples. */
  meansMilligramsPerKilogram: z.array(z.number()),
  /** Greatest change from one to the next; null where there are not two. */
  greatestChangePercent: z.number().nullable(),
  isWithinLimit: z.boolean().nullable(),
});

const calibrationLine = z.strictObject({
  element: z.string(),
  /** Null where no line can be laid through the standards; then the words say why. */
  line: calculated.nullable(),
  /** Where the file has signals: line, drift and contents of all solutions in one. */
  signals: calculated.exactOptional(),
  words: z.string(),
});

const resultFiguresSchema = z.strictObject({
  findings: z.array(finding),
  drifts: z.array(drift),
  calibrations: z.array(calibrationLine),
  /** Elements of the file that are the metal itself. */
  leftOut: z.array(z.string()),
  /** What somebody must answer for before the figures count. */
  doubts: z.array(z.string()),
});

export const resultFileTaken = z.strictObject({
  assayRun: z.string(),
  melt: z.string(),
  instrument: z.string(),
  policy: z.enum(['zero', 'half', 'limit']),
  file: keptFileSchema,
  mapping: resultMappingSchema,
  method: resultMethodSchema,
  table: readTableSchema,
  setAside: setAsideSchema,
  solutions: z.array(
    z.strictObject({ label: z.string(), solution: z.string(), blank: z.string() }),
  ),
  /** Solutions of the file that are of reference materials. */
  references: z.array(
    z.strictObject({ label: z.string(), solution: z.string(), referenceMaterial: z.string() }),
  ),
  figures: resultFiguresSchema,
  /** Why the run counts in spite of its doubts; null where there are none. */
  reason: z.string().nullable(),
});

export type Finding = Readonly<z.infer<typeof finding>>;
export type Drift = Readonly<z.infer<typeof drift>>;
export type CalibrationShown = Readonly<z.infer<typeof calibrationLine>>;
export type ResultFileFigures = z.infer<typeof resultFiguresSchema>;
export type ResultFileTakenBody = z.infer<typeof resultFileTaken>;
