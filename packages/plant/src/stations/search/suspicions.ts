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

/** Everything that can be wrong in the period, with its weight of evidence, a part at a time. */
export function* suspicionsOf(
  facts: SearchFacts,
  options: { readonly rates: FaultRates; readonly tubes: readonly TubeEvidence[] },
): Generator<readonly Suspicion[]> {
  const lattice = { cells: facts.cells, rates: options.rates };
  const slips = massSlipsIn(lattice, facts);
  yield ofPlaces(lattice, facts, slips);
  yield ofRacks(lattice);
  yield ofCounts(lattice, facts.movements);
  yield ofUnwritten(lattice, facts);
  yield ofForgottenMoves(lattice);
  yield ofOpenDeliveries(lattice, facts.movements);
  yield ofTubes(lattice, options.tubes, facts);
  yield ofBoxes(lattice, facts.boxes, facts);
  yield ofEntries(lattice, facts.movements);
  yield ofEntryTimes(lattice, facts.movements);
  yield ofSheets(lattice, facts.movements);
  yield slips.map(({ suspicion }) => suspicion);
}
