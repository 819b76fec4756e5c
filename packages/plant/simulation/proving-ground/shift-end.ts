import type { InsidePlace } from '../../src/journal/place.ts';
import { type DifferenceRow, differences } from '../../src/stations/account/books.ts';
import { lastClosing } from '../../src/stations/account/read-model.ts';
import { faultKinds } from './fault-kinds.ts';
import { witness } from './founding.ts';
import { attempt, type Ground, type Tried } from './ground.ts';
import { isThere } from './looking.ts';
import { searchFor } from './search-work.ts';
import { explain, type OpenDifference, signDifference } from './settle.ts';
import { desk, tallyPlaces, tallyWhatNeedsIt } from './tallies.ts';

/** Minutes of looking in one shift, for all searches together. */
const minutesOfLooking = 60;

/** Rounds of counting, searching and signing after which a shift that still does not close stays open. */
const mostRounds = 40;

const unresolved = `Nothing that ${minutesOfLooking} minutes of looking could show explains it.`;

/** Counts, writes what was late, and closes the shift; what stays different is searched for and then signed. */
export async function endShift(ground: Ground): Promise<void> {
  await tallyWhatNeedsIt(ground);
  for (const late of ground.lateActs.splice(0)) await late();
  const looking = { minutesLeft: minutesOfLooking };
  for (let round = 0; round < mostRounds; round += 1) {
    const shift = await shiftToClose(ground);
    if (shift === undefined) return;
    const tried = await close(ground, shift);
    if (tried.recorded) await explainGrams(ground);
    else if (!(await goOn(ground, tried, looking))) return;
  }
  ground.hand.breach(`the shift did not close in ${mostRounds} rounds`);
}

/** The oldest shift that no close covers; nothing when all are closed. */
async function shiftToClose(ground: Ground): Promise<string | undefined> {
  const { openShifts, shift, lastClose } = await desk(ground);
  const [oldest] = openShifts;
  const isDone = await isClosedByNow(ground);
  // What was signed after a late close belongs to the shift that runs now, and waits for its own close.
  if (oldest !== undefined) return isDone && oldest === shift ? undefined : oldest;
  return lastClose?.shift === shift || isDone ? undefined : shift;
}

/** Whether the last close came after everything that this shift recorded. */
async function isClosedByNow(ground: Ground): Promise<boolean> {
  const closing = await lastClosing(ground.plant.books);
  return closing !== undefined && closing.entry >= ground.shiftBegan.entry;
}

function close(ground: Ground, shift: string): Promise<Tried> {
  return attempt(ground, {
    by: 'sorrel',
    with: witness,
    command: 'close-shift',
    input: { shift },
    seconds: 120,
  });
}

/** Does what a refused close asks for; answers false where nothing can be done and the shift stays open. */
async function goOn(
  ground: Ground,
  tried: Tried,
  looking: { minutesLeft: number },
): Promise<boolean> {
  const refusals = tried.outcome.outcome === 'refused' ? tried.outcome.refusals : [];
  const names = new Set(tried.refusals);
  if (names.has('TallyMissing') || names.has('TallyOutdated')) {
    const places = refusals.map(({ figures }) => figures['place'] as InsidePlace);
    await tallyPlaces(ground, places, { isFirst: false });
    return true;
  }
  if (!names.has('PiecesDiffer')) {
    throw new Error(`close-shift was refused: ${tried.refusals.join(', ')}`);
  }
  const open = refusals.map(
    ({ figures }): OpenDifference => ({
      place: figures['place'] as InsidePlace,
      pieceStandard: String(figures['pieceStandard']),
      pieces: Number(figures['piecesDifference']),
    }),
  );
  if (await isFoundAgain(ground, open)) return true;
  const [first] = open;
  if (!first) return false;
  const of = open.filter(({ pieceStandard }) => pieceStandard === first.pieceStandard);
  if (looking.minutesLeft >= 0.5) {
    const since = ground.shiftBegan.entry;
    const options = { minutes: looking.minutesLeft, since };
    const { minutesLeft, isFound } = await searchFor(ground, first.pieceStandard, options);
    looking.minutesLeft = minutesLeft;
    if (isFound) return true;
  }
  return (await isCountedAgain(ground, of)) || (await signAll(ground, of));
}

