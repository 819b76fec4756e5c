import type { BookReader } from '../../journal/books.ts';
import { readingMicrograms, readingMillimetres } from '../../journal/reading.ts';
import { type Circumstances, type Decision, defineCommand, draft } from '../../journal/station.ts';
import { type PieceStandard, pieceStandardOf } from '../registers/index.ts';
import type {
  HoldOpened as HoldOpenedBody,
  StrikeLimits,
  StrikeRecorded as StrikeRecordedBody,
} from './bodies.ts';
import { meltsTaken, type RunRow } from './books.ts';
import { HoldOpened, StrikeRecorded } from './entries.ts';
import { type ExaminedRun, heldByFault, piecesHeld, scopeOfFamily } from './hold-scope.ts';
import { namedInstrument } from './instrument-check.ts';
import { examinedRun, runOf, runsOfMelt, runsOfPressInShift } from './queries.ts';
import { strikeRefusals } from './strike-check.ts';
import { type RecordStrikeInput, recordStrikeInput, type StrikeFacts } from './strike-input.ts';

async function examinedRuns(
  books: BookReader,
  runs: readonly RunRow[],
  without: string,
): Promise<readonly ExaminedRun[]> {
  const found: ExaminedRun[] = [];
  for (const run of runs) if (run.run !== without) found.push(await examinedRun(books, run));
  return found;
}

async function facts(
  books: BookReader,
  input: RecordStrikeInput,
  { instant, shift }: Circumstances,
): Promise<StrikeFacts> {
  const run = await runOf(books, input.run);
  const { mass, diameter, thickness } = input.instruments;
  const concerned = run && input.defect ? run : undefined;
  return {
    run,
    blanksTaken: run ? ((await books.get(meltsTaken, run.melt))?.piecesTaken ?? 0) : 0,
    standard: run && (await pieceStandardOf(books, run.pieceStandard)),
    instruments: {
      mass: await namedInstrument(books, mass, instant),
      diameter: await namedInstrument(books, diameter, instant),
      thickness: await namedInstrument(books, thickness, instant),
    },
    examined: concerned && (await examinedRun(books, concerned)),
    otherRunsOfMelt: concerned
      ? await examinedRuns(books, await runsOfMelt(books, concerned.melt), input.run)
      : [],
    otherRunsOfShift: concerned
      ? await examinedRuns(
          books,
          await runsOfPressInShift(books, concerned.press, shift),
          input.run,
        )
      : [],
  };
}

/** The limits of a struck piece, as they stand beside its readings. */
export function limitsOf(standard: PieceStandard): StrikeLimits {
  return {
    massLeastMilligrams: standard.massLeastMilligrams,
    massGreatestMilligrams: standard.massGreatestMilligrams,
    diameterLeastMillimetres: standard.diameterLeastMillimetres,
    diameterGreatestMillimetres: standard.diameterGreatestMillimetres,
    thicknessLeastMillimetres: standard.thicknessLeastMillimetres,
    thicknessGreatestMillimetres: standard.thicknessGreatestMillimetres,
  };
}

function outsideLimits(
  measured: { massMicrograms: number; diameterMillimetres: number; thicknessMillimetres: number },
  limits: StrikeLimits,
): StrikeRecordedBody['outside'] {
  const massMilligrams = measured.massMicrograms / 1000;
  const { diameterMillimetres, thicknessMillimetres } = measured;
  const inside = {
    mass:
      massMilligrams >= limits.massLeastMilligrams &&
      massMilligrams <= limits.massGreatestMilligrams,
    diameter:
      diameterMillimetres >= limits.diameterLeastMillimetres &&
      diameterMillimetres <= limits.diameterGreatestMillimetres,
    thickness:
      thicknessMillimetres >= limits.thicknessLeastMillimetres &&
      thicknessMillimetres <= limits.thicknessGreatestMillimetres,
  };
  return (['mass', 'diameter', 'thickness'] as const).filter((name) => !inside[name]);
}

function strikeBody(
  input: RecordStrikeInput,
  of: { run: RunRow; standard: PieceStandard },
): StrikeRecordedBody {
  const measured = {
    massMicrograms: readingMicrograms(input.mass),
    diameterMillimetres: readingMillimetres(input.diameter),
    thicknessMillimetres: readingMillimetres(input.thickness),
  };
  const limits = limitsOf(of.standard);
  return {
    ...input,
    ...measured,
    melt: of.run.melt,
    pieceStandard: of.run.pieceStandard,
    limits,
    outside: outsideLimits(measured, limits),
  };
}

function holdBody(
  body: StrikeRecordedBody,
  of: { facts: StrikeFacts; run: RunRow; circumstances: Circumstances },
): HoldOpenedBody | undefined {
  const { facts: found, run, circumstances } = of;
  if (!body.defect || !found.examined) return undefined;
  const held = heldByFault({
    family: body.defect.family,
    run: found.examined,
    strikeNumber: body.strikeNumber,
    shift: circumstances.shift,
    otherRunsOfMelt: found.otherRunsOfMelt,
    otherRunsOfShift: found.otherRunsOfShift,
  });
  return {
    hold: `HOLD-${circumstances.nextNumber}`,
    run: run.run,
    press: run.press,
    melt: run.melt,
    strikeNumber: body.strikeNumber,
    family: body.defect.family,
    words: body.defect.words,
    scope: scopeOfFamily[body.defect.family],
    shift: circumstances.shift,
    held: [...held],
    pieces: piecesHeld(held),
  };
}

function decide(
  input: RecordStrikeInput,
  found: StrikeFacts,
  circumstances: Circumstances,
): Decision {
  const { run, standard } = found;
  const body = run && standard && strikeBody(input, { run, standard });
  const refusals = strikeRefusals(input, found, body?.outside ?? []);
  if (refusals.length > 0 || !body || !run) return { refusals };
  const hold = holdBody(body, { facts: found, run, circumstances });
  return {
    entries: [
      draft(StrikeRecorded, body, { instrument: input.instruments.mass }),
      ...(hold ? [draft(HoldOpened, hold)] : []),
    ],
    answer: { run: run.run, verdict: input.verdict, hold: hold?.hold ?? null },
  };
}

/** A struck piece is examined; a fault opens a hold over the pieces it could concern. */
export const recordStrike = defineCommand({
  command: 'record-strike',
  station: 'press-room',
  title: 'Record strike',
  input: recordStrikeInput,
  roles: ['inspector', 'chief assayer'],
  signature: 'none',
  facts,
  decide,
});
