import type { Chart } from '../catalogue/calculation.ts';
import type { DriftTube } from './drift-evidence.ts';
import type { Cause, MeanMassDriftOutput } from './mean-mass-drift-schema.ts';

const causeNames: Record<Cause, string> = {
  steady: 'steady',
  'mean-step': 'mean step',
  'mean-drift': 'mean drift',
  'wrong-counts': 'wrong counts',
  'count-shift': 'count shift',
  'bad-weighings': 'bad weighing',
};

/** Residuals tube by tube, and the probability of each cause. */
export function drawMeanMassDrift(
  tubes: readonly DriftTube[],
  pieceGrams: number,
  output: MeanMassDriftOutput,
): Chart[] {
  const x = output.tubes.map((_, index) => index + 1);
  return [
    {
      kind: 'chart',
      title: 'Net reading less expected mass',
      xTitle: 'Tube in the order filled',
      yTitle: 'Residual, g',
      series: [
        {
          label: 'tubes, 2 u',
          kind: 'points',
          x,
          y: tubes.map((tube) => tube.residual),
          lower: tubes.map((tube) => tube.residual - 2 * Math.sqrt(tube.variance)),
          upper: tubes.map((tube) => tube.residual + 2 * Math.sqrt(tube.variance)),
        },
      ],
      levels: [
        { y: 0, label: 'as booked' },
        ...(tubes.some((tube) => Math.abs(tube.residual) > pieceGrams / 4)
          ? [
              { y: pieceGrams, label: 'one more' },
              { y: -pieceGrams, label: 'one less' },
            ]
          : []),
      ],
    },
    {
      kind: 'chart',
      title: 'What happened',
      xTitle: 'Cause',
      yTitle: 'Probability',
      series: [
        {
          label: 'probability',
          kind: 'bars',
          x: output.probabilities.map((_, index) => index),
          y: output.probabilities.map(({ probability }) => probability),
        },
      ],
      xNames: output.probabilities.map(({ cause }, index) => ({
        x: index,
        name: causeNames[cause],
      })),
    },
  ];
}
