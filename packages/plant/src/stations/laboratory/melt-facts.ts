import type { BookReader } from '../../journal/books.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import {
  type Blank,
  blanksOfMelt,
  heldBlanks,
  type JudgedLotRow,
  judgedLotOf,
  type Melt,
  meltOf,
  type PortionRow,
  type SamplingOrder,
  samplingOrderOf,
} from '../receiving/index.ts';
import {
  type AssayMethod,
  authorisedFor,
  type Instrument,
  type InstrumentKind,
  instrumentOf,
  isCalibrationOverdue,
  type PieceStandard,
  pieceStandardOf,
  plantDay,
  stoppedInstrument,
} from '../registers/index.ts';
import { type BlankRow, type TrialRow, trials } from './books.ts';
import { blanksMeasuredOf } from './read-model-queries.ts';
import { laboratoryRefusals } from './refusals.ts';
import { isClosed } from './stage.ts';

/** What the laboratory knows of a melt whose sample lies there. */
export interface SampledMelt {
  readonly melt: Melt;
  readonly standard: PieceStandard;
  readonly order: SamplingOrder;
  /** The drawn blanks by their id. */
  readonly drawn: ReadonlyMap<string, Blank>;
  /** The measured ones of them by their id. */
  readonly measured: ReadonlyMap<string, BlankRow>;
  /** The blanks that lie sealed in portions, or left with one. */
  readonly held: ReadonlyMap<string, PortionRow>;
  /** How its lot stands in the supplier's series; nothing before it is judged. */
  readonly judged: JudgedLotRow | undefined;
  /** Nothing before the first entry of the laboratory on this melt. */
  readonly trial: TrialRow | undefined;
}

/** A melt as far as it is known: in the laboratory, or only announced, or not at all. */
export type MeltFacts =
  | ({ readonly known: 'sampled' } & SampledMelt)
  | { readonly known: 'announced'; readonly melt: Melt }
  | { readonly known: 'no' };

export async function meltFacts(books: BookReader, id: string): Promise<MeltFacts> {
  const melt = await meltOf(books, id);
  if (!melt) return { known: 'no' };
  const order = await samplingOrderOf(books, id);
  const standard = await pieceStandardOf(books, melt.pieceStandard);
  if (!order || order.drawnEntry === null || !standard) return { known: 'announced', melt };
  const drawn = (await blanksOfMelt(books, id)).filter((blank) => blank.isDrawn);
  const measured = await blanksMeasuredOf(books, id);
  return {
    known: 'sampled',
    melt,
    standard,
    order,
    drawn: new Map(drawn.map((blank) => [blank.blank, blank])),
    measured: new Map(measured.map((row) => [row.blank, row])),
    held: await heldBlanks(books, id),
    judged: await judgedLotOf(books, id),
    trial: await books.get(trials, id),
  };
}

/** Why nothing can be recorded in the laboratory on a melt that is not there. */
export function notSampled(id: string, facts: Exclude<MeltFacts, { known: 'sampled' }>): Refusal {
  if (facts.known === 'no') {
    return refuse(laboratoryRefusals, 'MeltUnknown', {
      message: `Melt ${id} has not been announced by any supplier.`,
      field: 'melt',
      figures: { melt: id },
    });
  }
  return refuse(laboratoryRefusals, 'MeltNotSampled', {
    message: `No blanks of melt ${id} have been drawn; at receiving it is ${facts.melt.state}.`,
    field: 'melt',
    figures: { melt: id, state: facts.melt.state },
  });
}

/** Refuses where the chief assayer has closed the trial. */
export function closedTrial(trial: TrialRow | undefined): readonly Refusal[] {
  if (!trial || !isClosed(trial)) return [];
  return [
    refuse(laboratoryRefusals, 'MeltAlreadyRuled', {
      message: `Melt ${trial.melt} is ${trial.stage} since ${trial.since.slice(0, 10)}.`,
      field: 'melt',
      figures: { melt: trial.melt, stage: trial.stage, since: trial.since },
    }),
  ];
}

/** An instrument as a command names it, with the day on which its readings must count. */
export interface NamedInstrument {
  readonly id: string;
  readonly field: string;
  readonly instrument: Instrument | undefined;
  readonly day: string;
}

