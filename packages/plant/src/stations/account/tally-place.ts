import { fineMicrograms } from '@cupel/calculation';
import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { insidePlaces } from '../../journal/place.ts';
import { massFromZeroReadingSchema, readingMicrograms } from '../../journal/reading.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import {
  type Circumstances,
  type Decision,
  defineCommand,
  draft,
  type Role,
} from '../../journal/station.ts';
import {
  type Instrument,
  idSchema,
  instrumentOf,
  isCalibrationOverdue,
  type PieceStandard,
  pieceStandardOf,
  plantDay,
  stoppedInstrument,
} from '../registers/index.ts';
import type { TallyLine } from './bodies.ts';
import { PlaceTallied } from './entries.ts';
import { accountRefusals } from './refusals.ts';

const pieces = 'a whole number of pieces, 0 or more';

/** What was found, by piece standard. */
export const foundLines = z
  .array(
    z.strictObject({
      pieceStandard: idSchema.meta({ title: 'Piece standard', description: 'What lies there.' }),
      pieces: z.int({ error: pieces }).min(0, { error: pieces }).meta({
        title: 'Pieces found',
        description: 'As counted; 0 where only metal in no piece form lies.',
      }),
      gross: massFromZeroReadingSchema.nullable().meta({
        title: 'Net mass found',
        description: 'As the balance sent it; 0 of an empty place; nothing where only counted.',
      }),
      instrument: idSchema
        .nullable()
        .default(null)
        .meta({ title: 'Balance', description: 'The balance that weighed it.' }),
    }),
  )
  .max(200, 'at most 200 lines');

export type FoundLines = z.infer<typeof foundLines>;

/** A place, as the input of a tally names it. */
export const talliedPlace = z
  .enum(insidePlaces, `one of ${insidePlaces.join(', ')}`)
  .meta({ title: 'Place', description: 'Where you counted.' });

const tallyInput = z.strictObject({ place: talliedPlace, lines: foundLines });

type TallyInput = z.infer<typeof tallyInput>;

/** Who counts. */
export const counters: readonly Role[] = [
  'custodian',
  'inspector',
  'assayer',
  'die keeper',
  'metal accountant',
  'chief assayer',
];

/** What the registers know of the lines of a tally. */
export interface FoundFacts {
  readonly standards: ReadonlyMap<string, PieceStandard>;
  readonly instruments: ReadonlyMap<string, Instrument>;
  /** The calendar day at the plant. */
  readonly day: string;
}

export async function foundFacts(
  books: BookReader,
  lines: FoundLines,
  circumstances: Circumstances,
): Promise<FoundFacts> {
  const standards = new Map<string, PieceStandard>();
  const instruments = new Map<string, Instrument>();
  for (const line of lines) {
    const standard = await pieceStandardOf(books, line.pieceStandard);
    if (standard) standards.set(line.pieceStandard, standard);
    const instrument = line.instrument && (await instrumentOf(books, line.instrument));
    if (instrument) instruments.set(instrument.instrument, instrument);
  }
  return { standards, instruments, day: await plantDay(books, circumstances.instant) };
}

function instrumentRefusal(
  line: FoundLines[number],
  at: { field: string; facts: FoundFacts },
): Refusal | undefined {
  const { field } = at;
  if (line.instrument === null) {
    if (line.gross === null) return undefined;
    return refuse(accountRefusals, 'InstrumentNotStated', {
      message: `${line.gross.text} ${line.gross.unit} of ${line.pieceStandard} is given without the balance that weighed it.`,
      field,
      figures: {
        pieceStandard: line.pieceStandard,
        reading: line.gross.text,
        unit: line.gross.unit,
      },
    });
  }
  const instrument = at.facts.instruments.get(line.instrument);
  if (instrument?.kind !== 'balance') {
    return refuse(accountRefusals, 'InstrumentUnknown', {
      message: `${line.instrument} is ${instrument ? `a ${instrument.kind}, not a balance` : 'not in the register of instruments'}.`,
      field,
      figures: { instrument: line.instrument },
    });
  }
  const { day } = at.facts;
  if (!isCalibrationOverdue(instrument, day)) return stoppedInstrument(instrument, field)[0];
  return refuse(accountRefusals, 'CalibrationOverdue', {
    message: `The calibration of ${instrument.title} was due on ${instrument.calibrationDue}; today is ${day}.`,
    field,
    figures: { instrument: line.instrument, calibrationDue: instrument.calibrationDue, day },
  });
}

