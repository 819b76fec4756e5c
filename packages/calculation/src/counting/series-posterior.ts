import gammaln from '@stdlib/math-base-special-gammaln';
import { followSeries, type SeriesPass, type TubeProbabilities } from './series-grid.ts';
import { type SeriesModel, type SeriesTube, sharedVariance, tubeEvidence } from './series-model.ts';

/** A series judged as a whole. */
export interface SeriesPosterior extends SeriesPass {
  /** Counts to which the probabilities of each tube belong, ascending. */
  readonly pieces: readonly (readonly number[])[];
  /** Probability that every count is as booked (as counted, where a tube was opened). */
  readonly allAsBooked: number;
  /** Piece standard deviation after the series. */
  readonly pieceStandardDeviationGrams: number;
}

const coarseNodes = 17;
const leastNodes = 33;
const mostNodes = 121;
/** Distance of the nodes in standard deviations of what the tubes leave of the deviation. */
const nodeShare = 0.8;
const farthest = 6;
const negligible = 25;

/** One value of the piece standard deviation, its weight beforehand, and the pass made with it. */
interface Node {
  readonly logDeviation: number;
  /** Logarithm of the probability of the stretch about this node before the tubes. */
  readonly logPrior: number;
  /** The same with what the tubes say, not brought to sum 1. */
  readonly logWeight: number;
  readonly pass: SeriesPass;
}

function passFor(
  tubes: readonly SeriesTube[],
  model: SeriesModel,
  deviation: number,
): { pass: SeriesPass; pieces: number[][] } {
  const meanPieces = tubes.reduce((sum, tube) => sum + tube.bookedPieces, 0) / tubes.length;
  const own = { ...model, pieceStandardDeviationGrams: deviation };
  const evidence = tubes.map((tube) => tubeEvidence(tube, own, meanPieces));
  const pass = followSeries(evidence, {
    meanGrams: model.referenceMeanGrams,
    variance: sharedVariance(model, meanPieces),
    driftVariance: model.driftPerTubeGrams ** 2,
  });
  return { pass, pieces: evidence.map(({ hypotheses }) => hypotheses.map((one) => one.pieces)) };
}

/**
 * Nodes in the logarithm of the piece standard deviation: a coarse look tells how narrow the tubes leave it;
 * the nodes then lie close enough for that, as far as it was possible before the tubes.
 */
function nodesFor(
  tubes: readonly SeriesTube[],
  model: SeriesModel,
  degreesOfFreedom: number,
): Node[] {
  const half = degreesOfFreedom / 2;
  const centre = Math.log(model.pieceStandardDeviationGrams);
  const width = 1 / Math.sqrt(2 * degreesOfFreedom);
  const logNorm = half * Math.log(1 / half) + gammaln(half) - Math.LN2;
  // Of a scaled inverse chi-square variance, as density of the logarithm of the deviation.
  const logDensity = (log: number): number =>
    -degreesOfFreedom * (log - centre) - half * Math.exp(-2 * (log - centre)) - logNorm;
  const across = (from: number, to: number, count: number): Node[] => {
    const step = (to - from) / (count - 1);
    return Array.from({ length: count }, (_, index) => {
      const logDeviation = from + index * step;
      const { pass } = passFor(tubes, model, Math.exp(logDeviation));
      const logPrior = logDensity(logDeviation) + Math.log(step);
      const evidence = pass.logEvidence[pass.logEvidence.length - 1] as number;
      return { logDeviation, logPrior, logWeight: logPrior + evidence, pass };
    });
  };
  const coarse = across(centre - farthest * width, centre + 2 * farthest * width, coarseNodes);
  const weights = weightsOf(coarse.map((node) => node.logWeight));
  const left = spreadOf(coarse, weights);
  const priorTop = Math.max(...coarse.map((node) => node.logPrior));
  const top = Math.max(...coarse.map((node) => node.logWeight));
  const standing = coarse.filter(
    (node) => node.logPrior > priorTop - negligible || node.logWeight > top - negligible,
  );
  const [first, last] = [standing[0] as Node, standing[standing.length - 1] as Node];
  const step = (coarse[1] as Node).logDeviation - (coarse[0] as Node).logDeviation;
  const [from, to] = [first.logDeviation - step / 2, last.logDeviation + step / 2];
  const count = Math.ceil((to - from) / (nodeShare * left));
  return across(from, to, Math.min(mostNodes, Math.max(leastNodes, count)));
}

/** Standard deviation of the logarithm over nodes, not below a third of their distance. */
function spreadOf(nodes: readonly Node[], weights: readonly number[]): number {
  const at = (power: (log: number) => number): number =>
    nodes.reduce(
      (sum, node, index) => sum + (weights[index] as number) * power(node.logDeviation),
      0,
    );
  const mean = at((log) => log);
  const square = at((log) => (log - mean) ** 2);
  const step = (nodes[1] as Node).logDeviation - (nodes[0] as Node).logDeviation;
  return Math.max(Math.sqrt(square), step / 3);
}

function weightsOf(logs: readonly number[]): number[] {
  const top = Math.max(...logs);
  const raw = logs.map((log) => Math.exp(log - top));
  const sum = raw.reduce((total, value) => total + value, 0);
  return raw.map((value) => value / sum);
}

