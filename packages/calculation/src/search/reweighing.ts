import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { probabilityText } from '../quantity/probability-text.ts';
import { entropyBits } from './expected-information.ts';
import { type LookingPlace, searchOrder } from './looking.ts';
import { worthlessSoFar } from './reading-mixture.ts';
import { outcomesOf, priorsOf, showingOf } from './reweighing-outcomes.ts';
import {
  type CheckedOutcome,
  type ReweighingCheck,
  type ReweighingInput,
  type ReweighingOutput,
  reweighingInput,
  reweighingOutput,
} from './reweighing-schema.ts';

type Checked = ReweighingOutput['checks'][number];

/** Probabilities that belong together may differ by rounding. */
const roundingOfSums = 1e-6;

const wrongOf = (options: readonly { readonly pieces: number; readonly probability: number }[]) =>
  options.reduce((sum, { pieces, probability }) => (pieces === 0 ? sum : sum + probability), 0);

/** The places when the container is known to be wrong with another probability. */
function placesAfter(
  places: readonly LookingPlace[],
  own: LookingPlace,
  wrong: number,
): LookingPlace[] {
  const left = own.probability < 1 ? (1 - wrong) / (1 - own.probability) : 0;
  return places.map((place) => ({
    ...place,
    probability: place === own ? wrong : place.probability * left,
  }));
}

const minutesOf = (places: readonly LookingPlace[]): number =>
  searchOrder({ places: [...places], looks: 0 }).expectedMinutes;

function savedMinutes(
  check: ReweighingCheck,
  places: readonly LookingPlace[],
  outcomes: readonly CheckedOutcome[],
): number | null {
  const own = places.find(({ name }) => name === check.name);
  if (!own || check.act.kind !== 'weighing') return null;
  const after = outcomes.reduce(
    (sum, { probability, options }) =>
      sum + probability * minutesOf(placesAfter(places, own, wrongOf(options))),
    0,
  );
  return minutesOf(places) - after - check.minutes;
}

function worthlessOf(check: ReweighingCheck): number | null {
  const { act } = check;
  if (act.kind !== 'weighing' || act.weighings === 0) return null;
  return check.options.reduce(
    (sum, { pieces, probability }) => sum + probability * worthlessSoFar(act, pieces),
    0,
  );
}

function requireCheck(check: ReweighingCheck, at: number, places: readonly LookingPlace[]): void {
  const sum = check.options.reduce((total, { probability }) => total + probability, 0);
  requireDomain(Math.abs(sum - 1) <= roundingOfSums, {
    field: `checks.${at}.options`,
    value: sum,
    accepted: 'probabilities that sum to 1',
  });
  const numbers = check.options.map(({ pieces }) => pieces);
  requireDomain(numbers.includes(0) && new Set(numbers).size === numbers.length, {
    field: `checks.${at}.options`,
    value: numbers,
    accepted: 'different numbers of pieces, 0 among them',
  });
  const own = places.find(({ name }) => name === check.name);
  const wrong = wrongOf(check.options);
  requireDomain(!own || Math.abs(own.probability - wrong) <= roundingOfSums, {
    field: 'places',
    value: own?.probability,
    accepted: `${wrong} at ${check.name}: as probable as that it holds another number`,
  });
}

const figure = (value: number): string => probabilityText(value, 3);

/** Outcomes less probable than this are not told. */
const leastTold = 5e-4;

function inWords(check: ReweighingCheck, checked: Omit<Checked, 'words'>): string {
  const byProbability = checked.outcomes
    .filter(({ probability }) => probability >= leastTold)
    .sort((a, b) => b.probability - a.probability);
  const told = byProbability.map(({ shows, probability }) =>
    shows === null
      ? `no number with ${figure(probability)}`
      : `${check.recordedPieces + shows} with ${figure(probability)}`,
  );
  const fits = check.options
    .filter(({ probability }) => probability >= leastTold)
    .sort((a, b) => b.probability - a.probability)
    .map(
      ({ pieces, probability }) => `${check.recordedPieces + pieces} fits ${figure(probability)}`,
    );
  const bad =
    checked.worthlessProbability === null
      ? ''
      : `, a bad weighing ${figure(checked.worthlessProbability)}`;
  const act = check.act.kind === 'weighing' ? 'Weighed again' : 'Counted again';
  return `${check.name}: ${fits.join(', ')}${bad}. ${act} it shows ${told.join(', ')}, and tells ${checked.informationBits.toFixed(2)} of the ${checked.openBits.toFixed(2)} bits that are open.`;
}

function valued(check: ReweighingCheck, places: readonly LookingPlace[]): Checked {
  const showing = showingOf(check);
  const outcomes = outcomesOf(check, showing);
  const checked = {
    name: check.name,
    openBits: entropyBits(priorsOf(check)),
    informationBits: showing.bits,
    bitsPerMinute: showing.bits / check.minutes,
    savedMinutes: savedMinutes(check, places, outcomes),
    worthlessProbability: worthlessOf(check),
    outcomes,
  };
  return { ...checked, words: inWords(check, checked) };
}

