import { DomainError } from '../quantity/domain.ts';
import { countPrior } from './count-posterior.ts';

/** One container of a series, masses in grams. */
export interface SeriesTube {
  readonly bookedPieces: number;
  /** Gross readings, each a weighing from zero. */
  readonly grossReadingsGrams: readonly number[];
  /** Reading of the empty container; absent where the stored tare is used. */
  readonly tareReadingGrams?: number | undefined;
  /** Known by opening and counting. */
  readonly countedPieces?: number | undefined;
}

/** What is known of pieces, scale and tare before the series; masses in grams. */
export interface SeriesModel {
  readonly referenceMeanGrams: number;
  readonly referenceMeanStandardUncertaintyGrams: number;
  readonly lotStandardDeviationGrams: number;
  readonly gainRelative: number;
  readonly pieceStandardDeviationGrams: number;
  readonly driftPerTubeGrams: number;
  readonly storedTareGrams: number;
  readonly tareStandardDeviationGrams: number;
  readonly tareMeanStandardUncertaintyGrams: number;
  readonly repeatabilityGrams: number;
  readonly divisionGrams: number;
  readonly priorMiscountProbability: number;
  readonly badWeighingProbability: number;
  readonly badWeighingSpreadGrams: number;
}

/** Some readings taken as good and the rest as bad: a normal or rounded density of the net mass. */
export interface ReadingTerm {
  readonly logWeight: number;
  readonly netGrams: number;
  readonly variance: number;
}

/** One count with its probability beforehand and the ways in which the readings can be good. */
export interface CountHypothesis {
  readonly pieces: number;
  readonly logPrior: number;
  readonly terms: readonly ReadingTerm[];
}

/** Everything that a tube says about its count and the mean piece mass. */
export interface TubeEvidence {
  readonly hypotheses: readonly CountHypothesis[];
  /** Logarithm of the density with every weighing bad: the same for each count. */
  readonly badLogWeight: number;
  /** Given: the terms are probabilities of a reading rounded to this division. */
  readonly roundedToGrams: number | null;
  /** Net reading, the mean of several, and its variance for the booked count without the mean's. */
  readonly netGrams: number;
  readonly variance: number;
  readonly bookedPieces: number;
}

const coarseDivision = 0.25;
const farthestCount = 10;
const logTwoPi = Math.log(2 * Math.PI);

/**
 * Variance of the mean piece mass that this lot shows on this scale, before the first tube: reference
 * mean, lot against reference lot, span of the scale, and the shared error of the stored tare spread
 * over the pieces of a tube.
 */
export function sharedVariance(model: SeriesModel, meanPieces: number): number {
  return (
    model.referenceMeanStandardUncertaintyGrams ** 2 +
    model.lotStandardDeviationGrams ** 2 +
    (model.referenceMeanGrams * model.gainRelative) ** 2 +
    (model.tareMeanStandardUncertaintyGrams / meanPieces) ** 2
  );
}

/** Variance of a tube's own: its pieces, its tare, and what the shared tare error leaves over. */
function ownVariance(
  tube: SeriesTube,
  model: SeriesModel,
  pieces: number,
  meanPieces: number,
): number {
  const rounding = model.divisionGrams ** 2 / 12;
  const tare =
    tube.tareReadingGrams === undefined
      ? model.tareStandardDeviationGrams ** 2 +
        (model.tareMeanStandardUncertaintyGrams * (1 - pieces / meanPieces)) ** 2
      : model.repeatabilityGrams ** 2 + rounding;
  return pieces * model.pieceStandardDeviationGrams ** 2 + tare;
}

function normalLog(value: number, variance: number): number {
  return -0.5 * (logTwoPi + Math.log(variance) + value ** 2 / variance);
}

