import { describe, expect, it } from 'vitest';
import { fitByDistance } from '../../../src/assay/distance-regression.ts';
import { powersOfX } from '../../../src/assay/polynomial-fit.ts';
import { smoothingSpline } from '../../../src/assay/smoothing-spline.ts';
import values from './values.json' with { type: 'json' };

const greatest = (list: readonly number[]) => Math.max(...list.map(Math.abs));

describe('curves as scipy fits them', () => {
  it.each(values.splines.map((one) => [one.x.length, one.smoothing, one] as const))(
    'smoothing spline of %d points with smoothing %d',
    (_, smoothing, one) => {
      const spline = smoothingSpline(one.x, one.y, smoothing);
      one.values.forEach((value, i) => {
        const away = Math.abs((spline.values[i] ?? 0) - value);
        expect(away / greatest(one.values)).toBeLessThan(1e-8);
      });
      // The ends of a natural spline are straight.
      one.bends.slice(1, -1).forEach((bend, i) => {
        const away = Math.abs((spline.bends[i + 1] ?? 0) - bend);
        expect(away / greatest(one.bends)).toBeLessThan(1e-8);
      });
    },
  );

  it.each(values.fits.map((one) => [one.x.length, one] as const))(
    'parabola through %d points with uncertainty in both variables',
    (_, one) => {
      const found = fitByDistance(
        { x: one.x, y: one.y, xUncertainty: one.ux, yUncertainty: one.uy },
        2,
      );
      powersOfX(found.fit).coefficients.forEach((value, k) => {
        expect(Math.abs(value / (one.coefficients[k] ?? 0) - 1)).toBeLessThan(1e-7);
      });
      expect(found.chiSquare / one.chiSquare).toBeCloseTo(1, 9);
    },
  );
});
