import { describe, expect, it } from 'vitest';
import { fitTwoNormals } from '../../src/weights/two-normals.ts';
import values from './values.json' with { type: 'json' };

/** A unit in the last printed place: digits may be cut. */
function expectPrinted(found: number, printed: string): void {
  const places = printed.split('.')[1]?.length ?? 0;
  expect(Math.abs(found - Number(printed))).toBeLessThan(10 ** -places);
}

describe('two heaps of eruption times', () => {
  it.each(values.published)('$title', ({ without, share, means, standardDeviations, ...rest }) => {
    const kept = values.durationsMinutes.filter((value) => !(without as number[]).includes(value));
    const fit = fitTwoNormals(kept, false);
    if (!fit) throw new Error('no fit');
    expectPrinted(fit.share, share);
    expectPrinted(fit.means[0], means[0] as string);
    expectPrinted(fit.means[1], means[1] as string);
    expectPrinted(fit.standardDeviations[0], standardDeviations[0] as string);
    expectPrinted(fit.standardDeviations[1], standardDeviations[1] as string);
    expectPrinted(fit.logLikelihood, rest.logLikelihood);
  });
});