function mixProbabilities(
  parts: readonly TubeProbabilities[],
  weights: readonly number[],
): TubeProbabilities {
  const mixed = (pick: (part: TubeProbabilities) => number): number =>
    parts.reduce((sum, part, index) => sum + (weights[index] as number) * pick(part), 0);
  const length = parts[0]?.counts.length ?? 0;
  const each = (pick: (part: TubeProbabilities) => readonly number[]): number[] =>
    Array.from({ length }, (_, place) => mixed((part) => pick(part)[place] as number));
  return {
    counts: each((p) => p.counts),
    weighed: each((p) => p.weighed),
    bad: mixed((p) => p.bad),
  };
}

function mixMoments(
  parts: readonly { readonly mean: number; readonly variance: number }[],
  weights: readonly number[],
): { mean: number; variance: number } {
  const mean = parts.reduce((sum, part, index) => sum + (weights[index] as number) * part.mean, 0);
  const variance = parts.reduce(
    (sum, part, index) =>
      sum + (weights[index] as number) * (part.variance + (part.mean - mean) ** 2),
    0,
  );
  return { mean, variance };
}

/** One pass out of those of all nodes, each tube weighed by what the tubes up to it say of the node. */
function mix(nodes: readonly Node[], tubes: number): SeriesPass {
  const upTo = (index: number): number[] =>
    weightsOf(
      nodes.map(
        ({ logPrior, pass }) => logPrior + (index < 0 ? 0 : (pass.logEvidence[index] as number)),
      ),
    );
  const all = upTo(tubes - 1);
  const indices = Array.from({ length: tubes }, (_, index) => index);
  const steps = indices.map((index) => ({ past: upTo(index - 1), here: upTo(index) }));
  const evidence = (pick: (pass: SeriesPass) => number): number => {
    const logs = nodes.map(({ logPrior, pass }) => logPrior + pick(pass));
    const top = Math.max(...logs);
    return top + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - top), 0));
  };
  return {
    live: steps.map(({ here }, index) =>
      mixProbabilities(
        nodes.map(({ pass }) => pass.live[index] as TubeProbabilities),
        here,
      ),
    ),
    afterwards: indices.map((index) =>
      mixProbabilities(
        nodes.map(({ pass }) => pass.afterwards[index] as TubeProbabilities),
        all,
      ),
    ),
    before: steps.map(({ past }, index) =>
      mixMoments(
        nodes.map(({ pass }) => pass.before[index] as { mean: number; variance: number }),
        past,
      ),
    ),
    after: steps.map(({ here }, index) =>
      mixMoments(
        nodes.map(({ pass }) => pass.after[index] as { mean: number; variance: number }),
        here,
      ),
    ),
    logEvidence: indices.map((index) => evidence((pass) => pass.logEvidence[index] as number)),
    bookedLogEvidence: evidence((pass) => pass.bookedLogEvidence),
  };
}

/**
 * Counts of a series of tubes that share an unknown mean piece mass, and that mean itself.
 *
 * Formula: `followSeries` for a known piece standard deviation; where that was estimated with ν degrees of
 * freedom its variance has a scaled inverse chi-square distribution, over whose logarithm the passes are
 * summed with their evidence (t instead of normal densities).
 *
 * @param tubes 1 or more in the order weighed
 * @param model masses in grams
 * @param degreesOfFreedom of the piece standard deviation, 1 or more; absent where it is known
 * @returns probabilities of the counts tube by tube, mean along the series, probability of all as booked
 * @throws DomainError as `followSeries` and for several readings on a coarse division
 * Validity: as `followSeries`; sums over the deviation to about 1e-6. Shown in laws/counting-series.
 * Source: Bayes' rule; A. Gelman et al. (2013), Bayesian Data Analysis, 3.3, for the normal model with
 * unknown variance
 * @example seriesPosterior([{ bookedPieces: 20, grossReadingsGrams: [640] }], {
 *   referenceMeanGrams: 31.1, referenceMeanStandardUncertaintyGrams: 0.01,
 *   lotStandardDeviationGrams: 0.02, gainRelative: 0.0001, pieceStandardDeviationGrams: 0.05,
 *   driftPerTubeGrams: 0, storedTareGrams: 18, tareStandardDeviationGrams: 0.15,
 *   tareMeanStandardUncertaintyGrams: 0, repeatabilityGrams: 0.05, divisionGrams: 0.1,
 *   priorMiscountProbability: 0.0002, badWeighingProbability: 0.001, badWeighingSpreadGrams: 20,
 * }).pieces[0] // [19, 20, 21]
 */
export function seriesPosterior(
  tubes: readonly SeriesTube[],
  model: SeriesModel,
  degreesOfFreedom?: number,
): SeriesPosterior {
  const plain = passFor(tubes, model, model.pieceStandardDeviationGrams);
  const nodes = degreesOfFreedom === undefined ? null : nodesFor(tubes, model, degreesOfFreedom);
  const pass = nodes ? mix(nodes, tubes.length) : plain.pass;
  const weights = nodes ? weightsOf(nodes.map((node) => node.logWeight)) : [1];
  const deviations = nodes?.map((node) => Math.exp(node.logDeviation)) ?? [
    model.pieceStandardDeviationGrams,
  ];
  const last = pass.logEvidence[pass.logEvidence.length - 1] as number;
  return {
    ...pass,
    pieces: plain.pieces,
    allAsBooked: Math.min(1, Math.exp(pass.bookedLogEvidence - last)),
    pieceStandardDeviationGrams: deviations.reduce(
      (sum, deviation, index) => sum + (weights[index] as number) * deviation,
      0,
    ),
  };
}
