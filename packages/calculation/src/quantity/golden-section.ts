const golden = (Math.sqrt(5) - 1) / 2;

/**
 * Place at which a function with one hollow between two ends is least, by golden sections.
 *
 * @param loss function to be made least; called once for each section and twice before
 * @param from lower end
 * @param to upper end
 * @param sections how often the interval is cut to 0.618 of its width
 * @returns the middle of the last interval
 * Validity: near a smooth hollow the place is found to half the digits of a double only.
 * Source: J. Kiefer (1953), Proceedings of the American Mathematical Society 4, 502-506
 * @example goldenMinimum((x) => (x - 3) ** 2, 0, 10, 30) // 3.000
 */
export function goldenMinimum(
  loss: (x: number) => number,
  from: number,
  to: number,
  sections: number,
): number {
  let [lower, upper] = [from, to];
  let left = upper - golden * (upper - lower);
  let right = lower + golden * (upper - lower);
  let [atLeft, atRight] = [loss(left), loss(right)];
  for (let section = 0; section < sections; section += 1) {
    if (atLeft < atRight) {
      [upper, right, atRight] = [right, left, atLeft];
      left = upper - golden * (upper - lower);
      atLeft = loss(left);
    } else {
      [lower, left, atLeft] = [left, right, atRight];
      right = lower + golden * (upper - lower);
      atRight = loss(right);
    }
  }
  return (lower + upper) / 2;
}
