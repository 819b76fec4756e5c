import { calculationById, runCalculation } from '@cupel/calculation';
import type { BookReader } from '../../journal/books.ts';
import { type Calculated, calculate } from '../../journal/calculated.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import type { Circumstances } from '../../journal/station.ts';
import type { AssayMethod } from '../registers/index.ts';
import { type AssayRunRow, assayRuns, type DeterminationRow } from './books.ts';
import { type ControlFacts, controlFacts } from './controls/control-facts.ts';
import { gateRefusals } from './controls/gate.ts';
import type { StatedControls } from './controls/inputs.ts';
import {
  type Authorisation,
  authorisationFor,
  closedTrial,
  type MeltFacts,
  meltFacts,
  type NamedInstrument,
  namedInstrument,
  notAuthorised,
  type SampledMelt,
  strangeBlanks,
} from './melt-facts.ts';
import { determinationsOf } from './read-model-queries.ts';
import { laboratoryRefusals } from './refusals.ts';
import { isOpenForAssay } from './stage.ts';

/** A melt is judged on at most this many determinations: as far as ISO 5725-6:1994, Table 1, is used. */
export const greatestDeterminations = 10;

/** What every run of determinations needs to know, whatever its method. */
export interface RunFacts {
  readonly melt: MeltFacts;
  readonly instrument: NamedInstrument;
  readonly authorisation: Authorisation;
  readonly earlierRun: AssayRunRow | undefined;
  readonly determinations: readonly DeterminationRow[];
  readonly controls: ControlFacts;
}

/** The facts of a run of that method. */
export async function runFacts(
  books: BookReader,
  run: {
    readonly assayRun: string;
    readonly melt: string;
    readonly instrument: string;
    readonly method: AssayMethod;
  } & StatedControls,
  circumstances: Circumstances,
): Promise<RunFacts> {
  const { instant, author } = circumstances;
  const named = { id: run.instrument, field: 'instrument', instant };
  const melt = await meltFacts(books, run.melt);
  const standard = melt.known === 'sampled' ? melt.standard : undefined;
  return {
    melt,
    instrument: await namedInstrument(books, named),
    authorisation: await authorisationFor(books, { person: author, method: run.method, instant }),
    earlierRun: await books.get(assayRuns, run.assayRun),
    determinations: await determinationsOf(books, run.melt),
    controls: await controlFacts(books, { method: run.method, standard, controls: run, instant }),
  };
}

/** Refuses determinations on a melt whose result stands. */
export function resultStands(sampled: SampledMelt): readonly Refusal[] {
  const { trial } = sampled;
  if (!trial || isOpenForAssay(trial)) return [];
  return [
    refuse(laboratoryRefusals, 'ResultAlreadySigned', {
      message: `The result of melt ${trial.melt} was signed in entry ${trial.result}; its verdict is: ${trial.verdict}.`,
      field: 'melt',
      figures: { melt: trial.melt, result: trial.result, verdict: trial.verdict },
    }),
  ];
}

function notCut(
  sampled: SampledMelt,
  named: readonly { readonly blank: string; readonly field: string }[],
): readonly Refusal[] {
  return named
    .filter(({ blank }) => sampled.drawn.has(blank) && !sampled.measured.get(blank)?.cut)
    .map(({ blank, field }) =>
      refuse(laboratoryRefusals, 'BlankNotCut', {
        message: `Blank ${blank} has not been cut.`,
        field,
        figures: { blank },
      }),
    );
}

/**
 * Refusals that hold for a run of any method before its readings are looked at: of melt, blanks and
 * assayer, of the edition of its method, and of its reference materials and reagents.
 */
export function runRefusals(
  run: {
    readonly assayRun: string;
    readonly melt: string;
    readonly method: AssayMethod;
    readonly portions: readonly { readonly blank: string; readonly field: string }[];
    readonly controls: StatedControls;
  },
  facts: RunFacts,
  sampled: SampledMelt,
): readonly Refusal[] {
  const closed = closedTrial(sampled.trial);
  if (closed.length > 0) return closed;
  const asked = sampled.standard.assayMethod;
  const differs =
    asked === run.method
      ? []
      : [
          refuse(laboratoryRefusals, 'MethodDiffers', {
            message: `${sampled.standard.title} is assayed by ${asked}, not by ${run.method}.`,
            field: 'melt',
            figures: { melt: run.melt, method: run.method, accepted: asked },
          }),
        ];
  const used = facts.earlierRun
    ? [
        refuse(laboratoryRefusals, 'AssayRunAlreadyUsed', {
          message: `Run ${run.assayRun} was recorded in entry ${facts.earlierRun.entry}.`,
          field: 'assayRun',
          figures: { assayRun: run.assayRun, entry: facts.earlierRun.entry },
        }),
      ]
    : [];
  return [
    ...notAuthorised(facts.authorisation),
    ...differs,
    ...strangeBlanks(sampled, run.portions),
    ...notCut(sampled, run.portions),
    ...used,
    ...resultStands(sampled),
    // Every method is computed by the calculation of its own name.
    ...gateRefusals(
      { standard: sampled.standard, calculation: run.method, controls: run.controls },
      facts.controls,
    ),
  ];
}

/** Refuses a valid run that would bring the melt above so many valid determinations. */
export function tooManyDeterminations(
  facts: RunFacts,
  added: { readonly melt: string; readonly determinations: number },
): readonly Refusal[] {
  const there = facts.determinations.filter((row) => row.state === 'valid').length;
  if (there + added.determinations <= greatestDeterminations) return [];
  return [
    refuse(laboratoryRefusals, 'TooManyDeterminations', {
      message: `Melt ${added.melt} has ${there} valid determinations; ${added.determinations} more would exceed ${greatestDeterminations}.`,
      figures: {
        melt: added.melt,
        determinationsValid: there,
        determinationsAdded: added.determinations,
        greatestDeterminations,
      },
    }),
  ];
}

/** A refusal for readings that a calculation does not accept. */
export function readingsNotAccepted(problem: {
  readonly field: string;
  readonly value: unknown;
  readonly accepted: string;
}): Refusal {
  const { field, accepted } = problem;
  const value = String(problem.value);
  return refuse(laboratoryRefusals, 'ReadingsNotAccepted', {
    message: `${field} is ${value}; accepted is ${accepted}.`,
    field,
    figures: { field, value, accepted },
  });
}

/**
 * Runs a calculation on readings that people typed or instruments sent: what it does not accept
 * becomes a refusal that names the reading.
 */
export function runCalculated<Output extends object>(
  id: string,
  input: object,
  readingField: (field: string) => string,
):
  | { readonly calculated: Calculated; readonly output: Output }
  | { readonly refusals: readonly Refusal[] } {
  const result = runCalculation(calculationById(id), input);
  if (result.outcome === 'computed') return calculate<Output>(id, input);
  const refusals = result.problems.map((problem) =>
    readingsNotAccepted({ ...problem, field: readingField(problem.field) }),
  );
  return { refusals };
}
