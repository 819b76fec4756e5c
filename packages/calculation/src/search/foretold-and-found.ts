import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { normalQuantile } from '../quantity/normal.ts';
import {
  type ForetoldAndFoundInput,
  type ForetoldAndFoundOutput,
  foretoldAndFoundInput,
  foretoldAndFoundOutput,
} from './foretold-and-found-schema.ts';
import { twoSidedProbability } from './poisson-binomial.ts';

type Case = ForetoldAndFoundInput['cases'][number];
type Band = ForetoldAndFoundOutput['bands'][number];

const sumOf = (values: readonly number[]): number => values.reduce((sum, one) => sum + one, 0);

/** Limits of a part by the score test, which hold for few cases too. */
function shareLimits(
  found: number,
  cases: number,
): { readonly lower: number; readonly upper: number } {
  const z2 = normalQuantile(0.975) ** 2;
  const centre = (found + z2 / 2) / (cases + z2);
  const half = Math.sqrt(z2 * ((found * (cases - found)) / cases + z2 / 4)) / (cases + z2);
  return { lower: Math.max(0, centre - half), upper: Math.min(1, centre + half) };
}

function bandOf(ends: readonly [from: number, to: number], cases: readonly Case[]): Band {
  const probabilities = cases.map(({ probability }) => probability);
  const found = cases.filter(({ isFound }) => isFound).length;
  const { lower, upper } = shareLimits(found, cases.length);
  return {
    from: ends[0],
    to: ends[1],
    cases: cases.length,
    foretold: sumOf(probabilities) / cases.length,
    found,
    foundShare: found / cases.length,
    standardError: Math.sqrt(sumOf(probabilities.map((p) => p * (1 - p)))) / cases.length,
    chanceOfThisOrFarther: twoSidedProbability(probabilities, found),
    shareLower: lower,
    shareUpper: upper,
  };
}

/** The last band holds the probability 1 as well. */
function bandsOf({ cases, bandEnds }: ForetoldAndFoundInput): Band[] {
  const bounds = [0, ...bandEnds, 1];
  return bounds.slice(1).flatMap((to, at): Band[] => {
    const from = bounds[at] ?? 0;
    const inside = cases.filter(
      ({ probability }) => probability >= from && (probability < to || to === 1),
    );
    return inside.length === 0 ? [] : [bandOf([from, to], inside)];
  });
}

/** With fewer found than this nothing much can be said. */
const fewFound = 20;

/** What is less probable than this is not put down to chance. */
const doubtful = 0.05;

function inWords(output: Omit<ForetoldAndFoundOutput, 'words'>): string {
  const { cases, found, foretold, chanceOfThisOrFarther } = output;
  const figures = `Of ${cases} things foretold ${foretold.toFixed(1)} were to be found and ${found} were.`;
  const isOff = chanceOfThisOrFarther < doubtful;
  const judged = isOff
    ? 'That is farther off than chance explains well: the probabilities are not to be trusted as they stand.'
    : 'That is what chance allows.';
  const few =
    found < fewFound
      ? ` ${found} found ${found === 1 ? 'is' : 'are'} few: a wrong model would hardly show.`
      : '';
  return `${figures} ${judged}${few}`;
}

/**
 * Whether what was foretold came true as often as it was said: by bands of probability and in all.
 *
 * Formula: in each band the mean of the probabilities p, the part that was found, its standard error
 * √Σp(1 − p)/n under the probabilities foretold, and the exact probability, by convolution of the unequal
 * chances, of a number found at least as far off on its side, doubled. Limits of the part by the score test.
 * Mean square Σ(p − o)²/n, o 1 where found; foretold Σp(1 − p)/n.
 *
 * @param input cases: probability in [0, 1] and whether it was found; ends of the bands rising in (0, 1)
 * @returns bands that hold a case, and all cases together
 * @throws DomainError for ends of bands that do not rise
 * Validity: cases independent of one another. Faults of one search are not quite: when one is the cause the
 * others seldom are, so that the true spread is smaller than the standard error says.
 * Source: G. Brier (1950), Monthly Weather Review 78, 1-3 (mean square); E. Wilson (1927), Journal of the
 * American Statistical Association 22, 209-212 (limits of a part)
 * @example foretoldAndFound({ bandEnds: [0.5], cases: [{ probability: 0.9, isFound: true },
 *   { probability: 0.1, isFound: false }] }).brierScore // 0.01
 */
export function foretoldAndFound(input: ForetoldAndFoundInput): ForetoldAndFoundOutput {
  const { cases, bandEnds } = input;
  requireDomain(
    bandEnds.every((end, at) => at === 0 || end > (bandEnds[at - 1] ?? 0)),
    { field: 'bandEnds', value: bandEnds, accepted: 'probabilities that rise' },
  );
  const probabilities = cases.map(({ probability }) => probability);
  const found = cases.filter(({ isFound }) => isFound).length;
  const output = {
    bands: bandsOf(input),
    cases: cases.length,
    found,
    foretold: sumOf(probabilities),
    brierScore:
      sumOf(cases.map(({ probability, isFound }) => (probability - Number(isFound)) ** 2)) /
      cases.length,
    brierExpected: sumOf(probabilities.map((p) => p * (1 - p))) / cases.length,
    chanceOfThisOrFarther: twoSidedProbability(probabilities, found),
  };
  return { ...output, words: inWords(output) };
}

function drawForetoldAndFound(_: ForetoldAndFoundInput, output: ForetoldAndFoundOutput): Chart[] {
  const { bands } = output;
  return [
    {
      kind: 'chart',
      title: 'Foretold and found',
      xTitle: 'Foretold',
      yTitle: 'Found',
      series: [
        { label: 'as foretold', kind: 'line', x: [0, 1], y: [0, 1] },
        {
          label: 'found',
          kind: 'points',
          x: bands.map(({ foretold }) => foretold),
          y: bands.map(({ foundShare }) => foundShare),
          lower: bands.map(({ shareLower }) => shareLower),
          upper: bands.map(({ shareUpper }) => shareUpper),
        },
      ],
    },
  ];
}

const exampleCases = [
  ...Array.from({ length: 30 }, (_, at) => ({ probability: 0.05, isFound: at < 2 })),
  ...Array.from({ length: 10 }, (_, at) => ({ probability: 0.3, isFound: at < 3 })),
  ...Array.from({ length: 8 }, (_, at) => ({ probability: 0.9, isFound: at < 7 })),
];

export const foretoldAndFoundCalculation = defineCalculation({
  id: 'foretold-and-found',
  version: 1,
  topic: 'account',
  title: 'Search for a missing piece: foretold and found',
  purpose:
    'Whether causes were found as often as the search had foretold them, by bands of probability, and whether chance alone explains what differs.',
  source:
    'G. Brier (1950), Monthly Weather Review 78, 1-3; E. Wilson (1927), Journal of the American Statistical Association 22, 209-212; exact distribution of a number of unequal chances, Poisson (1837)',
  input: foretoldAndFoundInput,
  output: foretoldAndFoundOutput,
  example: { cases: exampleCases, bandEnds: [0.1, 0.5, 0.8] },
  compute: foretoldAndFound,
  draw: drawForetoldAndFound,
});