function standardRefusals(lines: FoundLines, facts: FoundFacts, list: string): readonly Refusal[] {
  const unknown = lines.flatMap((line, index) =>
    facts.standards.has(line.pieceStandard)
      ? []
      : refuse(accountRefusals, 'PieceStandardUnknown', {
          message: `${line.pieceStandard} is not in the register of piece standards.`,
          field: `${list}.${index}.pieceStandard`,
          figures: { pieceStandard: line.pieceStandard },
        }),
  );
  const names = lines.map((line) => line.pieceStandard);
  const repeated = names.flatMap((name, index) =>
    names.indexOf(name) === index
      ? []
      : refuse(accountRefusals, 'PieceStandardRepeated', {
          message: `${name} stands in line ${names.indexOf(name) + 1} and again in line ${index + 1}.`,
          field: `${list}.${index}.pieceStandard`,
          figures: { pieceStandard: name },
        }),
  );
  return [...unknown, ...repeated];
}

/** Why lines of a tally cannot be recorded, if so; `list` is the field in which they stand. */
export function foundRefusals(
  lines: FoundLines,
  facts: FoundFacts,
  list = 'lines',
): readonly Refusal[] {
  const instruments = lines.flatMap((line, index) => {
    const refusal = instrumentRefusal(line, { field: `${list}.${index}.instrument`, facts });
    return refusal ? [refusal] : [];
  });
  return [...standardRefusals(lines, facts, list), ...instruments];
}

/** Lines of a tally as they are recorded; their piece standards are known. */
export const tallyLines = (lines: FoundLines, facts: FoundFacts): readonly TallyLine[] =>
  lines.map((line) => tallyLine(line, facts.standards.get(line.pieceStandard) as PieceStandard));

function tallyLine(line: FoundLines[number], standard: PieceStandard): TallyLine {
  const gross = line.gross === null ? null : readingMicrograms(line.gross);
  const fineness = standard.finenessDeclaredPartsPerMillion;
  return {
    metal: standard.metal,
    pieceStandard: line.pieceStandard,
    finenessDeclaredPartsPerMillion: fineness,
    pieces: line.pieces,
    gross: line.gross,
    instrument: line.instrument,
    grossMicrograms: gross,
    fineMicrograms:
      gross === null ? null : Number(fineMicrograms(BigInt(gross), BigInt(fineness), 'half-even')),
  };
}

function decideTally(input: TallyInput, facts: FoundFacts, circumstances: Circumstances): Decision {
  const refusals = foundRefusals(input.lines, facts);
  if (refusals.length > 0) return { refusals };
  const lines = [...tallyLines(input.lines, facts)];
  const instrument = input.lines.find((line) => line.instrument !== null)?.instrument;
  return {
    entries: [draft(PlaceTallied, { place: input.place, lines }, instrument ? { instrument } : {})],
    answer: { tally: circumstances.nextNumber, place: input.place },
  };
}

/** Counts what lies at a place. The book is not shown before, nor in the answer. */
export const tallyPlace = defineCommand({
  command: 'tally-place',
  station: 'account',
  title: 'Record tally',
  input: tallyInput,
  roles: counters,
  signature: 'none',
  facts: (books, input, circumstances) => foundFacts(books, input.lines, circumstances),
  decide: decideTally,
});
