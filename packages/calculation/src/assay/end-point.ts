import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { coverageFactor } from '../uncertainty/coverage.ts';
import {
  type EndPointInput,
  type EndPointOutput,
  endPointInput,
  endPointOutput,
} from './end-point-schema.ts';
import { granEndPoint, nernstMillivolts } from './gran.ts';
import { secondDerivativeEndPoint, splineEndPoint } from './inflection.ts';
import { precipitationEndPoint } from './precipitation-curve.ts';
import { type EndPointEstimate, stepSlopes, type TitrationCurve } from './titration-curve.ts';

export {
  type EndPointInput,
  type EndPointOutput,
  endPointInput,
  endPointOutput,
} from './end-point-schema.ts';

function curveOf(input: EndPointInput): TitrationCurve {
  return {
    volumes: input.curve.map((point) => point.volumeMillilitres),
    potentials: input.curve.map((point) => point.potentialMillivolts),
  };
}

function estimate(input: EndPointInput): EndPointEstimate {
  const { method, potentialStandardUncertaintyMillivolts: stated } = input;
  const curve = curveOf(input);
  switch (method.kind) {
    case 'second derivative':
      requireDomain(method.windowPoints <= curve.volumes.length, {
        field: 'method.windowPoints',
        value: method.windowPoints,
        accepted: `at most the ${curve.volumes.length} points of the curve`,
      });
      return secondDerivativeEndPoint(curve, method.windowPoints, stated);
    case 'smoothing spline':
      return splineEndPoint(curve, stated);
    case 'precipitation curve': {
      const { electrode } = method;
      const slope =
        electrode.kind === 'fitted'
          ? null
          : electrode.slopeShare * nernstMillivolts(electrode.temperatureDegreesCelsius);
      return precipitationEndPoint(curve, method.startVolumeMillilitres, slope, stated);
    }
    case 'Gran': {
      const size = method.slopeShare * nernstMillivolts(method.temperatureDegreesCelsius);
      const settings = {
        startVolume: method.startVolumeMillilitres,
        side: method.side,
        weighting: method.weighting,
        slopeMillivolts: method.potential === 'rises' ? size : -size,
      };
      return granEndPoint(curve, settings, stated);
    }
  }
}

function endPointWords(input: EndPointInput, output: Omit<EndPointOutput, 'words'>): string {
  const print = (value: number) => roundNumberText(value, 4, 'half-even');
  const { parts } = output;
  const coarse =
    parts.stepsMillilitres > 2 * parts.scatterMillilitres
      ? ' The steps about the end point are coarse: smaller ones would serve better than quieter potentials.'
      : '';
  return `End point at ${print(output.endPointMillilitres)} mL by ${input.method.kind}, from ${print(output.lowerMillilitres)} to ${print(output.upperMillilitres)} mL at ${input.confidencePercent} %.${coarse}`;
}

/**
 * End point of a potentiometric titration from volumes and potentials, steps even or not, with
 * uncertainty; it is the volume that a silver result is computed from.
 *
 * Formula: 'second derivative', zero of the second derivative of the cubic through the points about
 * the steepest step (through 4 points: of the second divided differences). 'smoothing spline',
 * steepest inflection of the natural cubic spline with the least generalised cross-validation
 * score. 'precipitation curve', the equation of Nernst with the solubility product fitted to all
 * points. 'Gran', zero of the line through (V₀ + V)·exp(E/slope). Uncertainty: scatter of the
 * potentials carried to the end point by first order, joined with a part for coarse steps where an
 * inflection was sought, and with the burette.
 *
 * @param input at least 8 points with rising volumes in mL, potentials in mV; see the method's fields
 * @returns end point and standard uncertainty in mL with parts and limits; nothing rounded but words
 * @throws DomainError when the curve has no end point: flat, straight, scatter alone, steepest at
 *   its end, or Gran values that do not go to zero on the stated side
 * Validity: an inflection stands for the end point of a 1 : 1 precipitation within 1e-6 of the
 * volume, and of a strong acid; for the Gran line side reactions are left out. Coverage of the
 * limits over simulated curves in laws/titration.test.ts; agreement in reference/titration-curves.
 * Source: C. H. Reinsch (1967), Numerische Mathematik 10, 177; P. Craven and G. Wahba (1979),
 * Numerische Mathematik 31, 377; G. Gran (1952), Analyst 77, 661; equation of Nernst with the
 * solubility product: common knowledge
 * @example endPoint({ curve: [1, 2, 3, 4, 5, 6, 7, 8].map((volumeMillilitres) => ({ volumeMillilitres,
 *   potentialMillivolts: 40 * Math.atan(4 * (volumeMillilitres - 4.5)) })), confidencePercent: 95,
 *   method: { kind: 'second derivative', windowPoints: 4 }, volumeStandardUncertaintyMillilitres: 0,
 *   potentialStandardUncertaintyMillivolts: 0.2 }).endPointMillilitres // 4.5
 */
