import type { CountByWeightOutput } from '@cupel/calculation';
import type { BookReader } from '../../journal/books.ts';
import { type Calculated, calculate } from '../../journal/calculated.ts';
import { type Reading, readingMicrograms } from '../../journal/reading.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import type { PieceStandard } from '../registers/index.ts';
import type { ReferenceMean, TubeVerdict, TubeWeighed } from './bodies.ts';
import { type TubeReading, type TubeRow, tubes } from './books.ts';
import {
  type Balance,
  balanceRefusals,
  type NamedBalance,
  namedBalance,
} from './instrument-check.ts';
import {
  looseRefusals,
  type MeltInPutUp,
  meltHeldRefusals,
  meltInPutUp,
  meltUnknownRefusals,
} from './melt-in-put-up.ts';
import { referenceMeanOf } from './reference-mean.ts';
import { putUpRefusals } from './refusals.ts';

/** A closed tube on a balance. */
export interface TubeOnBalance {
  readonly tube: string;
  readonly melt: string;
  readonly pieces: number;
  readonly gross: Reading;
  readonly tare: Reading | null;
  readonly instrument: string;
}

/** What the judgement of a tube knows. */
export interface TubeFacts {
  readonly tube: TubeRow | undefined;
  readonly melt: MeltInPutUp;
  readonly balance: NamedBalance;
}

/** Reads the books for the judgement of a tube. */
export async function tubeFacts(
  books: BookReader,
  input: { tube: string; melt: string; instrument: string },
  { instant }: { instant: string },
): Promise<TubeFacts> {
  return {
    tube: await books.get(tubes, input.tube),
    melt: await meltInPutUp(books, input.melt, instant),
    balance: await namedBalance(books, input.instrument, instant),
  };
}

/** Whether the tube is closed, so that a weighing belongs to its present filling. */
function isClosed(tube: TubeRow | undefined): tube is TubeRow {
  return tube !== undefined && tube.state !== 'open';
}

function tubeRefusals(input: TubeOnBalance, tube: TubeRow | undefined): readonly Refusal[] {
  if (!isClosed(tube)) return [];
  const named = { field: 'tube' };
  if (tube.state === 'packed') {
    const message = `Tube ${tube.tube} lies in box ${tube.box}.`;
    const figures = { tube: tube.tube, box: tube.box };
    return [refuse(putUpRefusals, 'TubeAlreadyPacked', { message, ...named, figures })];
  }
  if (tube.state === 'stopped') {
    const message = `Tube ${tube.tube} is stopped: ${tube.words}`;
    const figures = { tube: tube.tube, weighings: tube.readings.length };
    return [refuse(putUpRefusals, 'TubeStopped', { message, ...named, figures })];
  }
  if (tube.melt === input.melt && tube.pieces === input.pieces) return [];
  return [
    refuse(putUpRefusals, 'FillingDiffers', {
      message: `Tube ${tube.tube} is closed with ${tube.pieces} pieces of melt ${tube.melt}, not with ${input.pieces} of ${input.melt}.`,
      ...named,
      figures: { tube: tube.tube, pieces: tube.pieces, melt: tube.melt },
    }),
  ];
}

function fillingRefusals(input: TubeOnBalance, facts: TubeFacts): readonly Refusal[] {
  const { melt, tube } = facts;
  const most = melt.standard?.piecesPerTube ?? input.pieces;
  const overfull =
    input.pieces > most
      ? [
          refuse(putUpRefusals, 'TubeOverfull', {
            message: `${input.pieces} pieces are named; a tube of ${melt.standard?.title} holds ${most}.`,
            field: 'pieces',
            figures: { pieces: input.pieces, piecesPerTube: most },
          }),
        ]
      : [];
  return [
    ...meltHeldRefusals(input.melt, melt, 'melt'),
    ...overfull,
    ...(isClosed(tube) || overfull.length > 0 ? [] : looseRefusals(melt, input.pieces)),
  ];
}

/** The masses of a weighing; the tare of the piece standard stands in for one that was not weighed. */
function massesOf(input: TubeOnBalance, standard: PieceStandard) {
  const grossMicrograms = readingMicrograms(input.gross);
  const tareMicrograms = input.tare
    ? readingMicrograms(input.tare)
    : Math.round(standard.tubeTareGrams * 1e6);
  return { grossMicrograms, tareMicrograms, netMicrograms: grossMicrograms - tareMicrograms };
}

