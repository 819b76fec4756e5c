import { scaleLinear } from 'd3-scale';

/** What a limit rule shows: a value with its uncertainty beside one or two limits. */
export interface LimitRuleFigures {
  readonly value: number;
  readonly expandedUncertainty?: number | undefined;
  readonly lowerLimit?: number | undefined;
  readonly upperLimit?: number | undefined;
  /** Width of the guard band on the inner side of each limit. */
  readonly guardBand?: number | undefined;
  /** Both ends of the scale, so that rules below each other can be compared; else chosen to fit. */
  readonly range?: readonly [least: number, greatest: number] | undefined;
}

/** A stretch of the scale, as fractions of its length. */
interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** Where everything stands, as fractions of the length from 0 to 1. */
export interface LimitRuleShape {
  readonly dot: number;
  readonly bar: Stretch | undefined;
  readonly limits: readonly {
    readonly at: number;
    readonly value: number;
    readonly side: 'lower' | 'upper';
  }[];
  readonly guards: readonly Stretch[];
  /** Whether the value lies outside of a limit, and by more than the guard band. */
  readonly isOutside: boolean;
  /** Whether the value lies nearer to a limit than the guard band, on either side of it. */
  readonly isInGuard: boolean;
}

/** Lays out a limit rule so that value, bar, limits and guard bands are all in sight. */
export function limitRuleShape(figures: LimitRuleFigures): LimitRuleShape {
  const { value, expandedUncertainty = 0, lowerLimit, upperLimit, guardBand = 0 } = figures;
  const known = [value - expandedUncertainty, value + expandedUncertainty];
  if (lowerLimit !== undefined)
    known.push(lowerLimit, lowerLimit + guardBand, lowerLimit - guardBand);
  if (upperLimit !== undefined)
    known.push(upperLimit, upperLimit - guardBand, upperLimit + guardBand);
  const [least, greatest] = [Math.min(...known), Math.max(...known)];
  const margin = (greatest - least || Math.abs(value) || 1) * 0.12;
  const scale = scaleLinear(figures.range ?? [least - margin, greatest + margin], [0, 1]).clamp(
    true,
  );
  const limits = [
    { value: lowerLimit, side: 'lower' as const },
    { value: upperLimit, side: 'upper' as const },
  ].flatMap(({ value: limit, side }) =>
    limit === undefined ? [] : [{ at: scale(limit), value: limit, side }],
  );
  const guards =
    guardBand > 0
      ? limits.map(({ value: limit, side }) => {
          const inner = side === 'lower' ? limit + guardBand : limit - guardBand;
          return { from: scale(Math.min(limit, inner)), to: scale(Math.max(limit, inner)) };
        })
      : [];
  const isOutside =
    (lowerLimit !== undefined && value < lowerLimit - guardBand) ||
    (upperLimit !== undefined && value > upperLimit + guardBand);
  const isNear = (limit: number | undefined) =>
    limit !== undefined && guardBand > 0 && Math.abs(value - limit) < guardBand;
  const dot = scale(value);
  return {
    dot,
    bar:
      expandedUncertainty > 0
        ? { from: scale(value - expandedUncertainty), to: scale(value + expandedUncertainty) }
        : undefined,
    limits,
    guards,
    isOutside,
    isInGuard: !isOutside && (isNear(lowerLimit) || isNear(upperLimit)),
  };
}
