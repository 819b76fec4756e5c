import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import {
  type Circumstances,
  type Command,
  type Decision,
  defineCommand,
  draft,
} from '../../../journal/station.ts';
import { measureBlanks } from '../measure-blanks.ts';
import { recordCupellation } from '../record-cupellation.ts';
import { type worksheetKinds, worksheetRows } from './bodies.ts';
import { type WorksheetRow, worksheets } from './books.ts';
import { WorksheetTaken } from './entries.ts';
import { keptFileSchema, setAsideSchema } from './file-bodies.ts';
import { linesTwice } from './lines-twice.ts';
import { exchangeRefusals } from './refusals.ts';

type WorksheetKind = (typeof worksheetKinds)[number];

/** What a worksheet brings to a command that also takes typed readings. */
interface Work {
  readonly melt: string;
  readonly assayRun: string | null;
  /** The rows of the record by label, in its own order. */
  readonly labels: readonly string[];
}

interface TakingFacts {
  readonly earlier: WorksheetRow | undefined;
  readonly of: unknown;
}

/** The fields of a refusal as this command names them. */
const inside = (refusals: readonly Refusal[]): readonly Refusal[] =>
  refusals.map((one) => (one.field === undefined ? one : { ...one, field: `work.${one.field}` }));

function rowRefusals(
  rows: z.infer<typeof worksheetRows>,
  labels: readonly string[],
): readonly Refusal[] {
  const isSame =
    rows.length === labels.length && rows.every(({ label }, index) => label === labels[index]);
  if (isSame) return [];
  return [
    refuse(exchangeRefusals, 'WorksheetRowsDiffer', {
      message: `The file has ${rows.length} rows; ${labels.length} would be recorded, or others.`,
      field: 'rows',
      figures: { rows: rows.length, recorded: labels.length },
    }),
  ];
}

function alreadyTaken(earlier: WorksheetRow | undefined): readonly Refusal[] {
  if (!earlier) return [];
  return [
    refuse(exchangeRefusals, 'WorksheetAlreadyTaken', {
      message: `${earlier.file.name} was taken for melt ${earlier.melt} in entry ${earlier.entry}.`,
      field: 'file',
      figures: { melt: earlier.melt, entry: earlier.entry },
    }),
  ];
}

/**
 * A command that records what another one records, from a worksheet: the rule of the other decides,
 * and an entry beside its own says which file the readings stood in.
 */
function takingWorksheet(declared: {
  readonly command: string;
  readonly title: string;
  readonly worksheet: WorksheetKind;
  readonly recording: Command;
  readonly workOf: (work: unknown) => Work;
}): Command {
  const { command, title, worksheet, recording, workOf } = declared;
  const input = z.strictObject({
    file: keptFileSchema.meta({ title: 'File', description: 'As it is kept beside the journal.' }),
    rows: worksheetRows,
    setAside: setAsideSchema,
    work: recording.input,
  });
  return defineCommand({
    command,
    station: 'laboratory',
    title,
    input,
    roles: recording.roles,
    signature: recording.signature,
    facts: async (
      books: BookReader,
      { file, work }: z.infer<typeof input>,
      circumstances: Circumstances,
    ): Promise<TakingFacts> => {
      const [earlier] = await books.select(worksheets, { prefix: [file.sha256], limit: 1 });
      return { earlier, of: await recording.facts(books, work, circumstances) };
    },
    decide: (
      { file, rows, setAside, work }: z.infer<typeof input>,
      { earlier, of }: TakingFacts,
      circumstances: Circumstances,
    ): Decision => {
      const { melt, assayRun, labels } = workOf(work);
      const refusals = [
        ...alreadyTaken(earlier),
        ...linesTwice(rows, setAside),
        ...rowRefusals(rows, labels),
      ];
      if (refusals.length > 0) return { refusals };
      const recorded = recording.decide(work, of, circumstances);
      if ('refusals' in recorded) return { refusals: inside(recorded.refusals) };
      const taken = draft(WorksheetTaken, { worksheet, melt, assayRun, file, rows, setAside });
      return {
        entries: [...recorded.entries, taken],
        ...(recorded.answer ? { answer: recorded.answer } : {}),
      };
    },
  });
}

interface BlanksWork {
  readonly melt: string;
  readonly measurements: readonly { readonly blank: string }[];
}

interface CupellationWork {
  readonly melt: string;
  readonly assayRun: string;
  readonly proofs: readonly { readonly label: string }[];
  readonly samples: readonly { readonly label: string }[];
}

/** Measures blanks from a worksheet that was filled elsewhere. */
export const takeBlankSheet = takingWorksheet({
  command: 'take-blank-sheet',
  title: 'Measure blanks from a worksheet',
  worksheet: 'blanks',
  recording: measureBlanks,
  workOf: (work) => {
    const { melt, measurements } = work as BlanksWork;
    return { melt, assayRun: null, labels: measurements.map(({ blank }) => blank) };
  },
});

/** Records a cupellation run from a worksheet that was filled elsewhere. */
export const takeCupellationSheet = takingWorksheet({
  command: 'take-cupellation-sheet',
  title: 'Record cupellation run from a worksheet',
  worksheet: 'cupellation',
  recording: recordCupellation,
  workOf: (work) => {
    const { melt, assayRun, proofs, samples } = work as CupellationWork;
    return { melt, assayRun, labels: [...proofs, ...samples].map(({ label }) => label) };
  },
});