/** Counts that the readings point to, with their probabilities before the weighing. */
function priorOf(
  tube: SeriesTube,
  model: SeriesModel,
  nets: readonly number[],
): { pieces: number; logPrior: number }[] {
  if (tube.countedPieces !== undefined) return [{ pieces: tube.countedPieces, logPrior: 0 }];
  const booked = tube.bookedPieces;
  const distances = nets
    .map((net) => Math.round(net / model.referenceMeanGrams) - booked)
    .filter((distance) => Math.abs(distance) <= farthestCount);
  const range = {
    below: Math.max(1, -Math.min(0, ...distances)),
    above: Math.max(1, ...distances),
  };
  return countPrior(booked, model.priorMiscountProbability, range).map((entry) => ({
    pieces: entry.pieces,
    logPrior: Math.log(entry.probability),
  }));
}

/** Every division of the readings into good and bad ones, but for all bad. */
function termsOf(
  nets: readonly number[],
  badLogs: readonly number[],
  variances: { readonly own: number; readonly noise: number },
  bad: number,
): ReadingTerm[] {
  const terms: ReadingTerm[] = [];
  for (let division = 1; division < 2 ** nets.length; division += 1) {
    const good = nets.filter((_, index) => (division >> index) & 1);
    const mean = good.reduce((sum, net) => sum + net, 0) / good.length;
    const squares = good.reduce((sum, net) => sum + (net - mean) ** 2, 0);
    let logWeight = good.length * Math.log1p(-bad);
    for (const [index, badLog] of badLogs.entries()) {
      if (((division >> index) & 1) === 0) logWeight += Math.log(bad) + badLog;
    }
    if (good.length > 1) {
      logWeight -=
        ((good.length - 1) / 2) * (logTwoPi + Math.log(variances.noise)) +
        0.5 * Math.log(good.length) +
        squares / (2 * variances.noise);
    }
    terms.push({
      logWeight,
      netGrams: mean,
      variance: variances.own + variances.noise / good.length,
    });
  }
  return terms;
}

/**
 * What one tube says, as a sum of densities of its net mass for each count.
 *
 * @throws DomainError where the division is coarse against the spread and the tube has several readings
 */
export function tubeEvidence(
  tube: SeriesTube,
  model: SeriesModel,
  meanPieces: number,
): TubeEvidence {
  const tare = tube.tareReadingGrams ?? model.storedTareGrams;
  const nets = tube.grossReadingsGrams.map((gross) => gross - tare);
  const booked = tube.countedPieces ?? tube.bookedPieces;
  const own = ownVariance(tube, model, booked, meanPieces);
  const rounding = model.divisionGrams ** 2 / 12;
  const repeat = model.repeatabilityGrams ** 2;
  const isRounded = own + repeat < (coarseDivision * model.divisionGrams) ** 2;
  if (isRounded && nets.length > 1) {
    throw new DomainError({
      field: 'tubes.grossReadingsGrams',
      value: `${nets.length} readings`,
      accepted: `one reading for each tube where the division of ${model.divisionGrams} g is more than four times the spread of a tube: the scale shows the same again`,
    });
  }
  const noise = repeat + (isRounded ? 0 : rounding);
  const expected = booked * model.referenceMeanGrams;
  const total = own + repeat + rounding + booked ** 2 * sharedVariance(model, meanPieces);
  const badSpread = model.badWeighingSpreadGrams ** 2 + total;
  // A rounded reading has a probability, so that the density of a bad one is taken times the division.
  const perDivision = isRounded ? Math.log(model.divisionGrams) : 0;
  const badLogs = nets.map((net) => normalLog(net - expected, badSpread) + perDivision);
  const bad = model.badWeighingProbability;
  return {
    hypotheses: priorOf(tube, model, nets).map((entry) => ({
      ...entry,
      terms: termsOf(
        nets,
        badLogs,
        { own: ownVariance(tube, model, entry.pieces, meanPieces), noise },
        bad,
      ),
    })),
    badLogWeight: badLogs.reduce((sum, badLog) => sum + Math.log(bad) + badLog, 0),
    roundedToGrams: isRounded ? model.divisionGrams : null,
    netGrams: nets.reduce((sum, net) => sum + net, 0) / nets.length,
    variance: own + (repeat + rounding) / nets.length,
    bookedPieces: booked,
  };
}
