import type { TitrantFactorOutput } from '@cupel/calculation';
import type { BookReader } from '../../../journal/books.ts';
import type { Calculated } from '../../../journal/calculated.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import type { MethodInForce } from '../../registers/index.ts';
import { type TitreRow, titres } from '../controls/books.ts';
import { type Hold, holdsOn } from '../controls/holds.ts';
import type { UsedTitre } from './bodies.ts';
import { titrationRefusals } from './refusals.ts';

/**
 * Hours after which a factor no longer stands for standards where the edition sets no limit: common
 * practice, that a titre is determined on each day of work.
 */
const usualGreatestAgeHours = 24;

/** The determination that a run names, as far as it is known. */
export interface TitreFacts {
  readonly named: string;
  readonly row: TitreRow | undefined;
  /** The newest determination of the lot of the run that counts. */
  readonly newest: TitreRow | undefined;
  readonly ageHours: number;
  readonly greatestAgeHours: number;
  readonly holds: readonly Hold[];
}

const hour = 3_600_000;

/** The newest determination of the factor of a lot that counts. */
export async function newestTitreOf(books: BookReader, lot: string): Promise<TitreRow | undefined> {
  const rows = await books.select(titres, { by: 'byLot', prefix: [lot], descending: true });
  return rows.find(({ setAside }) => setAside === null);
}

/** Hours since a factor was determined. */
const ageOfTitre = (row: Pick<TitreRow, 'instant'>, instant: string): number =>
  (Date.parse(instant) - Date.parse(row.instant)) / hour;

/** Hours up to which a factor stands for standards under the edition that governs the run. */
function greatestTitreAge(inForce: MethodInForce): number {
  const stated = inForce.state === 'in force' ? inForce.edition.greatestTitreAgeHours : undefined;
  return stated ?? usualGreatestAgeHours;
}

/** What puts the factor of a determination in doubt. */
function holdsOfFactor(books: BookReader, row: TitreRow): Promise<readonly Hold[]> {
  const { entry, lot, body } = row;
  return holdsOn(books, { entry, instruments: [body.instrument], reagentLots: [lot] });
}

export async function titreFacts(
  books: BookReader,
  of: { readonly titre: string; readonly lot: string; readonly instant: string },
  inForce: MethodInForce,
): Promise<TitreFacts> {
  const row = await books.get(titres, of.titre);
  return {
    named: of.titre,
    row,
    newest: await newestTitreOf(books, of.lot),
    ageHours: row ? ageOfTitre(row, of.instant) : 0,
    greatestAgeHours: greatestTitreAge(inForce),
    holds: row ? await holdsOfFactor(books, row) : [],
  };
}

function unknownTitre({ named }: TitreFacts, lot: string): Refusal {
  return refuse(titrationRefusals, 'TitreUnknown', {
    message: `No factor of lot ${lot} was determined as ${named}.`,
    field: 'titre',
    figures: { titre: named, lot },
  });
}

function otherLot(row: TitreRow, lot: string): readonly Refusal[] {
  if (row.lot === lot) return [];
  return [
    refuse(titrationRefusals, 'TitreOfOtherLot', {
      message: `${row.assayRun} determined the factor of lot ${row.lot}; the run was titrated with ${lot}.`,
      field: 'titre',
      figures: { titre: row.assayRun, lotOfTitre: row.lot, lot },
    }),
  ];
}

function inDoubt(row: TitreRow, { holds }: TitreFacts): readonly Refusal[] {
  const words = [
    ...(row.setAside === null ? [] : [row.setAside]),
    ...holds.map((one) => one.words),
  ];
  return words.map((why) =>
    refuse(titrationRefusals, 'TitreHeld', {
      message: `The factor of ${row.assayRun} does not count as it stands. ${why}`,
      field: 'titre',
      figures: { titre: row.assayRun, entry: row.entry, holds: holds.map((one) => one.hold) },
    }),
  );
}

function tooOld(row: TitreRow, { ageHours, greatestAgeHours }: TitreFacts): readonly Refusal[] {
  if (ageHours <= greatestAgeHours) return [];
  return [
    refuse(titrationRefusals, 'TitreTooOld', {
      message: `${row.assayRun} was determined ${Math.floor(ageHours)} hours ago; a factor stands for ${greatestAgeHours} hours.`,
      field: 'titre',
      figures: { titre: row.assayRun, ageHours, greatestAgeHours },
    }),
  ];
}

function replaced(row: TitreRow, { newest }: TitreFacts): readonly Refusal[] {
  if (!newest || newest.entry <= row.entry || newest.lot !== row.lot) return [];
  return [
    refuse(titrationRefusals, 'TitreReplaced', {
      message: `The factor of lot ${row.lot} was determined anew as ${newest.assayRun} in entry ${newest.entry}.`,
      field: 'titre',
      figures: { titre: row.assayRun, newest: newest.assayRun, entry: newest.entry },
    }),
  ];
}

/** Why the titre cannot stand for the standards of a run; nothing where it can. */
export function titreRefused(facts: TitreFacts, lot: string): readonly Refusal[] {
  const { row } = facts;
  if (!row) return [unknownTitre(facts, lot)];
  return [
    ...otherLot(row, lot),
    ...inDoubt(row, facts),
    ...tooOld(row, facts),
    ...replaced(row, facts),
  ];
}

/** The titre as the run keeps it, with the calculation of its factor. */
export function usedTitreOf(
  facts: TitreFacts,
): { readonly used: UsedTitre; readonly calculated: Calculated } | undefined {
  const { row, ageHours, greatestAgeHours } = facts;
  if (!row) return undefined;
  const { calculated, titrant, standards, instrument } = row.body;
  const output = calculated.output as unknown as TitrantFactorOutput;
  return {
    calculated,
    used: {
      assayRun: row.assayRun,
      entry: row.entry,
      determinedAt: row.instant,
      ageHours,
      greatestAgeHours,
      factorMilligramsPerMillilitre: titrant.factorMilligramsPerMillilitre,
      standardUncertaintyMilligramsPerMillilitre:
        titrant.standardUncertaintyMilligramsPerMillilitre,
      degreesOfFreedom: output.degreesOfFreedom,
      balance: instrument,
      standards: standards.map(({ label, silver }) => ({ label, silver })),
    },
  };
}
