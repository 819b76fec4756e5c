import type { BookReader } from '../../src/journal/books.ts';
import { placeBalances } from '../../src/journal/core-books.ts';
import { type InsidePlace, insidePlaces } from '../../src/journal/place.ts';
import type { Reading } from '../../src/journal/reading.ts';
import type { Chance } from '../chance.ts';
import type { PersonId } from './cast.ts';
import { balances } from './instruments.ts';
import { type TrueBalance, weigh } from './readings.ts';
import type { Scene } from './state.ts';
import { trueGramsAt } from './true-grams.ts';

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

/** The balance on which everything at a place is weighed; elsewhere pieces are only counted, as sealed boxes are. */
const balanceAt: Readonly<Partial<Record<InsidePlace, TrueBalance>>> = {
  receiving: balances.drums,
  laboratory: balances.blanks,
  'press-room': balances.press,
  'put-up': balances.boxes,
};

/** Pieces that are missing at a place although the book says that they lie there. */
interface MissingPieces {
  readonly place: InsidePlace;
  readonly pieceStandard: string;
  readonly pieces: number;
}

/** What a tally needs beside the book. */
interface TallyOptions {
  /** Chance of its own, so that counting changes nothing else of the story. */
  readonly chance: Chance;
  readonly missing?: readonly MissingPieces[];
}

interface Lying {
  pieces: number;
  grams: number;
}

/** What lies at a place by the book, with nought of what has left it. */
async function lyingAt(books: BookReader, place: InsidePlace): Promise<ReadonlyMap<string, Lying>> {
  const rows = await books.select(placeBalances, { prefix: [place] });
  return new Map(
    rows.map(({ pieceStandard, pieces, grossMicrograms }) => [
      pieceStandard,
      { pieces, grams: grossMicrograms / 1e6 },
    ]),
  );
}

/** An empty place is not weighed: its balance stands at zero. */
function weighOrEmpty(balance: TrueBalance, grams: number, chance: Chance): Reading {
  return grams > balance.divisionGrams
    ? weigh(balance, grams, chance)
    : { text: '0.0', unit: 'g', typed: false };
}

/** The balance of a tally, with its chance: the scrap is weighed where the laboratory sends metal to it. */
function weighedAt(
  scene: Scene,
  place: InsidePlace,
  chance: Chance,
): { readonly balance: TrueBalance | undefined; readonly chance: Chance } {
  const { equipment } = scene;
  if (place === 'scrap' && equipment) return { balance: balances.blanks, chance: equipment.chance };
  return { balance: balanceAt[place], chance };
}

/** Counts and weighs every place that has ever held metal. */
export async function tallyPlaces(
  scene: Scene,
  books: BookReader,
  { chance: ofTallies, missing = [] }: TallyOptions,
): Promise<void> {
  for (const place of insidePlaces) {
    const lying = await lyingAt(books, place);
    if (lying.size === 0) continue;
    const { balance, chance } = weighedAt(scene, place, ofTallies);
    const lines = [...lying].map(([pieceStandard, { pieces, grams: booked }]) => {
      const grams = (scene.equipment && trueGramsAt(scene, place, pieceStandard)) ?? booked;
      const gone = missing.find(
        (item) => item.place === place && item.pieceStandard === pieceStandard,
      );
      const found = pieces - (gone?.pieces ?? 0);
      const trueGrams = pieces > 0 ? (grams * found) / pieces : grams;
      return {
        pieceStandard,
        pieces: found,
        gross: balance
          ? weighOrEmpty(
              balance,
              trueGrams,
              scene.equipment?.ownChance.get(pieceStandard) ?? chance,
            )
          : null,
        instrument: balance?.instrument ?? null,
      };
    });
    await scene.hand.do({
      by: counters[place],
      command: 'tally-place',
      input: { place, lines },
      seconds: 120,
    });
  }
}

/** Closes a shift after every place has been counted. */
export async function closeShift(
  scene: Scene,
  books: BookReader,
  of: { readonly shift: string; readonly chance: Chance },
): Promise<void> {
  await tallyPlaces(scene, books, { chance: of.chance });
  await endShift(scene, of.shift);
}

/** Closes a shift whose places are tallied and whose differences are signed. */
export async function endShift(scene: Scene, shift: string): Promise<void> {
  await scene.hand.do({
    by: 'sorrel',
    with: 'jonas',
    command: 'close-shift',
    input: { shift },
    seconds: 120,
  });
}

/** Closes a day that has ended and whose shifts are all closed. */
export async function closeDay(scene: Scene, day: string): Promise<void> {
  await scene.hand.do({
    by: 'sorrel',
    with: 'orla',
    command: 'close-day',
    input: { period: day },
    seconds: 120,
  });
}
