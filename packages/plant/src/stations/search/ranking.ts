import { faultPosterior } from '@cupel/calculation';
import type { LookRow } from './books.ts';
import { type FaultRates, faultKinds } from './fault-kinds.ts';
import type { SearchFacts } from './search-facts.ts';
import type { Look, Suspicion } from './suspicion.ts';
import { suspicionsOf } from './suspicions.ts';
import { tubeEvidence } from './tube-evidence.ts';

/** A look with what it is worth now. */
export interface RankedLook extends Look {
  readonly probability: number;
  /** Found per minute of looking: the greatest is taken first. */
  readonly foundPerMinute: number;
  /** Vain looks so far. */
  readonly looks: number;
  readonly evidence: readonly string[];
}

/** A set of faults that explains everything. */
export interface ToldStory {
  readonly probability: number;
  readonly words: string;
  readonly evidence: readonly string[];
}

/** A fault with its probability, whatever else is wrong. */
export interface RankedFault {
  readonly name: string;
  readonly value: number;
  readonly kind: string;
  readonly words: string;
  readonly probability: number;
  readonly look: string;
  readonly evidence: string | null;
}

export interface Ranking {
  readonly residuals: readonly { readonly place: string; readonly pieces: number }[];
  readonly noFaultProbability: number;
  readonly unexplained: boolean;
  readonly stories: readonly ToldStory[];
  readonly faults: readonly RankedFault[];
  readonly looks: readonly RankedLook[];
  readonly words: string;
}

/** Faults and explanations less probable than this are not told. */
const leastTold = 1e-4;

/** So many faults and looks are shown. */
const mostShown = 40;

/** The chance that looks in vain leave of what they looked for. */
function leftAfterLooks(suspicion: Suspicion, taken: readonly LookRow[]): number {
  return taken
    .filter(({ look, outcome }) => look === suspicion.look.look && outcome === 'nothing found')
    .reduce((left, { seenIfThere }) => left * (1 - seenIfThere), 1);
}

function rankedLooks(
  faults: readonly RankedFault[],
  suspicions: readonly Suspicion[],
  taken: readonly LookRow[],
): readonly RankedLook[] {
  const byLook = Map.groupBy(faults, ({ look }) => look);
  const found = [...byLook].map(([name, of]): RankedLook => {
    const { look } = suspicions.find((one) => one.look.look === name) as Suspicion;
    const probability = Math.min(
      1,
      of.reduce((sum, fault) => sum + fault.probability, 0),
    );
    return {
      ...look,
      probability,
      foundPerMinute: (probability * look.seenIfThere) / look.minutes,
      looks: taken.filter((one) => one.look === name && one.outcome === 'nothing found').length,
      evidence: [...new Set(of.flatMap(({ evidence }) => evidence ?? []))].slice(0, 3),
    };
  });
  return found.sort((a, b) => b.foundPerMinute - a.foundPerMinute).slice(0, mostShown);
}

const percent = (value: number): string =>
  value >= 0.9995 && value < 1 ? 'over 99.9 %' : `${(100 * value).toFixed(value < 0.1 ? 1 : 0)} %`;

function rankingWords(ranking: Omit<Ranking, 'words'>): string {
  if (ranking.unexplained) {
    return 'Nothing that is known to go wrong explains these figures. Check the tallies first.';
  }
  const [first] = ranking.looks;
  const [best] = ranking.stories;
  if (!first || !best) {
    return `Nothing is wrong with probability ${percent(ranking.noFaultProbability)}.`;
  }
  const minutes =
    first.minutes < 1 ? `${Math.round(first.minutes * 60)} s` : `${first.minutes} min`;
  return `First: ${first.title} (${minutes}; the cause lies there with ${percent(first.probability)}). The best single explanation, ${percent(best.probability)}: ${best.words}.`;
}

/** Everything that can be wrong, with the weight that looks in vain have left it. */
export function weighedSuspicions(
  facts: SearchFacts,
  rates: FaultRates,
  taken: readonly LookRow[],
): readonly Suspicion[] {
  const tubes = tubeEvidence(facts.tubes, facts.standard, facts.balances);
  return suspicionsOf(facts, { rates, tubes }).map((suspicion) => {
    const left = leftAfterLooks(suspicion, taken);
    return left === 1
      ? suspicion
      : {
          ...suspicion,
          options: suspicion.options.map((option) => ({ ...option, weight: option.weight * left })),
        };
  });
}

/** The ranking of a search: what is wrong with which probability, and where to look next. */
export function rank(facts: SearchFacts, rates: FaultRates, taken: readonly LookRow[]): Ranking {
  const suspicions = weighedSuspicions(facts, rates, taken);
  const residuals = facts.cells.map(({ place, residualPieces }) => ({
    place,
    pieces: residualPieces,
  }));
  if (suspicions.length === 0 || residuals.length === 0) {
    const none = {
      residuals,
      noFaultProbability: 0,
      unexplained: true,
      stories: [],
      faults: [],
      looks: [],
    };
    return { ...none, words: rankingWords(none) };
  }
  const posterior = faultPosterior({
    residual: residuals.map(({ pieces }) => pieces),
    variables: suspicions.map(({ name, options }) => ({ name, options: [...options] })),
  });
  const byName = new Map(suspicions.map((suspicion) => [suspicion.name, suspicion]));
  const named = (name: string): Suspicion => byName.get(name) as Suspicion;
  const faults = posterior.faults.map(({ name, value, probability }): RankedFault => {
    const { kind, words, look, evidence } = named(name);
    return {
      name,
      value,
      kind: faultKinds[kind].title,
      words: words(value),
      probability,
      look: look.look,
      evidence,
    };
  });
  const ranking = {
    residuals,
    noFaultProbability: posterior.noFaultProbability,
    unexplained: posterior.evidenceLogarithm === null,
    stories: posterior.stories
      .filter(({ probability }) => probability >= leastTold)
      .map(({ faults: set, probability }) => ({
        probability,
        words: set.map(({ name, value }) => named(name).words(value)).join('; and '),
        evidence: set.flatMap(({ name }) => named(name).evidence ?? []),
      })),
    faults: faults.filter(({ probability }) => probability >= leastTold).slice(0, mostShown),
    looks: rankedLooks(faults, suspicions, taken),
  };
  return { ...ranking, words: rankingWords(ranking) };
}
