import { balanceOfPlace } from '../../src/journal/core-books.ts';
import type { InsidePlace } from '../../src/journal/place.ts';
import type { Ground } from './ground.ts';
import { toldByTally } from './told-by-tally.ts';
import { piecesIn, standardOf } from './world.ts';

/** What a look is taken at: its kind and its thing. */
export function partsOf(look: string): { readonly kind: string; readonly thing: string } {
  const at = look.search(/[/ ]/);
  return at < 0
    ? { kind: look, thing: '' }
    : { kind: look.slice(0, at), thing: look.slice(at + 1) };
}

/** The number of an entry in the name of a look, as `entry 14, line 2`. */
export const entryOf = (thing: string): number => Number.parseInt(thing, 10);

/**
 * Whether the cause really is where people look: from where the pieces lie and from the papers,
 * not from the list of what was planted.
 */
export async function isThere(
  ground: Ground,
  look: string,
  pieceStandard: string,
): Promise<boolean> {
  const { world } = ground;
  const { kind, thing } = partsOf(look);
  const isOf = ({ melt }: { melt: Parameters<typeof standardOf>[0] }) =>
    standardOf(melt) === pieceStandard;
  switch (kind) {
    case 'count': {
      const place = thing as InsidePlace;
      const told = await toldByTally(ground, place, pieceStandard);
      return told !== undefined && told !== world.countedAt(place, pieceStandard);
    }
    case 'floor':
      return world.fallen.some((piece) => piece.place === thing && isOf(piece));
    case 'tube': {
      const tube = world.tubes.get(thing);
      return tube !== undefined && tube.heap.length !== tube.label;
    }
    case 'box': {
      const box = world.boxes.get(thing);
      return box !== undefined && piecesIn(box) !== box.label;
    }
    case 'samples':
      return world.samplesUnwritten.some((sample) => isOf(sample) && !sample.isSigned);
    case 'unbooked':
      return [...world.boxes.values()].some(
        (box) => !box.isWritten && !box.isSigned && box.pieceStandard === pieceStandard,
      );
    case 'accept':
      return world.arrived.has(entryOf(thing));
    case 'rejects':
      return rejectsDiffer(ground, pieceStandard);
    case 'blanks':
    case 'delivery':
    case 'entry': {
      const paper = world.papers.get(entryOf(thing));
      if (!paper) return false;
      const doubles = ground.ledger.at(look).some((fault) => fault.kind === 'act booked twice');
      return paper.said !== paper.moved || doubles;
    }
    default:
      return false;
  }
}

/** Rejects counted against the book of the scrap. */
async function rejectsDiffer(ground: Ground, pieceStandard: string): Promise<boolean> {
  const rows = await balanceOfPlace(ground.plant.books, 'scrap');
  const book = rows
    .filter((row) => row.pieceStandard === pieceStandard)
    .reduce((sum, row) => sum + row.pieces, 0);
  return book !== ground.world.trulyAt('scrap', pieceStandard);
}
