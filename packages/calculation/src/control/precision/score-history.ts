import { type Chart, defineCalculation } from '../../catalogue/calculation.ts';
import { chiSquareTails } from '../../quantity/chi-square.ts';
import { probabilityText } from '../../quantity/probability-text.ts';
import { compensatedSum } from '../../quantity/sum.ts';
import { inWords, listInWords } from './precision-fields.ts';
import {
  type ScoreHistoryInput,
  type ScoreHistoryOutput,
  scoreHistoryInput,
  scoreHistoryOutput,
} from './score-history-schema.ts';

export {
  type ScoreHistoryInput,
  type ScoreHistoryOutput,
  scoreHistoryInput,
  scoreHistoryOutput,
} from './score-history-schema.ts';

type Signal = ScoreHistoryOutput['signals'][number];

const warning = 2;
const action = 3;
const runLength = 6;

/** Signals at each round, the latest round of each pattern named. */
function signalsOf(input: ScoreHistoryInput): Signal[] {
  const scores = input.rounds.map((round) => round.z);
  return input.rounds.flatMap(({ name, z }, index) => {
    const lastThree = scores.slice(Math.max(0, index - 2), index + 1);
    const lastSix = index + 1 >= runLength ? scores.slice(index + 1 - runLength, index + 1) : [];
    const beyond = lastThree.filter((score) => Math.abs(score) > warning).length;
    const found: Signal['signal'][] = [];
    if (Math.abs(z) >= action) found.push('beyond-action');
    if (beyond >= 2 && Math.abs(z) > warning) found.push('two-of-three-beyond-warning');
    if (
      lastSix.length > 0 &&
      (lastSix.every((score) => score > 0) || lastSix.every((score) => score < 0))
    ) {
      found.push('six-on-one-side');
    }
    return found.map((signal) => ({ round: name, signal }));
  });
}

const signalWords: Readonly<Record<Signal['signal'], string>> = {
  'beyond-action': 'a score of 3 or more',
  'two-of-three-beyond-warning': 'two of three scores beyond 2',
  'six-on-one-side': 'six scores in a row on one side',
};

function historyWords(input: ScoreHistoryInput, output: Omit<ScoreHistoryOutput, 'words'>): string {
  const lines = [
    `${input.participant}, ${input.characteristic}: mean score ${inWords(output.meanScore)} over ${output.roundCount} rounds.`,
  ];
  if (Math.abs(output.rescaledSum) > warning) {
    lines.push('On average the results lie to one side: look for a bias.');
  }
  if (output.sumOfSquaresProbability < 0.05) {
    lines.push(
      `The scores are larger than they should be (probability ${probabilityText(output.sumOfSquaresProbability)}).`,
    );
  }
  for (const signal of Object.keys(signalWords) as Signal['signal'][]) {
    const rounds = output.signals.filter((one) => one.signal === signal).map((one) => one.round);
    if (rounds.length > 0) lines.push(`Signal in ${listInWords(rounds)}: ${signalWords[signal]}.`);
  }
  return output.signals.length === 0 ? `${lines.join(' ')} No signal.` : lines.join(' ');
}

/**
 * Scores of one laboratory over many rounds, read as a control chart.
 *
 * Formula: rescaled sum Σz/√n, a z score of its own; Σz² with n degrees of freedom of χ². Signals: |z| of 3 or
 * more; two of three successive scores beyond 2; six in a row on one side.
 *
 * @param input z scores in the order of time
 * @returns mean, sums, their probability, counts and signals, nothing rounded
 * Validity: scores independent between rounds, reckoned by the same rule.
 * See reference/score-histories.
 * Source: ISO 13528:2005, 9.2 (charts of scores); Analytical Methods Committee (1992), Analyst 117, 97-104, for the sums
 * @example scoreHistory(scoreHistoryCalculation.example).rescaledSum // 2.0
 */
export function scoreHistory(input: ScoreHistoryInput): ScoreHistoryOutput {
  const scores = input.rounds.map((round) => round.z);
  const count = scores.length;
  const mean = compensatedSum(scores) / count;
  const squares = compensatedSum(scores.map((score) => score * score));
  const spread = compensatedSum(scores.map((score) => (score - mean) ** 2));
  const output = {
    roundCount: count,
    meanScore: mean,
    standardDeviation: count < 2 ? null : Math.sqrt(spread / (count - 1)),
    rescaledSum: compensatedSum(scores) / Math.sqrt(count),
    sumOfSquares: squares,
    sumOfSquaresProbability: squares > 0 ? chiSquareTails(squares, count).upper : 1,
    warningCount: scores.filter((z) => Math.abs(z) > warning && Math.abs(z) < action).length,
    actionCount: scores.filter((z) => Math.abs(z) >= action).length,
    signals: signalsOf(input),
  };
  return { ...output, words: historyWords(input, output) };
}

function drawHistory(input: ScoreHistoryInput, output: ScoreHistoryOutput): Chart[] {
  const marked = new Set(output.signals.map((signal) => signal.round));
  const points = input.rounds.map((round, index) => ({ ...round, x: index + 1 }));
  const signalled = points.filter((point) => marked.has(point.name));
  return [
    {
      kind: 'chart',
      title: `Scores of ${input.participant}: ${input.characteristic}`,
      xTitle: 'Round',
      yTitle: 'z',
      series: [
        {
          label: 'scores',
          kind: 'line',
          x: points.map((point) => point.x),
          y: points.map((point) => point.z),
        },
        {
          label: 'signals',
          kind: 'points',
          x: signalled.map((point) => point.x),
          y: signalled.map((point) => point.z),
          standsOut: true,
        },
      ],
      levels: [-3, -2, 0, 2, 3].map((y) => ({ y, label: String(y) })),
      xNames: points.map(({ x, name }) => ({ x, name })),
    },
  ];
}

export const scoreHistoryCalculation = defineCalculation<ScoreHistoryInput, ScoreHistoryOutput>({
  id: 'score-history',
  version: 1,
  topic: 'control',
  title: 'Scores over many rounds',
  purpose:
    'Whether the scores of one laboratory over many comparisons show a bias, too much scatter or a change.',
  source: 'ISO 13528:2005, 9.2; Analytical Methods Committee (1992), Analyst 117, 97-104',
  input: scoreHistoryInput,
  output: scoreHistoryOutput,
  // Chosen scores: four rounds, sum 4, so that the rescaled sum is 2.
  example: {
    participant: 'Own laboratory',
    characteristic: 'Fineness of gold',
    rounds: [1.4, 2.2, -1.7, 2.1].map((z, index) => ({ name: `Round ${index + 1}`, z })),
  },
  compute: scoreHistory,
  draw: drawHistory,
});
