/** Where everything of a printed limit rule stands, as fractions of its length. */
export interface LimitRuleLayout {
  readonly dot: number;
  readonly barFrom: number;
  readonly barTo: number;
  readonly limit: number;
  readonly guardFrom: number;
  readonly guardTo: number;
  /** Ticks of the scale with their printed numbers. */
  readonly ticks: readonly { readonly at: number; readonly label: string }[];
}

/** Steps of a scale that people read easily: 1, 2 or 5 times a power of ten. */
function stepFor(length: number, most: number): number {
  const power = 10 ** Math.floor(Math.log10(length / most));
  const factor = [1, 2, 5, 10].find((one) => length / (power * one) <= most) ?? 10;
  return power * factor;
}

/**
 * Lays out a limit rule over a common range, so that the rules of several melts can be compared by
 * eye: value, uncertainty, limit and guard band are all in sight.
 */
export function limitRuleLayout(options: {
  readonly value: number;
  readonly expandedUncertainty: number;
  readonly limit: number;
  readonly guardBand: number;
  readonly range: { readonly least: number; readonly greatest: number };
}): LimitRuleLayout {
  const { value, expandedUncertainty, limit, guardBand, range } = options;
  const length = range.greatest - range.least;
  const at = (position: number) => Math.min(1, Math.max(0, (position - range.least) / length));
  const step = stepFor(length, 6);
  const decimals = Math.max(0, -Math.floor(Math.log10(step)));
  const first = Math.ceil(range.least / step - 1e-9);
  const last = Math.floor(range.greatest / step + 1e-9);
  return {
    dot: at(value),
    barFrom: at(value - expandedUncertainty),
    barTo: at(value + expandedUncertainty),
    limit: at(limit),
    guardFrom: at(limit),
    guardTo: at(limit + guardBand),
    ticks: Array.from({ length: last - first + 1 }, (_, index) => {
      const position = (first + index) * step;
      return { at: at(position), label: position.toFixed(decimals) };
    }),
  };
}

/** A range in which all the values, uncertainties, limits and guard bands stand, with a margin. */
export function commonRange(
  rules: readonly {
    readonly value: number;
    readonly expandedUncertainty: number;
    readonly limit: number;
    readonly guardBand: number;
  }[],
): { readonly least: number; readonly greatest: number } {
  const points = rules.flatMap(({ value, expandedUncertainty, limit, guardBand }) => [
    value - expandedUncertainty,
    value + expandedUncertainty,
    limit - guardBand,
    limit + guardBand,
  ]);
  const least = Math.min(...points);
  const greatest = Math.max(...points);
  const margin = (greatest - least || 1) * 0.08;
  return { least: least - margin, greatest: greatest + margin };
}