/**
 * What weighing a container once more, or counting a place once more, would tell before it is done.
 *
 * Formula: with πₓ the probability now of x pieces more or fewer and fₓ the density of a new reading given x,
 * the expected information is Σ πₓ ∫ fₓ log₂(fₓ/Σ πf). fₓ = (1 − ε)·[(1 − β)·N(c + ρ(y − c), l²(1 − ρ) + r²) +
 * β·N(c, l² + r²)] + ε·N(m, b² + l² + r²): c = m + xμ, y the mean of n weighings so far, β the probability that
 * they are worthless given x, l lasting and r fresh standard uncertainty, ρ = l²/(l² + r²/n). A number is shown
 * where the reading lies within half a piece, and within 4 √(l² + r²), of it; the probabilities of outcomes are
 * differences of normal distributions, those after each follow by Bayes’ theorem. Minutes saved: expected
 * minutes in the best order now, less those after each outcome weighted by its probability, less its own.
 *
 * @param input checks: name, recorded pieces, minutes above 0, options with probabilities that sum to 1 (0
 * pieces among them), the act; places as for `searchOrder`, or none
 * @returns bits, bits per minute, minutes saved, outcomes with the probabilities after each; most bits per minute
 * first
 * @throws DomainError for options that do not sum to 1, lack 0 or stand twice, and for a place of a check’s
 * name with another probability than that the check holds another number
 * Validity: integrals true to about 1e-10 bit. As nothing but x decides what is read, the bits told about x are
 * those told about the whole set of faults. Minutes: one thing at one place.
 * Source: D. Lindley (1956), Annals of Mathematical Statistics 27, 986-1005 (expected information of an
 * experiment); H. Raiffa and R. Schlaifer (1961), Applied Statistical Decision Theory, chapter 4 (value of
 * sample information)
 * @example reweighingValue({ places: [], checks: [{ name: 'tally', recordedPieces: 20, minutes: 1, options: [
 *   { pieces: -1, probability: 0.4 }, { pieces: 0, probability: 0.6 }],
 *   act: { kind: 'count', seenIfThere: 0.5, newErrorProbability: 0 } }] }).checks[0].informationBits // 0.32192809489
 */
export function reweighingValue(input: ReweighingInput): ReweighingOutput {
  for (const [at, check] of input.checks.entries()) requireCheck(check, at, input.places);
  const checks = input.checks
    .map((check) => valued(check, input.places))
    .sort((a, b) => b.bitsPerMinute - a.bitsPerMinute);
  return { checks, words: checks[0]?.words ?? '' };
}

/** So many checks are drawn. */
const drawnChecks = 12;

function drawReweighing(_: ReweighingInput, output: ReweighingOutput): Chart[] {
  const shown = output.checks.slice(0, drawnChecks);
  return [
    {
      kind: 'chart',
      title: 'What each would tell',
      xTitle: 'Weighed or counted again',
      yTitle: 'Bits',
      series: [
        {
          label: 'told',
          kind: 'bars',
          x: shown.map((_check, at) => at + 1),
          y: shown.map(({ informationBits }) => informationBits),
        },
      ],
      xNames: shown.map(({ name }, at) => ({ x: at + 1, name })),
    },
  ];
}

const heavyTube = {
  kind: 'weighing' as const,
  pieceMassGrams: 31.1,
  weighings: 1,
  predictedGrams: 0,
  lastingStandardUncertaintyGrams: 0.45,
  repeatStandardUncertaintyGrams: 0.06,
  badWeighingProbability: 1e-3,
  badWeighingSpreadGrams: 20,
};

export const reweighingCalculation = defineCalculation({
  id: 'reweighing-value',
  version: 1,
  topic: 'account',
  title: 'Search for a missing piece: what one more weighing would tell',
  purpose:
    'How much weighing a container or counting a place once more would tell of what is wrong, with the probability of everything that it can show.',
  source:
    'D. Lindley (1956), Annals of Mathematical Statistics 27, 986-1005; H. Raiffa and R. Schlaifer (1961), Applied Statistical Decision Theory, chapter 4',
  input: reweighingInput,
  output: reweighingOutput,
  example: {
    checks: [
      {
        name: 'tube 41',
        recordedPieces: 20,
        minutes: 0.5,
        options: [
          { pieces: -1, probability: 0.963 },
          { pieces: 0, probability: 0.037 },
        ],
        act: { ...heavyTube, deviationGrams: -31.3 },
      },
      {
        name: 'put-up',
        recordedPieces: 46,
        minutes: 15,
        options: [
          { pieces: 0, probability: 0.8 },
          { pieces: 1, probability: 0.2 },
        ],
        act: { kind: 'count' as const, seenIfThere: 0.9, newErrorProbability: 0.001 },
      },
    ],
    places: [
      { name: 'tube 41', probability: 0.963, seenIfThere: 0.999, minutes: 10 },
      { name: 'floor', probability: 0.02, seenIfThere: 0.8, minutes: 25 },
    ],
  },
  compute: reweighingValue,
  draw: drawReweighing,
});
