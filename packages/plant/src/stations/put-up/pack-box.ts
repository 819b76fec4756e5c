import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { threads } from '../../journal/core-books.ts';
import { massReadingSchema, readingMicrograms } from '../../journal/reading.ts';
import { type Circumstances, type Decision, defineCommand, draft } from '../../journal/station.ts';
import { type DoubtfulWeighing, doubtOfWeighing } from '../laboratory/index.ts';
import { idSchema, type PieceStandard, pieceStandardOf } from '../registers/index.ts';
import type { BoxPacked as BoxPackedBody, MeltInBox, TubeInBox } from './bodies.ts';
import { type BoxRow, boxes, type TubeRow, tubes } from './books.ts';
import { type BoxFacts, checkBox, type MeltHolds } from './box-check.ts';
import { BoxPacked } from './entries.ts';
import { type NamedBalance, namedBalance } from './instrument-check.ts';
import { meltInPutUp } from './melt-in-put-up.ts';
import { declaredFineMicrograms } from './postings.ts';

const packBoxInput = z.strictObject({
  box: idSchema.meta({ title: 'Box', description: 'Scan the box; a name that is new.' }),
  tubes: z
    .array(idSchema, 'a list of tubes')
    .min(1, 'at least one tube')
    .max(1000, 'at most 1000 tubes')
    .meta({ title: 'Tubes', description: 'Scan each tube as it goes in.' }),
  gross: massReadingSchema.meta({ title: 'Gross', description: 'The closed box.' }),
  tare: massReadingSchema
    .nullable()
    .meta({ title: 'Tare', description: 'This box empty; nothing where it was not weighed.' }),
  seal: idSchema.meta({ title: 'Seal', description: 'The number on the seal.' }),
  instrument: idSchema.meta({ title: 'Balance', description: 'Scan the balance.' }),
});

export type PackBoxInput = z.infer<typeof packBoxInput>;

async function meltHolds(
  books: BookReader,
  melts: readonly string[],
  instant: string,
): Promise<MeltHolds> {
  const holds = new Map();
  for (const melt of melts) holds.set(melt, await meltInPutUp(books, melt, instant));
  return holds;
}

async function facts(
  books: BookReader,
  input: PackBoxInput,
  { instant }: Circumstances,
): Promise<BoxFacts> {
  const found: (TubeRow | undefined)[] = [];
  for (const tube of input.tubes) found.push(await books.get(tubes, tube));
  const known = found.filter((tube) => tube !== undefined);
  const scales = new Map<string, NamedBalance>();
  for (const { readings } of known) {
    const instrument = readings.at(-1)?.instrument;
    if (instrument) scales.set(instrument, await namedBalance(books, instrument, instant));
  }
  const sealUse = await books.select(threads, { prefix: ['seal', input.seal], limit: 1 });
  const [first] = known;
  return {
    box: (await books.get(boxes, input.box)) as BoxRow | undefined,
    tubes: found,
    standard: first && (await pieceStandardOf(books, first.pieceStandard)),
    isSealUsed: sealUse.length > 0,
    balance: await namedBalance(books, input.instrument, instant),
    tubeBalances: scales,
    melts: await meltHolds(books, [...new Set(known.map(({ melt }) => melt))], instant),
    doubts: await doubtsOf(books, known),
  };
}

/** The tubes of which a weighing proves nothing, with the first reason. */
async function doubtsOf(books: BookReader, known: readonly TubeRow[]): Promise<BoxFacts['doubts']> {
  const doubts = new Map<string, DoubtfulWeighing>();
  for (const { tube, readings } of known) {
    for (const reading of readings) {
      const doubt = await doubtOfWeighing(books, reading);
      if (doubt && !doubts.has(tube)) doubts.set(tube, doubt);
    }
  }
  return doubts;
}

function tubeInBox(tube: TubeRow): TubeInBox {
  const last = tube.readings.at(-1);
  return {
    tube: tube.tube,
    filling: tube.filling,
    melt: tube.melt,
    pieces: tube.pieces,
    grossMicrograms: last?.grossMicrograms ?? 0,
    netMicrograms: last?.netMicrograms ?? 0,
    weighedEntry: last?.entry ?? tube.entry,
    runs: [...tube.runs],
  };
}

/** The melts of a box, each with its pieces and masses, in the order of their ids. */
function meltsInBox(parts: readonly TubeInBox[], standard: PieceStandard): readonly MeltInBox[] {
  const melts = [...new Set(parts.map(({ melt }) => melt))].sort();
  return melts.map((melt) => {
    const own = parts.filter((part) => part.melt === melt);
    const netMicrograms = own.reduce((sum, part) => sum + part.netMicrograms, 0);
    return {
      melt,
      pieces: own.reduce((sum, part) => sum + part.pieces, 0),
      netMicrograms,
      fineMicrograms: declaredFineMicrograms(
        netMicrograms,
        standard.finenessDeclaredPartsPerMillion,
      ),
    };
  });
}

function decide(input: PackBoxInput, known: BoxFacts): Decision {
  const checked = checkBox(input, known);
  if ('refusals' in checked) return checked;
  const { standard, check } = checked;
  const parts = known.tubes.filter((tube) => tube !== undefined).map(tubeInBox);
  const melts = meltsInBox(parts, standard);
  const tareMicrograms = input.tare
    ? readingMicrograms(input.tare)
    : Math.round(standard.boxTareGrams * 1e6);
  const body: BoxPackedBody = {
    box: input.box,
    seal: input.seal,
    metal: standard.metal,
    pieceStandard: standard.pieceStandard,
    finenessDeclaredPartsPerMillion: standard.finenessDeclaredPartsPerMillion,
    tubes: parts,
    melts: [...melts],
    pieces: melts.reduce((sum, part) => sum + part.pieces, 0),
    netMicrograms: melts.reduce((sum, part) => sum + part.netMicrograms, 0),
    fineMicrograms: melts.reduce((sum, part) => sum + part.fineMicrograms, 0),
    gross: input.gross,
    grossMicrograms: readingMicrograms(input.gross),
    tare: input.tare,
    tareMicrograms,
    check,
  };
  return {
    entries: [draft(BoxPacked, body, { instrument: input.instrument })],
    answer: { pieces: body.pieces, differenceGrams: check.output.differenceGrams },
  };
}

/** Closes, weighs and seals a box of proved tubes, with a second person. */
export const packBox = defineCommand<PackBoxInput, BoxFacts>({
  command: 'pack-box',
  station: 'put-up',
  title: 'Seal box',
  input: packBoxInput,
  roles: ['custodian'],
  signature: 'author and witness',
  witnessRoles: ['custodian', 'inspector', 'metal accountant', 'chief assayer'],
  facts,
  decide,
});