/** Before anybody signs, another person counts; answers whether that changed anything. */
async function isCountedAgain(ground: Ground, open: readonly OpenDifference[]): Promise<boolean> {
  const { places } = await desk(ground);
  const moved = places.filter(({ tally }) => tally?.movedSince).map(({ place }) => place);
  const wrong = new Set(moved.filter((place) => open.some((one) => one.place === place)));
  for (const { place, pieceStandard } of open) {
    if (await isThere(ground, `count/${place}`, pieceStandard)) wrong.add(place);
  }
  if (wrong.size === 0) return false;
  await tallyPlaces(ground, wrong, { isFirst: false });
  // Whoever counts a place again counts all of it.
  for (const place of wrong) ground.ledger.found(`count/${place}`, 'tally');
  return true;
}

/** Pieces that were signed away as missing and lie there again, or the other way: the difference ends as found. */
async function isFoundAgain(ground: Ground, open: readonly OpenDifference[]): Promise<boolean> {
  const signed = await openSigned(ground);
  for (const { place, pieceStandard, pieces } of open) {
    const row = signed.find(
      (one) => one.place === place && one.pieceStandard === pieceStandard && one.pieces === -pieces,
    );
    if (!row) continue;
    const words = `The next count of ${place} shows the opposite difference of ${pieces} pieces.`;
    if (!(await explain(ground, row.difference, { outcome: 'found', words }))) continue;
    for (const fault of ground.ledger.openAt(place, pieceStandard)) {
      if (fault.state === 'signed' && /tally/.test(fault.kind))
        ground.ledger.settle(fault, 'tally');
    }
    await tallyPlaces(ground, [place], { isFirst: false });
    return true;
  }
  return false;
}

async function openSigned(ground: Ground): Promise<readonly DifferenceRow[]> {
  const rows = await ground.plant.books.select(differences, { by: 'byState', prefix: ['open'] });
  return rows.filter((row) => row.form === 'signed');
}

/** Signs what could not be explained, and says so; it stays open, so that it can still be found. */
async function signAll(ground: Ground, open: readonly OpenDifference[]): Promise<boolean> {
  let signed = 0;
  for (const one of open) {
    const reason = `${Math.abs(one.pieces)} ${one.pieces < 0 ? 'missing' : 'too many'} in ${one.place}. ${unresolved}`;
    const { pieces } = await signDifference(ground, one, reason);
    signed += pieces;
    if (pieces === 0) continue;
    const faults = ground.ledger.sign(one.place, one.pieceStandard, unresolved);
    if (faults.length === 0 && !ground.ledger.wasSigned(one.place, one.pieceStandard)) {
      const words = `${reason} Nothing was planted there.`;
      ground.ledger.falseAlarms.push({ shift: ground.ledger.shift, control: 'tally', words });
    }
  }
  for (const { place, pieceStandard } of open) {
    ground.world.settleUnwritten(place, pieceStandard);
  }
  return signed > 0;
}

/** Each difference of grams that stands out is explained by the balance that was wrong, or by nothing that is known. */
async function explainGrams(ground: Ground): Promise<void> {
  const rows = await ground.plant.books.select(differences, { by: 'byState', prefix: ['open'] });
  for (const row of rows) {
    if (row.form === 'signed') continue;
    const grams = (row.grossMicrograms / 1e6).toFixed(2);
    const words = `${grams} g of ${row.pieceStandard} in ${row.place}`;
    const causes = gramCauses(ground, row.place);
    if (causes.length === 0) {
      ground.ledger.falseAlarms.push({
        shift: ground.ledger.shift,
        control: 'gram balance',
        words,
      });
    }
    const because =
      causes.length > 0 ? causes.slice(0, 5).join('; ') : 'the balances were checked and agree';
    await explain(ground, row.difference, { outcome: 'explained', words: `${words}: ${because}.` });
  }
}

/** What is planted that makes grams differ at a place; a drifting balance is adjusted now. */
function gramCauses(ground: Ground, place: string): readonly string[] {
  const causes: string[] = [];
  for (const name of ['press', 'tubes'] as const) {
    if (!ground.balances.isDrifting(name)) continue;
    ground.balances.adjust(name);
    ground.ledger.found(`balance/${name}`, 'gram balance');
    causes.push(`the balance ${name} drifted`);
  }
  for (const fault of ground.ledger.planted.filter(({ shift }) => shift === ground.ledger.shift)) {
    const isWeighing = faultKinds[fault.kind].family === 'instruments';
    if (!isWeighing && !fault.places.includes(place)) continue;
    if (isWeighing && fault.state === 'planted') ground.ledger.settle(fault, 'gram balance');
    causes.push(fault.words);
  }
  return causes;
}
