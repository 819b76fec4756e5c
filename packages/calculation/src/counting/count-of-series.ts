import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { probabilityText } from '../quantity/probability-text.ts';
import {
  type CountOfSeriesInput,
  type CountOfSeriesOutput,
  countOfSeriesInput,
  countOfSeriesOutput,
} from './count-of-series-schema.ts';
import { misclassificationProbability } from './net-mass-uncertainty.ts';
import type { TubeProbabilities } from './series-grid.ts';
import { type SeriesModel, sharedVariance, tubeEvidence } from './series-model.ts';
import { type SeriesPosterior, seriesPosterior } from './series-posterior.ts';

export {
  type CountOfSeriesInput,
  type CountOfSeriesOutput,
  countOfSeriesInput,
  countOfSeriesOutput,
} from './count-of-series-schema.ts';

type TubeResult = CountOfSeriesOutput['tubes'][number];

/** Counts beyond the neighbours are reported from this probability on. */
const leastReported = 1e-6;

function verdictOf(
  tube: CountOfSeriesInput['tubes'][number],
  found: { readonly pieces: readonly number[]; readonly probabilities: TubeProbabilities },
  snapRisk: number,
  acceptedRisk: number,
): TubeResult['verdict'] {
  if (tube.countedPieces !== undefined) {
    return tube.countedPieces === tube.bookedPieces ? 'counted' : 'differs';
  }
  if (snapRisk > acceptedRisk) return 'cannot-prove';
  const { weighed } = found.probabilities;
  const best = weighed.reduce(
    (top, value, index) => (value > (weighed[top] as number) ? index : top),
    0,
  );
  if ((weighed[best] as number) < 1 - acceptedRisk) return 'weigh-again';
  return found.pieces[best] === tube.bookedPieces ? 'proved' : 'differs';
}

function tubeResult(
  input: CountOfSeriesInput,
  series: SeriesPosterior,
  index: number,
  meanPieces: number,
): TubeResult {
  const tube = input.tubes[index] as CountOfSeriesInput['tubes'][number];
  const booked = tube.bookedPieces;
  const pieces = series.pieces[index] as readonly number[];
  const live = series.live[index] as TubeProbabilities;
  const probabilities = series.afterwards[index] as TubeProbabilities;
  const before = series.before[index] as { mean: number; variance: number };
  const evidence = tubeEvidence(tube, input, meanPieces);
  const count = tube.countedPieces ?? booked;
  const u = Math.sqrt(evidence.variance + count ** 2 * before.variance);
  const snapRisk = misclassificationProbability(before.mean, u);
  const at = (from: TubeProbabilities): number => from.counts[pieces.indexOf(booked)] ?? 0;
  return {
    label: tube.label,
    netGrams: evidence.netGrams,
    expectedGrams: count * before.mean,
    standardUncertaintyGrams: u,
    standardizedResidual: (evidence.netGrams - count * before.mean) / u,
    proofIndex: before.mean / u,
    snapRisk,
    probabilityAsBookedLive: at(live),
    probabilityAsBooked: at(probabilities),
    probabilityBadWeighing: probabilities.bad,
    posterior: pieces
      .map((value, place) => ({
        pieces: value,
        probability: probabilities.counts[place] as number,
      }))
      .filter(
        (entry) =>
          Math.abs(entry.pieces - booked) <= 1 ||
          entry.probability >= leastReported ||
          tube.countedPieces !== undefined,
      ),
    verdict: verdictOf(tube, { pieces, probabilities }, snapRisk, input.acceptedRisk),
  };
}

function list(labels: readonly string[]): string {
  const most = 8;
  const shown = labels.slice(0, most).join(', ');
  return labels.length > most ? `${shown} and ${labels.length - most} more` : shown;
}

function describe(output: Omit<CountOfSeriesOutput, 'words'>): string {
  const named = (verdict: TubeResult['verdict']): string[] =>
    output.tubes.filter((tube) => tube.verdict === verdict).map((tube) => tube.label);
  const sentences = [
    `${output.proved} of ${output.tubes.length} tubes proved; every tube as booked with probability ${probabilityText(output.probabilityAllAsBooked)}.`,
  ];
  const steps = [
    ['differs', 'Open and count with a witness'],
    ['weigh-again', 'Set to zero, check the tare and weigh again'],
    ['cannot-prove', 'Count by hand or use a finer scale'],
  ] as const;
  for (const [verdict, step] of steps) {
    const labels = named(verdict);
    if (labels.length > 0) sentences.push(`${step}: ${list(labels)}.`);
  }
  sentences.push(
    `Mean piece mass ${output.meanPieceMassGrams.toPrecision(7)} g, standard uncertainty ${output.meanPieceMassStandardUncertaintyGrams.toPrecision(2)} g.`,
  );
  if (Math.abs(output.meanShiftStandardized) > 3) {
    sentences.push(
      'It lies more than three standard uncertainties from the reference: renew the reference before the next lot.',
    );
  }
  return sentences.join(' ');
}

