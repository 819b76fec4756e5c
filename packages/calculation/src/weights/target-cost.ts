import { turningPoint } from '../quantity/halving.ts';
import { normalDensity, normalDistribution } from '../quantity/normal.ts';

/** What a piece outside the limits costs, and what metal costs; money and grams. */
export type TargetCosts =
  | {
      readonly kind: 'fixed-costs';
      readonly costOfLightPiece: number;
      readonly costOfHeavyPiece: number;
    }
  | {
      readonly kind: 'sold-apart';
      readonly costOfLightPiece: number;
      readonly metalPricePerGram: number;
    }
  | {
      readonly kind: 'remelted';
      readonly makingCost: number;
      readonly remeltCost: number;
      readonly metalPricePerGram: number;
      /** Share of the metal that a remelt loses. */
      readonly metalLossShare: number;
    };

/** Process and limits in grams; the upper limit is infinite where there is none. */
export interface TargetProcess {
  readonly standardDeviation: number;
  readonly lower: number;
  readonly upper: number;
}

/** Cost at a target and its derivative. */
export interface TargetCost {
  readonly cost: number;
  /** Money per gram. */
  readonly slope: number;
}

/**
 * Expected cost for a target mean, with its derivative.
 *
 * Formula: with z for the distance of a limit from the target in standard deviations σ,
 * fixed costs A·Φ(zL) + B·Φ(−zU); light pieces sold apart at a loss of A, metal above the limit given away
 * at price p: A·Φ(zL) + p·E[(x − L)⁺]; pieces outside remelted, cost per good piece
 * (k + r·(1 − P) + p·(E[x; inside] + λ·E[x; outside]))/P, with k making, r remelting, λ metal loss.
 *
 * @param target mean mass in grams
 * @param process standard deviation above 0, lower and upper limit in grams
 * @param costs money per piece and per gram, 0 or more
 * @returns expected cost and its derivative by the target
 * Validity: normal masses; exact formulas. Derivatives held against differences in laws/weights-money.
 * Source: C. H. Springer (1951); W. G. Hunter and C. P. Kartha (1977); D. C. Bettes (1962)
 * @example targetCost(2, { standardDeviation: 1, lower: 0, upper: 4 }, { kind: 'fixed-costs',
 *   costOfLightPiece: 1, costOfHeavyPiece: 1 }).slope // 0
 */
export function targetCost(target: number, process: TargetProcess, costs: TargetCosts): TargetCost {
  const { standardDeviation: sigma, lower, upper } = process;
  const zLower = (lower - target) / sigma;
  const zUpper = (upper - target) / sigma;
  const lowDensity = normalDensity(zLower, 0, 1);
  const highDensity = Number.isFinite(zUpper) ? normalDensity(zUpper, 0, 1) : 0;
  const light = normalDistribution(zLower, 0, 1);
  const heavy = Number.isFinite(zUpper) ? normalDistribution(-zUpper, 0, 1) : 0;
  if (costs.kind === 'fixed-costs') {
    const { costOfLightPiece: a, costOfHeavyPiece: b } = costs;
    return {
      cost: a * light + b * heavy,
      slope: (b * highDensity - a * lowDensity) / sigma,
    };
  }
  if (costs.kind === 'sold-apart') {
    const { costOfLightPiece: a, metalPricePerGram: p } = costs;
    const good = normalDistribution(-zLower, 0, 1);
    return {
      cost: a * light + p * sigma * (lowDensity - zLower * good),
      slope: p * good - (a * lowDensity) / sigma,
    };
  }
  return remeltedCost(target, process, costs, { light, heavy, lowDensity, highDensity });
}

