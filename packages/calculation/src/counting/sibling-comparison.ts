import { requireDomain } from '../quantity/domain.ts';
import { medianOf } from '../quantity/median.ts';
import { normalLogDensity } from '../quantity/normal.ts';
import { compensatedSum } from '../quantity/sum.ts';

/** One container of a lot: its net mass against the expected one. */
export interface SiblingContainer {
  readonly pieces: number;
  readonly deviationGrams: number;
  /** Without the errors that all containers of the lot share. */
  readonly standardUncertaintyGrams: number;
}

/** What its siblings foretell of a container, and how far it lies from that. */
export interface SiblingPrediction {
  readonly predictedGrams: number;
  readonly standardUncertaintyGrams: number;
  /** Deviation less prediction, in standard uncertainties. */
  readonly standardizedResidual: number;
}

const robustSteps = 8;

/**
 * Containers of one lot judged against each other: the lot mean and the scale's span are common to
 * all of them and drop out, so that a missing piece shows that no single container could show.
 *
 * Formula: deviation = n·b + e, with b normal about 0 and standard deviation `sharedPerPiece`, e of
 * the container alone. Each container is foretold from the others: precision
 * P = 1/sb² + Σ w·n²/s², b = Σ w·n·dev/s²/P, foretold n·b with variance n²/P + s². The weights w are 1;
 * with a stated chance of an odd container they are the probability that a container is normal
 * given the fit, iterated 8 times from the median, so that the odd one does not drag the others.
 *
 * @param containers 2 or more; pieces above 0, deviations and uncertainties in grams
 * @param shared standard deviation per piece of what all share, above 0; for the robust form the
 * chance of an odd container in (0, 1) and the spread of its deviation in grams
 * @returns one prediction for each container in the same order, not rounded
 * @throws DomainError for fewer than 2 containers or a shared deviation not above 0
 * Validity: one shared term; on one scale its span is part of it. Shown in reference/counting.
 * Source: normal linear model with leave-one-out prediction, elementary; weights as in Box and Tiao
 * (1968), Biometrika 55, 119-129
 * @example compareSiblings([9.4, 10.1, -20.6, 10.5].map((deviationGrams) => ({ pieces: 500, deviationGrams,
 *   standardUncertaintyGrams: 1.3 })), { sharedPerPieceGrams: 0.02 })[2].standardizedResidual // -20.4
 */
export function compareSiblings(
  containers: readonly SiblingContainer[],
  shared: {
    readonly sharedPerPieceGrams: number;
    readonly odd?: { readonly probability: number; readonly spreadGrams: number };
  },
): SiblingPrediction[] {
  requireDomain(containers.length >= 2, {
    field: 'containers',
    value: `${containers.length} containers`,
    accepted: 'at least 2 containers',
  });
  requireDomain(shared.sharedPerPieceGrams > 0, {
    field: 'sharedPerPieceGrams',
    value: shared.sharedPerPieceGrams,
    accepted: 'a standard deviation above 0 g',
  });
  const weights = shared.odd
    ? robustWeights(containers, shared.sharedPerPieceGrams, shared.odd)
    : containers.map(() => 1);
  const all = sharedSums(containers, weights, shared.sharedPerPieceGrams);
  return containers.map((container, left) => {
    // What a container adds to the sums is taken off again, so that it does not foretell itself.
    const own = sumTerms(container, weights[left] ?? 0);
    const precision = all.precision - own.precision;
    const predictedGrams = (container.pieces * (all.weighted - own.weighted)) / precision;
    const standardUncertaintyGrams = Math.sqrt(
      container.pieces ** 2 / precision + container.standardUncertaintyGrams ** 2,
    );
    return {
      predictedGrams,
      standardUncertaintyGrams,
      standardizedResidual: (container.deviationGrams - predictedGrams) / standardUncertaintyGrams,
    };
  });
}

interface SharedSums {
  readonly precision: number;
  readonly weighted: number;
}

/** What one container adds to the fit of the shared term. */
function sumTerms(container: SiblingContainer, weight: number): SharedSums {
  const { pieces, deviationGrams, standardUncertaintyGrams } = container;
  const scale = (weight * pieces) / standardUncertaintyGrams ** 2;
  return { precision: scale * pieces, weighted: scale * deviationGrams };
}

function sharedSums(
  containers: readonly SiblingContainer[],
  weights: readonly number[],
  sharedPerPieceGrams: number,
): SharedSums {
  const terms = containers.map((container, at) => sumTerms(container, weights[at] ?? 0));
  return {
    precision:
      1 / sharedPerPieceGrams ** 2 + compensatedSum(terms.map(({ precision }) => precision)),
    weighted: compensatedSum(terms.map(({ weighted }) => weighted)),
  };
}

function robustWeights(
  containers: readonly SiblingContainer[],
  sharedPerPieceGrams: number,
  odd: { readonly probability: number; readonly spreadGrams: number },
): number[] {
  const perPiece = containers.map((container) => container.deviationGrams / container.pieces);
  let centre = medianOf(perPiece);
  let weights: number[] = [];
  for (let step = 0; step < robustSteps; step += 1) {
    weights = containers.map((container) => {
      const residual = container.deviationGrams - container.pieces * centre;
      const own = container.standardUncertaintyGrams;
      const wide = Math.hypot(own, odd.spreadGrams);
      const logOdds =
        Math.log(odd.probability) -
        Math.log1p(-odd.probability) +
        normalLogDensity(residual, 0, wide) -
        normalLogDensity(residual, 0, own);
      return 1 / (1 + Math.exp(logOdds));
    });
    const sums = sharedSums(containers, weights, sharedPerPieceGrams);
    centre = sums.weighted / sums.precision;
  }
  return weights;
}