export async function namedInstrument(
  books: BookReader,
  named: { readonly id: string; readonly field: string; readonly instant: string },
): Promise<NamedInstrument> {
  return {
    id: named.id,
    field: named.field,
    instrument: await instrumentOf(books, named.id),
    day: await plantDay(books, named.instant),
  };
}

/** Refuses an instrument that is unknown, of another kind, out of calibration, or stopped. */
export function unfitInstrument(
  named: NamedInstrument,
  kinds: readonly InstrumentKind[],
): readonly Refusal[] {
  const { instrument, id, field, day } = named;
  if (!instrument || !kinds.includes(instrument.kind)) {
    const accepted = kinds.join(' or ');
    return [
      refuse(laboratoryRefusals, 'InstrumentUnknown', {
        message: instrument
          ? `${id} is a ${instrument.kind}; these readings come from a ${accepted}.`
          : `${id} is not in the register of instruments.`,
        field,
        figures: { instrument: id, kind: instrument?.kind ?? null, accepted: [...kinds] },
      }),
    ];
  }
  if (!isCalibrationOverdue(instrument, day)) return stoppedInstrument(instrument, field);
  return [
    refuse(laboratoryRefusals, 'CalibrationOverdue', {
      message: `The calibration of ${instrument.title} was due on ${instrument.calibrationDue}; today is ${day}.`,
      field,
      figures: { instrument: id, calibrationDue: instrument.calibrationDue, day },
    }),
  ];
}

/** Whether a person may carry out a method today. */
export interface Authorisation {
  readonly person: string;
  readonly name: string;
  readonly method: AssayMethod;
  readonly day: string;
  readonly holds: boolean;
}

export async function authorisationFor(
  books: BookReader,
  asked: {
    readonly person: { readonly person: string; readonly name: string };
    readonly method: AssayMethod;
    readonly instant: string;
  },
): Promise<Authorisation> {
  const { person, name } = asked.person;
  const day = await plantDay(books, asked.instant);
  const holds = await authorisedFor(books, person, asked.method, day);
  return { person, name, method: asked.method, day, holds };
}

/** Refuses a person who holds no valid authorisation for the method. */
export function notAuthorised(authorisation: Authorisation): readonly Refusal[] {
  const { person, name, method, day, holds } = authorisation;
  if (holds) return [];
  return [
    refuse(laboratoryRefusals, 'NotAuthorisedForMethod', {
      message: `${name} holds no authorisation for ${method} that is valid on ${day}.`,
      figures: { person, method, day },
    }),
  ];
}

/** Refusals for blanks that were not drawn from the melt, or stand twice in the same record. */
export function strangeBlanks(
  sampled: SampledMelt,
  named: readonly { readonly blank: string; readonly field: string }[],
): readonly Refusal[] {
  const notDrawn = named
    .filter(({ blank }) => !sampled.drawn.has(blank))
    .map(({ blank, field }) =>
      refuse(laboratoryRefusals, 'BlankNotDrawn', {
        message: `Blank ${blank} is none of the ${sampled.drawn.size} drawn from melt ${sampled.melt.melt}.`,
        field,
        figures: { blank, melt: sampled.melt.melt, blanksDrawn: sampled.drawn.size },
      }),
    );
  return notDrawn;
}

/** Refusals for blanks that lie sealed in a portion, or left with one: nobody works on them. */
export function blanksHeld(
  sampled: SampledMelt,
  named: readonly { readonly blank: string; readonly field: string }[],
): readonly Refusal[] {
  return named.flatMap(({ blank, field }) => {
    const portion = sampled.held.get(blank);
    if (!portion) return [];
    return refuse(laboratoryRefusals, 'BlankInPortion', {
      message: `Blank ${blank} is in portion ${portion.portion}, which is ${portion.state}.`,
      field,
      figures: { blank, portion: portion.portion, state: portion.state },
    });
  });
}

/** Refusals for blanks that are named more than once where each may stand once. */
export function repeatedBlanks(
  named: readonly { readonly blank: string; readonly field: string }[],
): readonly Refusal[] {
  const names = named.map(({ blank }) => blank);
  return named
    .filter(({ blank }, index) => names.indexOf(blank) < index)
    .map(({ blank, field }) =>
      refuse(laboratoryRefusals, 'BlankNamedTwice', {
        message: `Blank ${blank} stands more than once in this record.`,
        field,
        figures: { blank },
      }),
    );
}
