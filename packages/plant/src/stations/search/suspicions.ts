import { ofBoxes, ofTubes } from './container-suspicions.ts';
import { ofCounts, ofForgottenMoves, ofOpenDeliveries, ofUnwritten } from './count-suspicions.ts';
import { ofEntries } from './entry-suspicions.ts';
import { ofEntryTimes } from './entry-times.ts';
import type { FaultRates } from './fault-kinds.ts';
import { massSlipsIn } from './mass-slip-suspicions.ts';
import { ofPlaces } from './place-suspicions.ts';
import { ofRacks } from './rack-suspicions.ts';
import type { SearchFacts } from './search-facts.ts';
import { ofSheets } from './sheet-suspicions.ts';
import type { Suspicion } from './suspicion.ts';
import type { TubeEvidence } from './tube-evidence.ts';

/** Everything that can be wrong in the period, with its weight of evidence. */
export function suspicionsOf(
  facts: SearchFacts,
  options: { readonly rates: FaultRates; readonly tubes: readonly TubeEvidence[] },
): readonly Suspicion[] {
  const lattice = { cells: facts.cells, rates: options.rates };
  const slips = massSlipsIn(lattice, facts);
  return [
    ...ofPlaces(lattice, facts, slips),
    ...ofRacks(lattice),
    ...ofCounts(lattice, facts.movements),
    ...ofUnwritten(lattice, facts),
    ...ofForgottenMoves(lattice),
    ...ofOpenDeliveries(lattice, facts.movements),
    ...ofTubes(lattice, options.tubes, facts),
    ...ofBoxes(lattice, facts.boxes, facts),
    ...ofEntries(lattice, facts.movements),
    ...ofEntryTimes(lattice, facts.movements),
    ...ofSheets(lattice, facts.movements),
    ...slips.map(({ suspicion }) => suspicion),
  ].filter(({ options: found }) => found.length > 0);
}
