import type { Calculate } from '../../journal/station.ts';
import type { CausesForetold } from './bodies.ts';
import type { FaultRates } from './fault-kinds.ts';
import { faultsBeforeLooks } from './ranking.ts';
import type { SearchFacts } from './search-facts.ts';

/** A cause less probable than this is not kept as foretold, and not more than so many are. */
const leastForetold = 1e-3;
const mostForetold = 100;

/** The causes that a search names before anybody has looked, each once with all its sizes together. */
export async function foretoldOf(
  facts: SearchFacts,
  rates: FaultRates,
  calculate?: Calculate,
): Promise<CausesForetold['causes']> {
  const faults = await faultsBeforeLooks(facts, rates, calculate);
  const byName = Map.groupBy(faults, ({ suspicion }) => suspicion.name);
  return [...byName]
    .map(([name, of]) => ({
      name,
      kind: of[0]?.suspicion.kind ?? 'something else',
      probability: Math.min(
        1,
        of.reduce((sum, { probability }) => sum + probability, 0),
      ),
    }))
    .filter(({ probability }) => probability >= leastForetold)
    .sort((a, b) => b.probability - a.probability)
    .slice(0, mostForetold);
}
