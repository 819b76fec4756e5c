import type { BookReader } from '../../src/journal/books.ts';
import type { Recorder } from '../../src/journal/recorder.ts';
import { shiftAt, threeShifts } from '../../src/journal/shift.ts';
import { type Chance, chanceFrom } from '../chance.ts';
import { closeDay, closeShift, tallyPlaces } from './account-work.ts';
import { heron, lantern, plantTimeZone } from './cast.ts';
import { deliveries } from './deliveries.ts';
import { equip } from './equip.ts';
import { newEquipment, withOwnChance } from './equipment.ts';
import type { FolderLike } from './folder-like.ts';
import { morning, takeOver } from './fortnight.ts';
import { dayAfter, found } from './founding.ts';
import { Hand, type VirtualClock } from './hand.ts';
import { examineMelt } from './laboratory-work.ts';
import { heapGrams, take } from './metal.ts';
import { closeWithMissingPiece, missingPieceDay } from './missing-piece.ts';
import { blanksLeft, runPress } from './press-work.ts';
import { putUp, setAside, weighTube } from './put-up-work.ts';
import { receiveConsignment } from './receiving-work.ts';
import type { MeltAtWork, Scene } from './state.ts';
import { certifyBoxes, dispatchBoxes } from './strong-room-work.ts';

/** How many days of work the demonstration tells. */
export const demonstrationDays = 14;

/** The day on which a die cracks between two checks. */
const crackDay = 8;

/** Everything of one shift that its work needs to know. */
interface ShiftAtWork {
  readonly scene: Scene;
  readonly books: BookReader;
  /** Days since the demonstration began, from 0. */
  readonly day: number;
  readonly part: 'early' | 'late' | 'night';
  /** Chance of the tallies. */
  readonly tallies: Chance;
}

/** What the demonstration needs. */
export interface DemonstrationOptions {
  readonly recorder: Recorder;
  readonly books: BookReader;
  readonly attachments: FolderLike;
  readonly clock: VirtualClock;
  readonly seed: number;
  /** Local day on which the demonstration begins. */
  readonly firstDay: string;
  /** Told after each shift, for a sign of progress. */
  readonly onShift?: (shift: string) => void;
}

/** The instant of a local time of the demonstration's plant. */
export function localInstant(day: string, minutes: number): number {
  const asUtc = Date.parse(`${day}T00:00:00Z`) + minutes * 60_000;
  for (const offsetHours of [1, 2]) {
    const instant = asUtc - offsetHours * 3_600_000;
    const text = new Intl.DateTimeFormat('en-GB', {
      timeZone: plantTimeZone,
      hour: '2-digit',
      minute: '2-digit',
      hourCycle: 'h23',
    }).format(instant);
    const wanted = new Date(asUtc).toISOString().slice(11, 16);
    if (text === wanted) return instant;
  }
  return asUtc - 3_600_000;
}

/** The instant at which the demonstration begins: an hour before the first shift. */
export function demonstrationStart(firstDay: string): number {
  return localInstant(firstDay, 5 * 60);
}

/** Works through two weeks of three shifts; the last shift stays open, with nineteen in a tube. */
export async function demonstrate(options: DemonstrationOptions): Promise<void> {
  const hand = new Hand(options.recorder, options.clock);
  await found(hand, options.firstDay);
  await equip(hand, options.firstDay);
  const equipment = newEquipment(options.seed, options.firstDay);
  const scene: Scene = {
    hand,
    chance: chanceFrom(options.seed),
    attachments: options.attachments,
    melts: [],
    openTubes: new Map(),
    boxesPacked: [],
    boxesCertified: [],
    counters: new Map(),
    numbers: new Map(),
    equipment,
  };
  await takeOver(scene);
  const tallies = chanceFrom(options.seed + 7919);
  for (let day = 0; day < demonstrationDays; day += 1) {
    const date = dayAfter(options.firstDay, day);
    equipment.today = { date, day };
    for (const { name, startMinutes } of threeShifts) {
      const part = name as ShiftAtWork['part'];
      const isLast = day === demonstrationDays - 1 && part === 'late';
      options.clock.reach(localInstant(date, startMinutes + 5));
      const shift = shiftAt({ timeZone: plantTimeZone, shifts: threeShifts }, options.clock.now());
      const work: ShiftAtWork = { scene, books: options.books, day, part, tallies };
      if (day > 0 && part === 'early') await closeDay(scene, dayAfter(date, -1));
      await workShift(work);
      if (isLast) {
        await leaveOpen(work, shift);
        return;
      }
      const isMissing = day === missingPieceDay && part === 'night';
      const close = isMissing ? closeWithMissingPiece : closeShift;
      await close(scene, options.books, { shift, chance: tallies });
      options.onShift?.(shift);
    }
  }
}

async function workShift(work: ShiftAtWork): Promise<void> {
  const { scene, day, part } = work;
  const delivery = deliveries[day];
  if (part === 'early') {
    await morning(scene, work.books);
    await strongRoom(work);
    if (delivery) {
      await receiveConsignment(withOwnChance(scene, delivery.standard.pieceStandard), delivery);
    }
    await strikeGold(work);
  }
  if (part === 'late') await judgeMelts(work);
  await strikeSilver(work);
}

/** Examines what was drawn and rules on it, but for the two melts of the last delivery. */
async function judgeMelts({ scene, day }: ShiftAtWork): Promise<void> {
  for (const melt of scene.melts.filter(({ ruling }) => ruling === 'none')) {
    if (melt.examined) continue;
    await examineMelt(withOwnChance(scene, melt.truth.standard.pieceStandard), melt);
    const { marginPerMille } = melt.truth;
    if (day >= 12 && marginPerMille < 0.01) continue;
    await rule(scene, melt);
  }
}

