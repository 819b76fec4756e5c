import { type FaultModel, type FaultPosteriorOutput, faultPosterior } from '@cupel/calculation';
import type { Inquirer } from '../../journal/station.ts';
import type { LookRow } from './books.ts';
import { type FaultKind, type FaultRates, faultKinds } from './fault-kinds.ts';
import { type ToldAgain, toldAgain } from './look-again.ts';
import { rankingWords } from './ranking-words.ts';
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
  /** What weighing or counting it once more would tell; for the first looks only. */
  readonly again: ToldAgain | null;
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
  readonly kindName: FaultKind;
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

/** For so many of the first looks it is told what they would tell. */
const mostForetold = 12;

function foretold(
  look: Omit<RankedLook, 'again'>,
  faults: readonly RankedFault[],
  suspicions: readonly Suspicion[],
): ToldAgain | null {
  const suspicion = suspicions.find(({ again }) => again);
  if (!suspicion?.again) return null;
  const { name, again } = suspicion;
  const probabilityOf = (value: number): number =>
    faults.find((fault) => fault.name === name && fault.value === value)?.probability ?? 0;
  return toldAgain(again, { name, minutes: look.minutes, probabilityOf });
}

function rankedLooks(
  faults: readonly RankedFault[],
  suspicions: readonly Suspicion[],
  taken: readonly LookRow[],
): readonly RankedLook[] {
  const byLook = Map.groupBy(faults, ({ look }) => look);
  const suspected = Map.groupBy(suspicions, ({ look }) => look.look);
  const vain = Map.groupBy(
    taken.filter(({ outcome }) => outcome === 'nothing found'),
    ({ look }) => look,
  );
  const found = [...byLook].map(([name, of]): Omit<RankedLook, 'again'> => {
    const { look } = (suspected.get(name) as readonly Suspicion[])[0] as Suspicion;
    const probability = Math.min(
      1,
      of.reduce((sum, fault) => sum + fault.probability, 0),
    );
    return {
      ...look,
      probability,
      foundPerMinute: (probability * look.seenIfThere) / look.minutes,
      looks: vain.get(name)?.length ?? 0,
      evidence: [...new Set(of.flatMap(({ evidence }) => evidence ?? []))].slice(0, 3),
    };
  });
  return found
    .sort((a, b) => b.foundPerMinute - a.foundPerMinute)
    .slice(0, mostShown)
    .map((look, at) => ({
      ...look,
      again: at < mostForetold ? foretold(look, faults, suspected.get(look.look) ?? []) : null,
    }));
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

/** What can be wrong, as the calculation takes it. */
interface Prepared {
  readonly suspicions: readonly Suspicion[];
  readonly model: FaultModel;
}

function prepare(
  facts: SearchFacts,
  rates: FaultRates,
  taken: readonly LookRow[],
): Prepared | undefined {
  const suspicions = weighedSuspicions(facts, rates, taken);
  if (suspicions.length === 0 || facts.cells.length === 0) return undefined;
  return {
    suspicions,
    model: {
      residual: facts.cells.map(({ residualPieces }) => residualPieces),
      variables: suspicions.map(({ name, options }) => ({ name, options: [...options] })),
    },
  };
}

/** What can be wrong with the probability of each way. */
interface Judged {
  readonly suspicions: readonly Suspicion[];
  readonly posterior: FaultPosteriorOutput;
  readonly faults: readonly RankedFault[];
}

function judged({ suspicions }: Prepared, posterior: FaultPosteriorOutput): Judged {
  const byName = new Map(suspicions.map((suspicion) => [suspicion.name, suspicion]));
  const faults = posterior.faults.map(({ name, value, probability }): RankedFault => {
    const { kind, words, look, evidence } = byName.get(name) as Suspicion;
    return {
      name,
      value,
      kindName: kind,
      kind: faultKinds[kind].title,
      words: words(value),
      probability,
      look: look.look,
      evidence,
    };
  });
  return { suspicions, posterior, faults };
}

/** The probability of every fault before anybody has looked. */
export function faultsBeforeLooks(facts: SearchFacts, rates: FaultRates): readonly RankedFault[] {
  const prepared = prepare(facts, rates, []);
  return prepared ? judged(prepared, faultPosterior(prepared.model)).faults : [];
}

function toldStories({ suspicions, posterior }: Judged): readonly ToldStory[] {
  const byName = new Map(suspicions.map((suspicion) => [suspicion.name, suspicion]));
  return posterior.stories
    .filter(({ probability }) => probability >= leastTold)
    .map(({ faults, probability }) => ({
      probability,
      words: faults.map(({ name, value }) => byName.get(name)?.words(value)).join('; and '),
      evidence: faults.flatMap(({ name }) => byName.get(name)?.evidence ?? []),
    }));
}

function rankingOf(
  facts: SearchFacts,
  found: Judged | undefined,
  taken: readonly LookRow[],
): Ranking {
  const ranking = {
    residuals: facts.cells.map(({ place, residualPieces }) => ({ place, pieces: residualPieces })),
    noFaultProbability: found?.posterior.noFaultProbability ?? 0,
    unexplained: found === undefined || found.posterior.evidenceLogarithm === null,
    stories: found ? toldStories(found) : [],
    faults: (found?.faults ?? [])
      .filter(({ probability }) => probability >= leastTold)
      .slice(0, mostShown),
    looks: found ? rankedLooks(found.faults, found.suspicions, taken) : [],
  };
  return { ...ranking, words: rankingWords(ranking) };
}

/** The ranking of a search: what is wrong with which probability, and where to look next. */
export function rank(facts: SearchFacts, rates: FaultRates, taken: readonly LookRow[]): Ranking {
  const prepared = prepare(facts, rates, taken);
  const found = prepared && judged(prepared, faultPosterior(prepared.model));
  return rankingOf(facts, found, taken);
}

/** Fewer things that can be wrong are weighed at once: handing them on would take longer. */
const fewSuspicions = 500;

/** The same ranking, with the posterior of many suspicions calculated where it keeps nobody waiting. */
export async function rankBeside(
  facts: SearchFacts,
  of: { readonly rates: FaultRates; readonly taken: readonly LookRow[] },
  calculate: NonNullable<Inquirer['calculate']>,
): Promise<Ranking> {
  const prepared = prepare(facts, of.rates, of.taken);
  if (!prepared) return rankingOf(facts, undefined, of.taken);
  const posterior =
    prepared.suspicions.length < fewSuspicions
      ? faultPosterior(prepared.model)
      : ((await calculate('fault-posterior', prepared.model)) as FaultPosteriorOutput);
  return rankingOf(facts, judged(prepared, posterior), of.taken);
}
