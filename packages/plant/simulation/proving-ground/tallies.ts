import { type InsidePlace, insidePlaces } from '../../src/journal/place.ts';
import type { PersonId } from '../demonstration/cast.ts';
import { balances } from '../demonstration/instruments.ts';
import type { Ground } from './ground.ts';
import { transposed } from './record-move.ts';

/** Who counts at a place. */
const counters: Readonly<Record<InsidePlace, PersonId>> = {
  receiving: 'bettina',
  laboratory: 'tamsin',
  'press-room': 'milo',
  'put-up': 'jonas',
  'strong-room': 'jonas',
  archive: 'bettina',
  scrap: 'milo',
  'in-transit': 'bettina',
};

/** What the desk of the account shows of a place to those who count. */
interface DeskPlace {
  readonly place: InsidePlace;
  readonly needsTally: boolean;
  readonly standards: readonly { readonly pieceStandard: string }[];
  readonly tally: { readonly movedSince: boolean } | null;
}

/** The desk of the account as the accountant sees it. */
interface Desk {
  readonly shift: string;
  readonly openShifts: readonly string[];
  readonly lastClose: { readonly shift: string } | null;
  readonly places: readonly DeskPlace[];
}

export async function desk(ground: Ground): Promise<Desk> {
  return (await ground.plant.question('balance-desk', {}, 'sorrel')) as Desk;
}

/** The piece standards that lie at a place by the record or in truth. */
function standardsAt(ground: Ground, { place, standards }: DeskPlace): readonly string[] {
  const all = ground.standards.map(({ pieceStandard }) => pieceStandard);
  const seen = all.filter((standard) => ground.world.countedAt(place, standard) > 0);
  return [...new Set([...standards.map(({ pieceStandard }) => pieceStandard), ...seen])].sort();
}

/** Counts every place that needs it, several people at the same time. */
export async function tallyWhatNeedsIt(ground: Ground): Promise<void> {
  const { places } = await desk(ground);
  const due = places.filter((one) => {
    const isThere = standardsAt(ground, one).some(
      (name) => ground.world.countedAt(one.place, name) > 0,
    );
    return (one.needsTally || isThere) && (one.tally === null || one.tally.movedSince);
  });
  await tallyPlaces(
    ground,
    due.map(({ place }) => place),
    { isFirst: true },
  );
}

/** Counts places; only a first count is ever wrong, since a second person counts again. */
export async function tallyPlaces(
  ground: Ground,
  wanted: Iterable<InsidePlace>,
  { isFirst }: { readonly isFirst: boolean },
): Promise<void> {
  const names = new Set(wanted);
  const { places } = await desk(ground);
  const jobs = places
    .filter(({ place }) => names.has(place) && insidePlaces.includes(place))
    .map((one) => async () => {
      const lines = standardsAt(ground, one).map((name) =>
        lineOf(ground, { ...one, isFirst }, name),
      );
      await ground.hand.do({
        by: counters[one.place],
        command: 'tally-place',
        input: { place: one.place, lines },
        seconds: 120,
      });
    });
  await ground.crew.together(jobs);
}

function lineOf(
  ground: Ground,
  at: { readonly place: InsidePlace; readonly isFirst: boolean },
  pieceStandard: string,
) {
  const right = ground.world.countedAt(at.place, pieceStandard);
  const pieces = at.isFirst ? countWrongly(ground, { ...at, pieceStandard, right }) : right;
  return { pieceStandard, pieces, ...grossOf(ground, at.place, pieceStandard) };
}

function countWrongly(
  ground: Ground,
  of: { readonly place: InsidePlace; readonly pieceStandard: string; readonly right: number },
): number {
  const { place, pieceStandard, right } = of;
  const { ledger, chance } = ground;
  const swapped = transposed(right);
  const isSwapped = swapped !== undefined && ledger.happens('digits of a tally transposed');
  const isMiscounted = !isSwapped && right > 0 && ledger.happens('tally miscounted');
  if (!isSwapped && !isMiscounted) return right;
  const said = isSwapped ? swapped : right + chance.one([-1, 1]);
  ledger.plant(isSwapped ? 'digits of a tally transposed' : 'tally miscounted', {
    words: `the tally of ${place} says ${said} of ${pieceStandard}, not ${right}`,
    seenAt: [`count/${place}`],
    places: [place],
    pieceStandard,
  });
  return said;
}

/** Open metal is weighed, sealed metal is added by its labels; other places are only counted. */
function grossOf(ground: Ground, place: InsidePlace, pieceStandard: string) {
  const { open, labelled } = ground.world.gramsFoundAt(place, pieceStandard);
  if (open + labelled <= 0) return { gross: null, instrument: null };
  const name = place === 'press-room' ? 'press' : 'tubes';
  const weighed = open > 0 ? Number(ground.balances.net(name, open).text) : 0;
  const text = (weighed + labelled).toFixed(6);
  if (Number(text) <= 0) return { gross: null, instrument: null };
  return { gross: { text, unit: 'g', typed: true }, instrument: balances[name].instrument };
}
