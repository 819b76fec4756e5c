import { type BalanceRow, balanceOfPlace } from '../../src/journal/core-books.ts';
import type { InsidePlace } from '../../src/journal/place.ts';
import { heron, lantern } from '../demonstration/cast.ts';
import { bodyOf } from '../demonstration/hand.ts';
import { witness } from './founding.ts';
import { attempt, type Ground, unexpected } from './ground.ts';
import { idOf } from './world.ts';

/** A difference as the close of a shift is refused for it: tally less book. */
export interface OpenDifference {
  readonly place: InsidePlace;
  readonly pieceStandard: string;
  readonly pieces: number;
}

interface Part {
  readonly melt: string;
  readonly pieces: number;
  readonly grossMicrograms: number;
}

const declaredMicrograms = (pieceStandard: string): number =>
  (pieceStandard === heron.pieceStandard ? heron : lantern).massDeclaredMilligrams * 1000;

/**
 * From which melts the pieces are signed away: first those whose trays hold less than their book,
 * since people who count a standard see its melts apart.
 */
async function partsOf(ground: Ground, open: OpenDifference): Promise<readonly Part[]> {
  const { place, pieceStandard, pieces } = open;
  const rows = (await balanceOfPlace(ground.plant.books, place)).filter(
    (row) => row.pieceStandard === pieceStandard && row.melt !== '',
  );
  const gapOf = (row: BalanceRow): number => {
    const melt = ground.world.melts.find((one) => idOf(one) === row.melt);
    return row.pieces - (melt ? ground.world.ofMelt(place, melt) : 0);
  };
  const isMissing = pieces < 0;
  const order = [...rows].sort((a, b) => (isMissing ? gapOf(b) - gapOf(a) : gapOf(a) - gapOf(b)));
  const perPiece = declaredMicrograms(pieceStandard);
  if (!isMissing) {
    const [first] = order;
    const melt = first?.melt ?? ground.world.melts.map(idOf).at(-1) ?? '';
    return [{ melt, pieces, grossMicrograms: pieces * perPiece }];
  }
  const parts: Part[] = [];
  let left = -pieces;
  for (const row of order) {
    const taken = Math.min(left, Math.max(0, row.pieces));
    if (taken === 0) continue;
    left -= taken;
    const grossMicrograms = Math.min(taken * perPiece, Math.max(0, row.grossMicrograms));
    parts.push({ melt: row.melt, pieces: taken, grossMicrograms });
  }
  return parts;
}

/** What was signed: the pieces, and the names of the differences. */
interface Signed {
  readonly pieces: number;
  readonly differences: readonly string[];
}

/** Signs a difference for what it is, as far as the newest tally shows it. */
export async function signDifference(
  ground: Ground,
  open: OpenDifference,
  explanation: string,
): Promise<Signed> {
  const differences: string[] = [];
  let signed = 0;
  for (const part of await partsOf(ground, open)) {
    const direction = open.pieces < 0 ? 'missing' : 'surplus';
    const act = signAct({ ...open, ...part, direction, explanation });
    const tried = await attempt(ground, act);
    if (tried.recorded) {
      signed += part.pieces;
      differences.push(String(bodyOf(tried.recorded, 'DifferenceSigned')['difference']));
    } else if (tried.refusals.includes('GramsExceedBook')) {
      const words = `${part.pieces} pieces of melt ${part.melt} are missing in ${open.place} and cannot be signed for: the book holds pieces there and no grams`;
      ground.obstacles.push({ shift: ground.ledger.shift, words });
    } else if (!tried.refusals.every((name) => name.startsWith('Difference'))) {
      throw unexpected(act, tried);
    }
  }
  return { pieces: signed, differences };
}

function signAct(
  of: Part & {
    readonly place: InsidePlace;
    readonly pieceStandard: string;
    readonly direction: string;
    readonly explanation: string;
  },
) {
  const { grossMicrograms, place, pieceStandard, melt, direction, pieces, explanation } = of;
  const text = (grossMicrograms / 1e6).toFixed(6);
  const gross = grossMicrograms > 0 ? { text, unit: 'g', typed: true } : null;
  return {
    by: 'orla',
    with: witness,
    command: 'sign-difference',
    input: { place, pieceStandard, melt, direction, pieces, gross, explanation },
    seconds: 300,
  } as const;
}

/** Says how a difference ended; answers false when the record cannot put the pieces back. */
export async function explain(
  ground: Ground,
  difference: string,
  explanation: { readonly outcome: string; readonly words: string },
): Promise<boolean> {
  const act = {
    by: 'orla',
    with: witness,
    command: 'explain-difference',
    input: { difference, outcome: explanation.outcome, explanation: explanation.words },
    seconds: 120,
  } as const;
  const tried = await attempt(ground, act);
  if (!tried.recorded && !tried.refusals.includes('NotEnoughPieces')) throw unexpected(act, tried);
  return tried.recorded !== undefined;
}
