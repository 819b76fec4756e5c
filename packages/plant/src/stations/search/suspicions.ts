import { ofBoxes, ofTubes } from './container-suspicions.ts';
import { ofCounts, ofForgottenMoves, ofOpenDeliveries, ofUnwritten } from './count-suspicions.ts';
import { ofEntries } from './entry-suspicions.ts';
import type { FaultRates } from './fault-kinds.ts';
import { ofPlaces } from './place-suspicions.ts';
import type { SearchFacts } from './search-facts.ts';
import type { Suspicion } from './suspicion.ts';
import type { TubeEvidence } from './tube-evidence.ts';

/** Everything that can be wrong in the period, with its weight of evidence. */
export function suspicionsOf(
  facts: SearchFacts,
  options: { readonly rates: FaultRates; readonly tubes: readonly TubeEvidence[] },
): readonly Suspicion[] {
  const lattice = { cells: facts.cells, rates: options.rates };
  return [
    ...ofPlaces(lattice, facts.standard),
    ...ofCounts(lattice, facts.movements),
    ...ofUnwritten(lattice, facts),
    ...ofForgottenMoves(lattice),
    ...ofOpenDeliveries(lattice, facts.movements),
    ...ofTubes(lattice, options.tubes, facts),
    ...ofBoxes(lattice, facts.boxes, facts),
    ...ofEntries(lattice, facts.movements),
  ].filter(({ options: found }) => found.length > 0);
}