function remeltedCost(
  target: number,
  process: TargetProcess,
  costs: TargetCosts & { kind: 'remelted' },
  normal: { light: number; heavy: number; lowDensity: number; highDensity: number },
): TargetCost {
  const { standardDeviation: sigma, lower, upper } = process;
  const { lowDensity, highDensity } = normal;
  const price = costs.metalPricePerGram;
  const loss = costs.metalLossShare;
  const outside = normal.light + normal.heavy;
  const inside = 1 - outside;
  const zLower = (lower - target) / sigma;
  const zUpper = Number.isFinite(upper) ? (upper - target) / sigma : 0;
  const insideSlope = (lowDensity - highDensity) / sigma;
  const insideMass = target * inside + sigma * (lowDensity - highDensity);
  const massSlope = inside + target * insideSlope + zLower * lowDensity - zUpper * highDensity;
  const spent =
    costs.makingCost +
    costs.remeltCost * outside +
    price * (insideMass + loss * (target - insideMass));
  const spentSlope = -costs.remeltCost * insideSlope + price * ((1 - loss) * massSlope + loss);
  return {
    cost: spent / inside,
    slope: (spentSlope * inside - spent * insideSlope) / inside ** 2,
  };
}

const looks = 240;

/**
 * Target of least expected cost.
 *
 * Formula: the lowest of 240 looks across the range, then the root of the derivative about it by
 * halving.
 *
 * @param process standard deviation above 0, limits in grams
 * @param costs money per piece and per gram
 * @returns target in grams, or null where the cost only falls or only rises across the range from 4
 * standard deviations below the lower limit to 10 above it or up to the upper limit
 * Validity: to the last figures; held against golden section and simulation in laws/weights-money.
 * Source: as `targetCost`
 * @example bestTarget({ standardDeviation: 1, lower: 0, upper: 4 }, { kind: 'fixed-costs',
 *   costOfLightPiece: 1, costOfHeavyPiece: 1 }) // 2
 */
export function bestTarget(process: TargetProcess, costs: TargetCosts): number | null {
  const { standardDeviation: sigma, lower, upper } = process;
  const from = lower - 4 * sigma;
  const to = Number.isFinite(upper) ? upper + 4 * sigma : lower + 10 * sigma;
  const at = (look: number): number => from + ((to - from) * look) / looks;
  const cost = (look: number): number => targetCost(at(look), process, costs).cost;
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let look = 0; look <= looks; look += 1) {
    const found = cost(look);
    if (found < least) {
      least = found;
      best = look;
    }
  }
  if (best === 0 || best === looks) return null;
  const falls = (target: number): boolean => targetCost(target, process, costs).slope < 0;
  return turningPoint(falls, at(best - 1), at(best + 1), 1e-15);
}

/**
 * Upper limit of least expected cost when pieces outside are remelted, with the best target for it.
 *
 * Formula: a piece is better remelted than sold from p·(1 − λ)·U = C + r on, C the cost per good piece;
 * target and limit are found in turn until neither moves.
 *
 * @param process standard deviation above 0 and lower limit in grams; the upper limit is not used
 * @param costs of the remelted kind, with a price above 0
 * @returns target and upper limit in grams, or null where there is no best target
 * Validity: each turn lowers the cost. Held against other limits in laws/weights-money.
 * Source: D. C. Bettes (1962), Applied Statistics 11, 202-210; D. Y. Golhar and S. M. Pollock (1988),
 * Journal of Quality Technology 20, 188-192
 * @example bestUpperLimit({ standardDeviation: 1, lower: 0, upper: Infinity }, { kind: 'fixed-costs',
 *   costOfLightPiece: 1, costOfHeavyPiece: 1 }) // null
 */
export function bestUpperLimit(
  process: TargetProcess,
  costs: TargetCosts,
): { readonly target: number; readonly upper: number } | null {
  if (costs.kind !== 'remelted' || costs.metalPricePerGram === 0) return null;
  let upper = Number.POSITIVE_INFINITY;
  for (let turn = 0; turn < 200; turn += 1) {
    const target = bestTarget({ ...process, upper }, costs);
    if (target === null) return null;
    const { cost } = targetCost(target, { ...process, upper }, costs);
    const next = (cost + costs.remeltCost) / (costs.metalPricePerGram * (1 - costs.metalLossShare));
    if (Math.abs(next - upper) <= 1e-13 * next) return { target, upper: next };
    upper = next;
  }
  return null;
}