export function endPoint(input: EndPointInput): EndPointOutput {
  const found = estimate(input);
  const burette = input.volumeStandardUncertaintyMillilitres;
  const factor = coverageFactor(input.confidencePercent / 100, found.degreesOfFreedom);
  const [low, high] = found.scatterLimits(1);
  const scatter = (high - low) / 2;
  const [lower, upper] = found.scatterLimits(factor);
  const rest = factor * Math.hypot(found.stepUncertainty, burette);
  const output = {
    endPointMillilitres: found.volume,
    standardUncertaintyMillilitres: Math.hypot(scatter, found.stepUncertainty, burette),
    lowerMillilitres: found.volume - Math.hypot(found.volume - lower, rest),
    upperMillilitres: found.volume + Math.hypot(upper - found.volume, rest),
    parts: {
      scatterMillilitres: scatter,
      stepsMillilitres: found.stepUncertainty,
      volumeMillilitres: burette,
    },
    slopeMillivoltsPerMillilitre: found.slope,
    potentialDeviationMillivolts: found.potentialDeviation,
    degreesOfFreedom: found.degreesOfFreedom,
  };
  return { ...output, words: endPointWords(input, output) };
}

function drawEndPoint(input: EndPointInput, output: EndPointOutput): Chart[] {
  const curve = curveOf(input);
  const middles = curve.volumes.slice(1).map((volume, i) => (volume + (curve.volumes[i] ?? 0)) / 2);
  const marks = [{ x: output.endPointMillilitres, label: 'end point' }];
  return [
    {
      kind: 'chart',
      title: 'Titration curve',
      xTitle: 'Titrant, mL',
      yTitle: 'Potential, mV',
      series: [
        { label: 'potential', kind: 'points', x: [...curve.volumes], y: [...curve.potentials] },
      ],
      marks,
    },
    {
      kind: 'chart',
      title: 'Slope of each step',
      xTitle: 'Titrant, mL',
      yTitle: 'Slope, mV/mL',
      series: [{ label: 'slope', kind: 'line', x: middles, y: stepSlopes(curve) }],
      marks,
    },
  ];
}

/** Silver with bromide by the equation of Nernst, rounded: end point 30 mL, 0.1 mol/L, product 5e-13. */
const exampleCurve = [
  [20, 283.9],
  [23, 274.1],
  [26, 259.1],
  [28, 240.9],
  [29, 222.9],
  [29.5, 205.0],
  [29.8, 181.4],
  [29.9, 163.6],
  [29.96, 140.1],
  [30.02, -36.1],
  [30.08, -71.6],
  [30.2, -95.1],
  [30.5, -118.6],
  [31, -136.3],
  [32, -153.9],
  [34, -171.4],
] as const;

export const endPointCalculation = defineCalculation<EndPointInput, EndPointOutput>({
  id: 'end-point',
  version: 1,
  topic: 'assay',
  title: 'End point of a titration',
  purpose:
    'Finds the end point of a potentiometric titration from its curve by second derivative, smoothing spline, the equation of Nernst or a Gran line, with its uncertainty, and refuses a curve that has none.',
  source:
    'C. H. Reinsch (1967), Numerische Mathematik 10, 177; P. Craven and G. Wahba (1979), Numerische Mathematik 31, 377; G. Gran (1952), Analyst 77, 661; ISO 11427:2024 and ISO 13756:2024 (principle)',
  cautions: [
    "Silver solutions for titration stand in nitric acid: fume cupboard, gloves, face protection. The site's rules, local law and licensed practice come first.",
  ],
  input: endPointInput,
  output: endPointOutput,
  example: {
    curve: exampleCurve.map(([volumeMillilitres, potentialMillivolts]) => ({
      volumeMillilitres,
      potentialMillivolts,
    })),
    method: {
      kind: 'precipitation curve',
      startVolumeMillilitres: 100,
      electrode: { kind: 'fitted' },
    },
    volumeStandardUncertaintyMillilitres: 0.003,
    confidencePercent: 95,
  },
  compute: endPoint,
  draw: drawEndPoint,
});