/** Every reason why a tube is not judged, most important first. */
function weighingRefusals(input: TubeOnBalance, facts: TubeFacts): readonly Refusal[] {
  const ofTube = tubeRefusals(input, facts.tube);
  if (ofTube.length > 0) return ofTube;
  const { standard } = facts.melt;
  const unknown = meltUnknownRefusals(facts.melt);
  const balance = balanceRefusals(facts.balance);
  if (!standard) return [...unknown, ...balance];
  const { grossMicrograms, tareMicrograms, netMicrograms } = massesOf(input, standard);
  const tare =
    netMicrograms > 0
      ? []
      : [
          refuse(putUpRefusals, 'TareNotBelowGross', {
            message: `The tare ${tareMicrograms / 1e6} g leaves nothing of the gross mass ${grossMicrograms / 1e6} g.`,
            field: input.tare ? 'tare' : 'gross',
            figures: { grossGrams: grossMicrograms / 1e6, tareGrams: tareMicrograms / 1e6 },
          }),
        ];
  return [...fillingRefusals(input, facts), ...balance, ...tare];
}

/** The most weighings of one filling that a count by weight takes. */
const mostReadings = 8;

/**
 * Weighings of this filling made in the same way as the present one: on the same balance, and with
 * the tube's own tare or without. Others have another uncertainty and stay out of this count.
 */
function earlierReadings(input: TubeOnBalance, tube: TubeRow | undefined): readonly TubeReading[] {
  if (!isClosed(tube)) return [];
  const alike = tube.readings.filter(
    (reading) =>
      reading.instrument === input.instrument && reading.isTareWeighed === (input.tare !== null),
  );
  return alike.slice(1 - mostReadings);
}

function countTube(options: {
  input: TubeOnBalance;
  standard: PieceStandard;
  balance: Balance;
  reference: ReferenceMean;
  netReadingsGrams: readonly number[];
}): { calculated: Calculated; output: CountByWeightOutput } {
  const { input, standard, balance, reference } = options;
  const meanUncertainty = reference.meanStandardUncertaintyGrams;
  return calculate<CountByWeightOutput>('count-by-weight', {
    nominalPieces: input.pieces,
    pieceMassGrams: reference.meanGrams,
    pieceStandardDeviationGrams: standard.pieceStandardDeviationMilligrams / 1000,
    // Kept for a mean of the same melt too: runs and drums of one melt differ among each other.
    lotStandardDeviationGrams: standard.lotStandardDeviationMilligrams / 1000,
    referencePieces: reference.referencePieces,
    ...(meanUncertainty === null ? {} : { referenceMeanStandardUncertaintyGrams: meanUncertainty }),
    gainRelative: balance.gainRelative,
    // A tare weighed on this very tube leaves only the repeatability of that weighing.
    tareStandardDeviationGrams: input.tare
      ? balance.repeatabilityGrams
      : standard.tubeTareStandardDeviationGrams,
    repeatabilityGrams: balance.repeatabilityGrams,
    divisionGrams: balance.divisionGrams,
    readingsTaken: input.tare ? 2 : 1,
    netReadingsGrams: [...options.netReadingsGrams],
    priorMiscountProbability: standard.priorMiscountProbability,
    badWeighingProbability: standard.badWeighingProbability,
    badWeighingSpreadGrams: standard.badWeighingSpreadGrams,
  });
}

/** A scale that cannot prove the count leaves the tube to be weighed again, on a finer one. */
const stateOfVerdict: Readonly<Record<CountByWeightOutput['verdict'], TubeVerdict>> = {
  proved: 'proved',
  'weigh-again': 'weigh again',
  differs: 'stopped',
  'cannot-prove': 'weigh again',
};

/** A judged tube: what the record keeps, and the count in full. */
export interface JudgedTube {
  readonly body: TubeWeighed;
  readonly count: CountByWeightOutput;
}

/** Judges a closed tube by all its weighings so far and this one; pure, for the record and for the eye. */
export function judgeTube(
  input: TubeOnBalance,
  facts: TubeFacts,
): JudgedTube | { readonly refusals: readonly Refusal[] } {
  const refusals = weighingRefusals(input, facts);
  const { standard, deliveries, runs } = facts.melt;
  const { balance } = facts.balance;
  if (refusals.length > 0 || !standard || !balance) return { refusals };
  const masses = massesOf(input, standard);
  const reference = referenceMeanOf(standard, deliveries, input.pieces);
  const earlier = earlierReadings(input, facts.tube);
  const netReadingsGrams = [...earlier, masses].map((reading) => reading.netMicrograms / 1e6);
  const count = countTube({ input, standard, balance, reference, netReadingsGrams });
  const filling = (facts.tube?.filling ?? 0) + (isClosed(facts.tube) ? 0 : 1);
  return {
    body: {
      tube: input.tube,
      filling,
      melt: input.melt,
      metal: standard.metal,
      pieceStandard: standard.pieceStandard,
      finenessDeclaredPartsPerMillion: standard.finenessDeclaredPartsPerMillion,
      pieces: input.pieces,
      gross: input.gross,
      tare: input.tare,
      ...masses,
      reference,
      count: count.calculated,
      state: stateOfVerdict[count.output.verdict],
      runs: [...runs],
    },
    count: count.output,
  };
}
