import type { PickListOutput } from '@cupel/calculation';
import type { BookReader } from '../../journal/books.ts';
import { calculate } from '../../journal/calculated.ts';
import {
  type Blank,
  blanks,
  drums,
  type PickSubstitution,
  pickSubstitutions,
  pickVerifications,
} from './books.ts';

/** So many blanks lie on the largest tray. */
export const greatestTray = 10_000;

/** A pick at its place on the walk. */
export interface WalkedPick {
  readonly blank: string;
  readonly pick: number;
  /** Of the blanks as they are taken out of the drum. */
  readonly position: number;
  /** Tray on which it comes to lie, and its place there; nothing where the blanks are not laid out. */
  readonly tray: number | null;
  readonly place: number | null;
  readonly forAssay: boolean;
  readonly forPhysical: boolean;
  /** True for those that are measured first, where the lot is judged by variables. */
  readonly forVariables: boolean;
  /** Why it is taken here and not where it was drawn first; nothing for a pick as drawn. */
  readonly substitutedFor: string | null;
}

/** A drum on the walk with its picks in their order. */
export interface WalkedDrum {
  readonly drum: string;
  readonly takenBefore: number;
  readonly picks: readonly WalkedPick[];
}

/** The walk along the drums of a melt. */
export interface PickWalk {
  readonly words: string;
  readonly drums: readonly WalkedDrum[];
  readonly substitutions: readonly PickSubstitution[];
  readonly verified: {
    readonly scanned: number;
    readonly notScanned: readonly string[];
    readonly reason: string | null;
  } | null;
}

/** Where a position of a drum comes to lie when its blanks are laid out on trays of one size. */
function layOut(position: number, trayPieces: number | null) {
  if (trayPieces === null) return { position };
  const tray = Math.floor((position - 1) / trayPieces) + 1;
  return { tray, position: ((position - 1) % trayPieces) + 1 };
}

type WalkedSubstitution = Pick<PickSubstitution, 'blank' | 'drawn' | 'reason'>;

function substitutedFor(
  blank: string,
  substitutions: readonly WalkedSubstitution[],
): string | null {
  const own = substitutions.filter((row) => row.blank === blank);
  const [first, last] = [own[0], own.at(-1)];
  if (!first || !last) return null;
  return `instead of ${first.drawn.position} in ${first.drawn.drum}: ${last.reason}`;
}

/** What a walk is made of. */
interface WalkParts {
  readonly melt: string;
  readonly picks: readonly Blank[];
  /** The drums that are still here, in the order in which they are walked along. */
  readonly drums: readonly string[];
  readonly substitutions: readonly WalkedSubstitution[];
  readonly trayPieces: number | null;
}

/** Puts picks into walking order, drum by drum, tray by tray, each where it lies now. */
export function walkOf(parts: WalkParts): Pick<PickWalk, 'words' | 'drums'> {
  const { melt, picks, trayPieces, substitutions } = parts;
  const { output } = calculate<PickListOutput>('pick-list', {
    walk: parts.drums.map((drum) => ({ container: drum, melt })),
    picks: picks.map(({ drum, position }) => ({
      container: drum,
      ...layOut(position, trayPieces),
    })),
  });
  const byPlace = new Map(picks.map((pick) => [`${pick.drum} ${pick.position}`, pick]));
  const found = (drum: string, tray: number | null, place: number): WalkedPick[] => {
    const position = tray === null ? place : (tray - 1) * (trayPieces ?? 0) + place;
    const pick = byPlace.get(`${drum} ${position}`);
    return pick ? [walked(pick, { tray, place }, substitutions)] : [];
  };
  return {
    words: output.words,
    drums: output.stops.map(({ container, takenBefore, trays }) => ({
      drum: container,
      takenBefore,
      picks: trays.flatMap(({ tray, positions }) =>
        positions.flatMap((place) => found(container, tray, place)),
      ),
    })),
  };
}

/** The picks of a melt's first sample on their walk. */
export async function pickWalk(
  books: BookReader,
  melt: string,
  trayPieces: number | null,
): Promise<PickWalk> {
  const all = await books.select(blanks, { by: 'byMelt', prefix: [melt] });
  const here = await books.select(drums, { by: 'byMelt', prefix: [melt] });
  const substitutions = await books.select(pickSubstitutions, { prefix: [melt] });
  const verification = await books.get(pickVerifications, melt);
  const walk = walkOf({
    melt,
    picks: all.filter(({ further }) => further === undefined),
    drums: here.filter(({ state }) => state !== 'returned').map(({ drum }) => drum),
    substitutions,
    trayPieces,
  });
  return {
    ...walk,
    substitutions,
    verified: verification
      ? {
          scanned: verification.scanned.length,
          notScanned: verification.notScanned,
          reason: verification.reason,
        }
      : null,
  };
}

function walked(
  { blank, pick, position, forAssay, forPhysical, forVariables = false }: Blank,
  at: { readonly tray: number | null; readonly place: number },
  substitutions: readonly WalkedSubstitution[],
): WalkedPick {
  return {
    blank,
    pick,
    position,
    tray: at.tray,
    place: at.tray === null ? null : at.place,
    forAssay,
    forPhysical,
    forVariables,
    substitutedFor: substitutedFor(blank, substitutions),
  };
}
