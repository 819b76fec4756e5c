import { normalDensity, normalDistribution } from '../quantity/normal.ts';
import { badWeighingProbability } from './container-evidence.ts';

/** A weighing as `reweighingValue` takes it. */
export interface WeighingAct {
  readonly pieceMassGrams: number;
  readonly weighings: number;
  readonly deviationGrams: number;
  readonly predictedGrams: number;
  readonly lastingStandardUncertaintyGrams: number;
  readonly repeatStandardUncertaintyGrams: number;
  readonly badWeighingProbability: number;
  readonly badWeighingSpreadGrams: number;
}

/** One normal part of what a new weighing can read. */
interface ReadingPart {
  readonly weight: number;
  readonly meanGrams: number;
  readonly standardDeviationGrams: number;
}

/** What a new weighing can read, given the number of pieces. */
export type ReadingMixture = readonly ReadingPart[];

/** Probability that the weighing so far is worthless, given so many pieces more or fewer. */
export function worthlessSoFar(act: WeighingAct, pieces: number): number {
  return badWeighingProbability(
    {
      deviationGrams: act.deviationGrams,
      predictedGrams: act.predictedGrams,
      standardUncertaintyGrams: Math.hypot(
        act.lastingStandardUncertaintyGrams,
        act.repeatStandardUncertaintyGrams / Math.sqrt(act.weighings),
      ),
    },
    { pieces, pieceMassGrams: act.pieceMassGrams },
    { probability: act.badWeighingProbability, spreadGrams: act.badWeighingSpreadGrams },
  );
}

/** What a good weighing so far has told of the part that a new one leaves as it is. */
function afterGoodWeighing(act: WeighingAct, centre: number) {
  const lasting = act.lastingStandardUncertaintyGrams ** 2;
  const fresh = act.repeatStandardUncertaintyGrams ** 2 / act.weighings;
  const part = lasting / (lasting + fresh);
  return {
    meanGrams: centre + part * (act.deviationGrams - centre),
    standardDeviationGrams: Math.sqrt(
      lasting * (1 - part) + act.repeatStandardUncertaintyGrams ** 2,
    ),
  };
}

/**
 * What a new weighing reads when the container holds so many pieces more or fewer: its lasting errors as a
 * good weighing so far has told them, or untold where that one was worthless; and worthless itself with
 * the chance of that.
 */
export function newReading(act: WeighingAct, pieces: number): ReadingMixture {
  const { badWeighingProbability: bad, badWeighingSpreadGrams: spread } = act;
  const centre = act.predictedGrams + pieces * act.pieceMassGrams;
  const untoldDeviation = Math.hypot(
    act.lastingStandardUncertaintyGrams,
    act.repeatStandardUncertaintyGrams,
  );
  const worthless = act.weighings === 0 ? 1 : worthlessSoFar(act, pieces);
  const untold = {
    weight: (1 - bad) * worthless,
    meanGrams: centre,
    standardDeviationGrams: untoldDeviation,
  };
  const anyCount = {
    weight: bad,
    meanGrams: act.predictedGrams,
    standardDeviationGrams: Math.hypot(spread, untoldDeviation),
  };
  if (act.weighings === 0) return [untold, anyCount];
  return [
    { weight: (1 - bad) * (1 - worthless), ...afterGoodWeighing(act, centre) },
    untold,
    anyCount,
  ];
}

/** Density of a mixture at a reading. */
export const mixtureDensity = (mixture: ReadingMixture, grams: number): number =>
  mixture.reduce(
    (sum, { weight, meanGrams, standardDeviationGrams }) =>
      sum + weight * normalDensity(grams, meanGrams, standardDeviationGrams),
    0,
  );

/** Probability that a mixture reads within bounds. */
export const mixtureWithin = (mixture: ReadingMixture, lower: number, upper: number): number =>
  mixture.reduce(
    (sum, { weight, meanGrams, standardDeviationGrams }) =>
      sum +
      weight *
        (normalDistribution(upper, meanGrams, standardDeviationGrams) -
          normalDistribution(lower, meanGrams, standardDeviationGrams)),
    0,
  );