/**
 * Counts of a whole series of tubes of one lot on one scale, when the mean piece mass is itself uncertain:
 * each tube that passes teaches the mean, and the mean judges each tube, in both directions.
 *
 * Formula: net reading of n pieces n·φ + own errors, φ the mean piece mass that this lot shows on this
 * scale. Before the series φ has the variance uμ² + sb² + (μ·g)² + (ub/n̄)²: reference mean, lot, span of the
 * scale, and stored tare, each one error for all tubes; from tube to tube it drifts. Own errors of a tube:
 * n·sp², tare of the tube (weighed: sr² + d²/12; stored: sT²), and for each reading sr² + d²/12, or the
 * exact interval of the rounded reading where the division is coarse. Counts with prior as in
 * `count-by-weight`, each reading bad with probability ε. Summed over φ forwards and backwards, see
 * `followSeries`, and over the piece standard deviation where it was estimated. Proof index: φ over the
 * standard uncertainty of a net reading foretold from the tubes before. Proved, or different, with
 * probability 1 − risk that includes a good weighing.
 *
 * @param input 1 to 2000 tubes with unique labels, 1 to 4 gross readings each; masses and deviations in
 * grams; probabilities above 0, at most 0.25
 * @returns tube by tube probabilities when weighed and after the whole series, mean piece mass, probability
 * that all are as booked; not rounded
 * @throws DomainError where nothing about the mean piece mass is uncertain, where it is so uncertain that
 * the grid would be too large, where it drifts by more than a tenth of itself from tube to tube, and for
 * several readings on a coarse division
 * Validity: normal errors. Where booked counts differ, the shared tare error that is left over counts as
 * each tube's own. A series cannot prove that all tubes are short by the same share: only the reference,
 * or an opened tube, speaks against that. Calibration simulated in laws/counting-series.
 * Source: Bayes' rule; L. E. Baum et al. (1970), Annals of Mathematical Statistics 41, 164-171, forward and
 * backward recursion; JCGM 100:2008, 5.1.2; G. E. P. Box and G. C. Tiao (1968), Biometrika 55, 119-129
 * @example countOfSeries(countOfSeriesCalculation.example).proved // 4
 */
export function countOfSeries(input: CountOfSeriesInput): CountOfSeriesOutput {
  const meanPieces =
    input.tubes.reduce((sum, tube) => sum + tube.bookedPieces, 0) / input.tubes.length;
  const model: SeriesModel = input;
  const shared = sharedVariance(model, meanPieces);
  requireDomain(shared > 0, {
    field: 'referenceMeanStandardUncertaintyGrams',
    value: input.referenceMeanStandardUncertaintyGrams,
    accepted: 'a standard uncertainty above 0 g of reference mean, lot, gain or stored tare',
  });
  const mostDriftGrams = 0.1 * input.referenceMeanGrams;
  requireDomain(input.driftPerTubeGrams <= mostDriftGrams, {
    field: 'driftPerTubeGrams',
    value: input.driftPerTubeGrams,
    accepted: `a drift from 0 g to a tenth of the reference mean, ${mostDriftGrams} g`,
  });
  const { pieceSpread } = input;
  const series = seriesPosterior(
    input.tubes,
    model,
    pieceSpread.kind === 'estimated' ? pieceSpread.degreesOfFreedom : undefined,
  );
  const tubes = input.tubes.map((_, index) => tubeResult(input, series, index, meanPieces));
  const last = series.after[tubes.length - 1] as { mean: number; variance: number };
  const output = {
    tubes,
    meanPieceMassGrams: last.mean,
    meanPieceMassStandardUncertaintyGrams: Math.sqrt(last.variance),
    meanShiftStandardized: (last.mean - input.referenceMeanGrams) / Math.sqrt(shared),
    pieceStandardDeviationGrams: series.pieceStandardDeviationGrams,
    probabilityAllAsBooked: tubes.some(
      (tube) => tube.verdict === 'differs' && isCounted(input, tube),
    )
      ? 0
      : series.allAsBooked,
    expectedWrongTubes: tubes.reduce((sum, tube) => sum + 1 - tube.probabilityAsBooked, 0),
    proved: tubes.filter((tube) => tube.verdict === 'proved' || tube.verdict === 'counted').length,
  };
  return { ...output, words: describe(output) };
}

