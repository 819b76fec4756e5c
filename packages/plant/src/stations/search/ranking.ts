import { type FaultModel, type FaultPosteriorOutput, faultPosterior } from '@cupel/calculation';
import type { Calculate } from '../../journal/station.ts';
import type { LookRow } from './books.ts';
import { type FaultKind, type FaultRates, faultKinds } from './fault-kinds.ts';
import { afterVainLooks, sightingsOf } from './look-evidence.ts';
import { type JudgedFault, type RankedLook, rankedLooks } from './ranked-looks.ts';
import { rankingWords } from './ranking-words.ts';
import type { SearchFacts } from './search-facts.ts';
import type { Suspicion } from './suspicion.ts';
import { suspicionsOf } from './suspicions.ts';
import { tubeEvidence } from './tube-evidence.ts';

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

/** What a ranking is made from beside the facts. */
interface RankedBy {
  readonly rates: FaultRates;
  readonly taken: readonly LookRow[];
}

/** Faults and explanations less probable than this are not told. */
const leastTold = 1e-4;

/** So many faults are shown. */
const mostShown = 40;

/** What can be wrong, as the calculation takes it. */
interface Prepared {
  readonly suspicions: readonly Suspicion[];
  readonly model: FaultModel;
}

/** Lets others have their turn: a question of a large shift must not keep a balance waiting. */
const pause = () => new Promise((resume) => setTimeout(resume));

async function prepare(
  facts: SearchFacts,
  { rates, taken }: RankedBy,
  isServed: boolean,
): Promise<Prepared | undefined> {
  if (isServed) await pause();
  const tubes = tubeEvidence(facts.tubes, facts.standard, facts.balances);
  const found: Suspicion[] = [];
  for (const part of suspicionsOf(facts, { rates, tubes })) {
    found.push(...part.filter(({ options }) => options.length > 0));
    if (isServed) await pause();
  }
  const suspicions = afterVainLooks(found, taken);
  if (suspicions.length === 0 || facts.cells.length === 0) return undefined;
  const sightings = sightingsOf(suspicions, taken, facts.cells);
  return {
    suspicions,
    model: {
      residual: facts.cells.map(({ residualPieces }) => residualPieces),
      variables: suspicions.map(({ name, options }) => ({ name, options: [...options] })),
      ...(sightings.length > 0 ? { sightings } : {}),
    },
  };
}

/** What can be wrong with the probability of each way. */
interface Judged {
  readonly suspicions: readonly Suspicion[];
  readonly posterior: FaultPosteriorOutput;
  readonly faults: readonly JudgedFault[];
}

function judged({ suspicions }: Prepared, posterior: FaultPosteriorOutput): Judged {
  const byName = new Map(suspicions.map((suspicion) => [suspicion.name, suspicion]));
  const faults = posterior.faults.map(
    ({ name, value, probability }): JudgedFault => ({
      suspicion: byName.get(name) as Suspicion,
      value,
      probability,
    }),
  );
  return { suspicions, posterior, faults };
}

function toldFault({ suspicion, value, probability }: JudgedFault): RankedFault {
  const { name, kind, words, look, evidence } = suspicion;
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
      .slice(0, mostShown)
      .map(toldFault),
    looks: found ? rankedLooks(found.faults, found.suspicions, taken) : [],
  };
  return { ...ranking, words: rankingWords(ranking) };
}

/** Fewer things that can be wrong are weighed at once: handing them on would take longer. */
const fewSuspicions = 500;

/** What is wrong with which probability; that of many suspicions calculated where it keeps nobody waiting. */
async function judge(
  facts: SearchFacts,
  by: RankedBy,
  calculate: Calculate | undefined,
): Promise<Judged | undefined> {
  const prepared = await prepare(facts, by, calculate !== undefined);
  if (!prepared) return undefined;
  const posterior =
    !calculate || prepared.suspicions.length < fewSuspicions
      ? faultPosterior(prepared.model)
      : ((await calculate('fault-posterior', prepared.model)) as FaultPosteriorOutput);
  return judged(prepared, posterior);
}

/** The ranking of a search: what is wrong with which probability, and where to look next. */
export async function rank(
  facts: SearchFacts,
  by: RankedBy,
  calculate?: Calculate,
): Promise<Ranking> {
  return rankingOf(facts, await judge(facts, by, calculate), by.taken);
}

/** The probability of every fault before anybody has looked. */
export async function faultsBeforeLooks(
  facts: SearchFacts,
  rates: FaultRates,
  calculate?: Calculate,
): Promise<readonly JudgedFault[]> {
  return (await judge(facts, { rates, taken: [] }, calculate))?.faults ?? [];
}