/** What the chief assayer decides of a melt, and why. */
function rulingOf({ truth }: MeltAtWork): { ruling: string; reason: string } {
  if (truth.marginPerMille <= 0) return { ruling: 'refuse', reason: 'Below its fineness.' };
  if (truth.isThick) {
    return { ruling: 'concession', reason: 'Fineness passes; the dies take the thicker blanks.' };
  }
  return { ruling: 'release', reason: 'The result and its guard band lie above the limit.' };
}

async function rule(scene: Scene, melt: MeltAtWork): Promise<void> {
  const isGood = melt.truth.marginPerMille > 0;
  await scene.hand.do({
    by: 'orla',
    command: 'rule-melt',
    input: { melt: melt.truth.melt, ...rulingOf(melt) },
    seconds: 300,
  });
  melt.ruling = isGood ? 'release' : 'refuse';
  if (isGood) return;
  await scene.hand.do({
    by: 'bettina',
    with: 'wren',
    command: 'return-melt',
    input: { melt: melt.truth.melt, document: `Return note ${melt.truth.melt}` },
    seconds: 900,
  });
  melt.drums.clear();
}

const readyMelt = (scene: Scene, standard: string): MeltAtWork | undefined =>
  scene.melts.find(
    (melt) =>
      melt.ruling === 'release' &&
      melt.truth.standard.pieceStandard === standard &&
      blanksLeft(melt) > 0,
  );

const bench = { custodian: 'jonas', second: 'milo' } as const;

async function strikeSilver(work: ShiftAtWork): Promise<void> {
  const { scene, day, part } = work;
  const melt = readyMelt(scene, heron.pieceStandard);
  if (!melt) return;
  const isCrack = day === crackDay && part === 'late';
  const pieces = isCrack ? Math.min(200, blanksLeft(melt)) : Math.min(400, blanksLeft(melt));
  const obverse = day < crackDay || isCrack ? 'H-O-01' : 'H-O-02';
  await runPress(scene, {
    melt,
    pieces,
    press: 'PRESS-1',
    obverse: day === crackDay && part === 'night' ? 'H-O-02' : obverse,
    reverse: 'H-R-01',
    collar: 'H-C-01',
    inspector: part === 'early' ? 'wren' : 'milo',
    custodian: part === 'early' ? 'bettina' : 'jonas',
    acceptedBy: 'jonas',
    ...(isCrack ? { crackSeenAtStrike: pieces } : {}),
  });
  if (isCrack) return;
  const isLast = day === demonstrationDays - 1 && part === 'late';
  await putUp(scene, melt, bench, isLast ? heron.piecesPerTube : 0);
  if (!isLast && blanksLeft(melt) === 0 && melt.loose.length > 0) {
    await setAside(scene, melt, { pieces: melt.loose.length, bench });
  }
}

async function strikeGold({ scene, day }: ShiftAtWork): Promise<void> {
  const melt = readyMelt(scene, lantern.pieceStandard);
  if (!melt) return;
  const isOneSided = day === demonstrationDays - 1;
  await runPress(scene, {
    melt,
    pieces: Math.min(120, blanksLeft(melt)),
    press: 'PRESS-2',
    obverse: 'L-O-01',
    reverse: 'L-R-01',
    collar: 'L-C-01',
    inspector: 'wren',
    custodian: 'bettina',
    ...(isOneSided ? {} : { acceptedBy: 'jonas' as const }),
  });
  if (isOneSided) return;
  await putUp(scene, melt, bench);
}

/** Certificates on every second day, dispatch on the days between. */
async function strongRoom({ scene, day }: ShiftAtWork): Promise<void> {
  if (day < 3) return;
  if (day % 2 === 1) {
    await certifyBoxes(scene, heron.pieceStandard);
    await certifyBoxes(scene, lantern.pieceStandard);
  } else {
    const purchaser = day % 4 === 0 ? 'calder-house' : 'north-quay';
    await dispatchBoxes(scene, { purchaser, boxes: 6 });
  }
}

/** The last shift: a tube holds nineteen, the pieces do not agree, and the shift does not close. */
async function leaveOpen({ scene, books, tallies }: ShiftAtWork, shift: string): Promise<void> {
  const { piecesPerTube, pieceStandard, tubeTareGrams } = heron;
  const melt = scene.melts.find(
    (item) =>
      item.truth.standard.pieceStandard === pieceStandard && item.loose.length >= piecesPerTube,
  );
  if (!melt) throw new Error('no melt has loose pieces for the last tube');
  const heap = take(melt.loose, piecesPerTube - 1);
  const tube = { melt, bench, tube: 'TS09019', heap, tare: tubeTareGrams };
  await weighTube(scene, tube);
  await weighTube(scene, tube);
  const netGrams = heapGrams(heap);
  const closed = { tube: tube.tube, grossGrams: netGrams + tubeTareGrams, netGrams };
  scene.openTubes.get(pieceStandard)?.push(closed);
  const missing = [{ place: 'put-up', pieceStandard, pieces: 1 }] as const;
  await tallyPlaces(scene, books, { chance: tallies, missing });
  await scene.hand.beRefused('PiecesDiffer', {
    by: 'sorrel',
    with: 'jonas',
    command: 'close-shift',
    input: { shift },
  });
}