function isCounted(input: CountOfSeriesInput, tube: TubeResult): boolean {
  return input.tubes.some(
    ({ label, countedPieces }) => label === tube.label && countedPieces !== undefined,
  );
}

function drawCountOfSeries(input: CountOfSeriesInput, output: CountOfSeriesOutput): Chart[] {
  const x = output.tubes.map((_, index) => index + 1);
  const perPiece = output.tubes.map((tube, index) => {
    const { bookedPieces } = input.tubes[index] as CountOfSeriesInput['tubes'][number];
    return {
      found: tube.netGrams / bookedPieces,
      expected: tube.expectedGrams / bookedPieces,
      half: (3 * tube.standardUncertaintyGrams) / bookedPieces,
      stands: tube.verdict === 'differs' || tube.verdict === 'weigh-again',
    };
  });
  const points = (stands: boolean) =>
    perPiece.flatMap((one, index) =>
      one.stands === stands ? [{ x: index + 1, y: one.found }] : [],
    );
  const odd = points(true);
  const fitting = points(false);
  return [
    {
      kind: 'chart',
      title: 'Net mass over booked count, with what the tubes before foretell',
      xTitle: 'Tube in the order weighed',
      yTitle: 'Mass per booked piece, g',
      series: [
        {
          label: 'foretold, 3 u',
          kind: 'line',
          x,
          y: perPiece.map((one) => one.expected),
          lower: perPiece.map((one) => one.expected - one.half),
          upper: perPiece.map((one) => one.expected + one.half),
        },
        {
          label: 'weighed',
          kind: 'points',
          x: fitting.map((point) => point.x),
          y: fitting.map((point) => point.y),
        },
        {
          label: 'doubtful',
          kind: 'points',
          x: odd.map((point) => point.x),
          y: odd.map((point) => point.y),
          standsOut: true,
        },
      ],
      levels: [{ y: input.referenceMeanGrams, label: 'reference' }],
    },
    {
      kind: 'chart',
      title: 'Probability that the count is as booked',
      xTitle: 'Tube in the order weighed',
      yTitle: 'Probability',
      series: [
        {
          label: 'when weighed',
          kind: 'points',
          x,
          y: output.tubes.map((tube) => tube.probabilityAsBookedLive),
        },
        {
          label: 'afterwards',
          kind: 'bars',
          x,
          y: output.tubes.map((tube) => tube.probabilityAsBooked),
        },
      ],
      levels: [{ y: 1 - input.acceptedRisk, label: 'proved' }],
    },
  ];
}

export const countOfSeriesCalculation = defineCalculation({
  id: 'count-of-series',
  version: 1,
  topic: 'counting',
  title: 'Counts of a series of tubes',
  purpose:
    'Whether each tube of a lot holds its booked count when the mean piece mass is itself uncertain and is learned from the tubes as they pass; with the probability that all are right.',
  source:
    "Bayes' rule; L. E. Baum et al. (1970), Annals of Mathematical Statistics 41, forward and backward recursion; JCGM 100:2008, 5.1.2; G. E. P. Box and G. C. Tiao (1968), Biometrika 55, wrong weighings",
  input: countOfSeriesInput,
  output: countOfSeriesOutput,
  // Five tubes of an invented silver piece whose lot is a little heavier than the reference; one is short.
  example: {
    tubes: [
      { label: 'T-1', bookedPieces: 20, grossReadingsGrams: [640.6] },
      { label: 'T-2', bookedPieces: 20, grossReadingsGrams: [640.3] },
      { label: 'T-3', bookedPieces: 20, grossReadingsGrams: [640.8], tareReadingGrams: 18.2 },
      { label: 'T-4', bookedPieces: 20, grossReadingsGrams: [609.4, 609.5] },
      { label: 'T-5', bookedPieces: 20, grossReadingsGrams: [640.4] },
    ],
    referenceMeanGrams: 31.1,
    referenceMeanStandardUncertaintyGrams: 0.007,
    lotStandardDeviationGrams: 0.02,
    gainRelative: 0.0001,
    pieceStandardDeviationGrams: 0.05,
    pieceSpread: { kind: 'known' },
    driftPerTubeGrams: 0.001,
    storedTareGrams: 18,
    tareStandardDeviationGrams: 0.15,
    tareMeanStandardUncertaintyGrams: 0.02,
    repeatabilityGrams: 0.05,
    divisionGrams: 0.1,
    priorMiscountProbability: 0.0002,
    badWeighingProbability: 0.001,
    badWeighingSpreadGrams: 20,
    acceptedRisk: 0.001,
  },
  compute: countOfSeries,
  draw: drawCountOfSeries,
});
