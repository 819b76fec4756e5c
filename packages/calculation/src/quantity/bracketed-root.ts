import { requireDomain } from './domain.ts';

const greatestSteps = 200;

/**
 * Root of a continuous function between two arguments at which it has different signs.
 *
 * Formula: Chandrupatla's choice, at each step, between inverse quadratic interpolation and halving,
 * until the bracket is as narrow as doubles allow.
 *
 * @param ordinate the function; called only inside the bracket
 * @param lower one end of the bracket, finite
 * @param upper other end of the bracket, finite
 * @returns the root, not rounded
 * @throws DomainError when the signs at the two ends are equal or a value is not a number
 * Validity: relative accuracy about 4e-16 of the argument, as far as the function itself is accurate.
 * Source: T. R. Chandrupatla (1997), Advances in Engineering Software 28, 145-149
 * @example bracketedRoot((x) => x * x - 2, 0, 2) // 1.41421356237309
 */
export function bracketedRoot(
  ordinate: (argument: number) => number,
  lower: number,
  upper: number,
): number {
  let near = { x: upper, y: ordinate(upper) };
  let far = { x: lower, y: ordinate(lower) };
  requireDomain(near.y * far.y <= 0 && Number.isFinite(lower) && Number.isFinite(upper), {
    field: 'bracket',
    value: `${far.y} at ${lower}, ${near.y} at ${upper}`,
    accepted: 'two arguments at which the function has different signs',
  });
  let fraction = 0.5;
  for (let step = 0; step < greatestSteps; step += 1) {
    const x = near.x + fraction * (far.x - near.x);
    const next = { x, y: ordinate(x) };
    const left = Math.sign(next.y) === Math.sign(near.y) ? near : far;
    if (left === far) far = near;
    near = next;
    const best = Math.abs(far.y) < Math.abs(near.y) ? far : near;
    const width = Math.abs(far.x - near.x);
    const least = (2 * Number.EPSILON * Math.abs(best.x) + Number.MIN_VALUE) / width;
    if (best.y === 0 || least > 0.5) return best.x;
    fraction = Math.min(1 - least, Math.max(least, nextFraction(near, far, left)));
  }
  return near.x;
}

interface Point {
  readonly x: number;
  readonly y: number;
}

/** Where in the bracket to look next, as a fraction of the way from the near to the far end. */
function nextFraction(near: Point, far: Point, left: Point): number {
  const xi = (near.x - far.x) / (left.x - far.x);
  const phi = (near.y - far.y) / (left.y - far.y);
  // Outside this region the inverse parabola could leave the bracket.
  if (!(phi ** 2 < xi && (1 - phi) ** 2 < 1 - xi)) return 0.5;
  const linear = (near.y / (far.y - near.y)) * (left.y / (far.y - left.y));
  const quadratic =
    (((left.x - near.x) / (far.x - near.x)) * (near.y / (left.y - near.y)) * far.y) /
    (left.y - far.y);
  return linear + quadratic;
}
