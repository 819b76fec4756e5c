/** Halvings after which an interval of doubles cannot be cut any further in practice. */
const mostHalvings = 200;

/**
 * Place between two numbers at which a condition stops to hold, by halving.
 *
 * @param holds condition, true at the near end and, from one place on, false up to the far end
 * @param near end at which the condition holds; may be above or below the far end
 * @param far end at which it does not hold
 * @param relativeWidth halving ends when the interval is this small against the far end; 0 goes on
 * to the last digit
 * @returns the place; which of the ends holds is not looked at
 * Validity: to the last digit of a double, or to the relative width. Source: common practice
 * @example turningPoint((x) => x * x < 2, 0, 2) // 1.41421356237309
 */
export function turningPoint(
  holds: (x: number) => boolean,
  near: number,
  far: number,
  relativeWidth = 0,
): number {
  let [inner, outer] = [near, far];
  for (let step = 0; step < mostHalvings; step += 1) {
    if (Math.abs(outer - inner) <= relativeWidth * Math.abs(outer)) break;
    const middle = (inner + outer) / 2;
    if (middle === inner || middle === outer) break;
    if (holds(middle)) inner = middle;
    else outer = middle;
  }
  return (inner + outer) / 2;
}

/**
 * Least whole number for which a condition holds that, once true, stays true, by halving.
 *
 * @param holds condition; called only between the two ends
 * @param failing whole number at which it does not hold, or the one below the first to look at
 * @param holding whole number above, at which it holds
 * @returns the least whole number above `failing` at which it holds
 * Validity: exact. Source: common practice
 * @example firstWhole((n) => n * n >= 50, 0, 50) // 8
 */
export function firstWhole(
  holds: (value: number) => boolean,
  failing: number,
  holding: number,
): number {
  let [below, least] = [failing, holding];
  while (least - below > 1) {
    const middle = Math.floor((below + least) / 2);
    if (holds(middle)) least = middle;
    else below = middle;
  }
  return least;
}
