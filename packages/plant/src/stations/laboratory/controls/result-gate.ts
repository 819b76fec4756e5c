import type { BookReader } from '../../../journal/books.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import {
  expiredLot,
  type Instrument,
  instrumentOf,
  isCalibrationOverdue,
  isInScope,
  type MethodEdition,
  methodEditionOf,
  plantDay,
  type ReagentLotRow,
  reagentLotOf,
} from '../../registers/index.ts';
import { type AssayRunRow, assayRuns } from '../books.ts';
import { laboratoryRefusals } from '../refusals.ts';
import { type Hold, holdsOn, madeOfRun } from './holds.ts';
import { controlRefusals } from './refusals.ts';

/** A run that a result would rest on, with what the registers say of what it was made with. */
export interface GatedRunFacts {
  readonly run: AssayRunRow;
  /** The calendar day at the plant on which it was recorded. */
  readonly day: string;
  readonly instrument: Instrument | undefined;
  readonly lots: readonly ReagentLotRow[];
  readonly edition: MethodEdition | undefined;
  /** Holds that nobody has answered for. */
  readonly holds: readonly Hold[];
}

async function factsOfRun(books: BookReader, run: AssayRunRow): Promise<GatedRunFacts> {
  const { worksheet } = run;
  const lots: ReagentLotRow[] = [];
  for (const lot of worksheet.reagentLots ?? []) {
    const row = await reagentLotOf(books, lot);
    if (row) lots.push(row);
  }
  return {
    run,
    day: await plantDay(books, run.instant),
    instrument: await instrumentOf(books, run.instrument),
    lots,
    edition: worksheet.method && (await methodEditionOf(books, worksheet.method)),
    holds: await holdsOn(books, madeOfRun(run)),
  };
}

/** The runs of those names, each once, with what the gate looks at. */
export async function gatedRuns(
  books: BookReader,
  names: readonly string[],
): Promise<readonly GatedRunFacts[]> {
  const gated: GatedRunFacts[] = [];
  for (const name of new Set(names)) {
    const run = await books.get(assayRuns, name);
    if (run) gated.push(await factsOfRun(books, run));
  }
  return gated;
}

/** The editions that governed those runs, each once. */
export function editionsOf(runs: readonly GatedRunFacts[]): readonly MethodEdition[] {
  const byName = new Map<string, MethodEdition>();
  for (const { edition } of runs) {
    if (edition) byName.set(`${edition.method} ${edition.edition}`, edition);
  }
  return [...byName.values()];
}

function outOfCalibration({ run, day, instrument }: GatedRunFacts): readonly Refusal[] {
  if (!instrument || !isCalibrationOverdue(instrument, day)) return [];
  return [
    refuse(laboratoryRefusals, 'CalibrationOverdue', {
      message: `Run ${run.assayRun} was made on ${day}; the calibration of ${instrument.title} was due on ${instrument.calibrationDue}.`,
      nextStep: 'Let the calibration be recorded, or discard the run and make another.',
      figures: {
        assayRun: run.assayRun,
        instrument: instrument.instrument,
        calibrationDue: instrument.calibrationDue,
        day,
      },
    }),
  ];
}

function held({ run, holds }: GatedRunFacts): readonly Refusal[] {
  return holds.map((hold) =>
    refuse(controlRefusals, 'RunHeld', {
      message: `Run ${run.assayRun} is in doubt. ${hold.words}`,
      figures: { assayRun: run.assayRun, hold: hold.hold, entry: run.entry },
    }),
  );
}

/** Why nothing may be signed, checked or released on those runs as they stand. */
export function resultGate(runs: readonly GatedRunFacts[]): readonly Refusal[] {
  return runs.flatMap((facts) => [
    ...held(facts),
    ...outOfCalibration(facts),
    ...facts.lots.flatMap((lot) => expiredLot({ id: lot.lot, field: 'melt' }, lot, facts.day)),
  ]);
}

/** Refuses a fineness that lies outside the scope of an edition that its runs were made by. */
export function outsideEdition(
  melt: string,
  figures: { readonly finenessPerMille: number; readonly scope: 'inside' | 'outside' },
  editions: readonly MethodEdition[],
): readonly Refusal[] {
  const { finenessPerMille } = figures;
  if (figures.scope === 'inside') return [];
  return editions
    .filter((edition) => !isInScope(edition, finenessPerMille))
    .map(({ method, edition, title, scope }) =>
      refuse(laboratoryRefusals, 'OutsideMethodScope', {
        message: `${finenessPerMille} ‰ of melt ${melt} lies outside ${title}, edition ${edition}: ${scope.leastPerMille} to ${scope.greatestPerMille} ‰.`,
        field: 'melt',
        figures: { melt, finenessPerMille, method, edition, ...scope },
      }),
    );
}
