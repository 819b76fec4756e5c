import type { BookReader } from '../../journal/books.ts';
import type { Calculated } from '../../journal/calculated.ts';
import type { Ruling } from './bodies.ts';
import {
  type AssayRunRow,
  assayRuns,
  type BlankRow,
  type DeterminationRow,
  newestRulings,
  type ResultRow,
  type RulingRow,
  type TrialRow,
  trials,
} from './books.ts';
import {
  blanksMeasuredOf,
  determinationsOf,
  newestRuling,
  resultsOf,
  rulingsOf,
  standingResult,
} from './read-model-queries.ts';
import { type ResultFileRow, resultFiles } from './spectrometer/books.ts';
import { calculatedOfTitration } from './titration/calculated-of-titration.ts';

export type { Ruling } from './bodies.ts';
export type { AssayRunRow, BlankRow, Recorded, RulingRow } from './books.ts';
export { type DoubtfulWeighing, doubtOfWeighing } from './controls/holds.ts';
export { doubtsOfMelt, type MeltDoubt } from './controls/melt-doubts.ts';
export { meltUncertainty } from './melt-uncertainty.ts';
export type { ResultFileRow } from './spectrometer/books.ts';
export type { TitrationRecorded } from './titration/bodies.ts';
export {
  blankLabel,
  calculatedOfTitration,
  endPointName,
  factorName,
  portionName,
  type Vessel,
} from './titration/calculated-of-titration.ts';

/** The newest ruling on a melt; nothing while the chief assayer has not ruled. */
export async function rulingOf(books: BookReader, melt: string): Promise<RulingRow | undefined> {
  return newestRuling(books, melt);
}

/** What was ruled last on a melt, without the rest of the ruling; null while nobody has ruled. */
export async function rulingNameOf(books: BookReader, melt: string): Promise<Ruling | null> {
  return (await books.get(newestRulings, melt))?.ruling ?? null;
}

/** Whether blanks of the melt may be struck: its newest ruling is release or concession. */
export async function mayBeStruck(books: BookReader, melt: string): Promise<boolean> {
  const ruling = (await newestRuling(books, melt))?.ruling;
  return ruling === 'release' || ruling === 'concession';
}

/** What the laboratory found of the fineness of a melt, as a verdict. */
export interface MeltVerdict {
  readonly verdict: 'passes' | 'undecided' | 'fails';
  readonly finenessPerMille: number;
  readonly standardUncertaintyPerMille: number;
  readonly scope: 'inside' | 'outside';
  /** Input and output of the verdict: limit, guard band, probability, risk. */
  readonly decision: Calculated;
  readonly result: number;
}

/** The verdict of a melt; nothing while no result is signed and checked. */
export async function verdictOf(books: BookReader, melt: string): Promise<MeltVerdict | undefined> {
  const row = await standingResult(books, melt);
  if (!row?.checked) return undefined;
  const { verdict, finenessPerMille, standardUncertaintyPerMille, scope, decision } = row.body;
  return {
    verdict,
    finenessPerMille,
    standardUncertaintyPerMille,
    scope,
    decision,
    result: row.result,
  };
}

/** A result with everything that it was made of. */
export interface MeltResult {
  readonly result: ResultRow;
  /** Every run of the melt with its raw readings, void ones too. */
  readonly runs: readonly AssayRunRow[];
  /** The result files that runs were taken from, with what the spectrometer's signals gave. */
  readonly files: readonly ResultFileRow[];
  /** Every determination, with those that do not count and why. */
  readonly determinations: readonly DeterminationRow[];
  /** The measured blanks with their raw readings. */
  readonly blanks: readonly BlankRow[];
  /** Everything from the catalogue of calculations that the result rests on, in order. */
  readonly calculated: readonly Calculated[];
}

/** The calculations of one run. */
function calculatedOfRun({ worksheet }: AssayRunRow): readonly Calculated[] {
  if ('cupellation' in worksheet) return [worksheet.cupellation];
  if ('solutions' in worksheet) return worksheet.solutions.map((solution) => solution.difference);
  return calculatedOfTitration(worksheet).map((one) => one.calculated);
}

/** The signed and checked result of a melt; nothing while there is none. */
export async function resultOf(books: BookReader, melt: string): Promise<MeltResult | undefined> {
  const result = await standingResult(books, melt);
  if (!result?.checked) return undefined;
  const runs = await books.select(assayRuns, { by: 'byMelt', prefix: [melt] });
  const counted = new Set(result.body.determinations.map((one) => one.assayRun));
  return {
    result,
    runs,
    files: await books.select(resultFiles, { by: 'byMelt', prefix: [melt] }),
    determinations: await determinationsOf(books, melt),
    blanks: await blanksMeasuredOf(books, melt),
    calculated: [
      ...runs.filter((run) => counted.has(run.assayRun)).flatMap(calculatedOfRun),
      result.body.replicates,
      result.body.decision,
    ],
  };
}

/** The trial of a melt with its whole story. */
export interface MeltTrial {
  readonly trial: TrialRow;
  readonly blanks: readonly BlankRow[];
  readonly runs: readonly AssayRunRow[];
  readonly determinations: readonly DeterminationRow[];
  readonly results: readonly ResultRow[];
  readonly rulings: readonly RulingRow[];
}

/** The trial of a melt; nothing before the first entry of the laboratory on it. */
export async function trialOf(books: BookReader, melt: string): Promise<MeltTrial | undefined> {
  const trial = await books.get(trials, melt);
  if (!trial) return undefined;
  return {
    trial,
    blanks: await blanksMeasuredOf(books, melt),
    runs: await books.select(assayRuns, { by: 'byMelt', prefix: [melt] }),
    determinations: await determinationsOf(books, melt),
    results: await resultsOf(books, melt),
    rulings: await rulingsOf(books, melt),
  };
}
