import type { InsidePlace } from '../../src/journal/place.ts';
import { type Act, attempt, type Ground, type Tried } from './ground.ts';

/** A move of pieces: what its entry says and what was done. */
interface Move {
  readonly said: number;
  readonly moved: number;
  readonly places: readonly InsidePlace[];
  readonly pieceStandard: string;
  /** Looks beside that at the entry at which a wrong entry of this kind is seen. */
  readonly seenAt?: readonly string[];
}

/** Records a move of pieces; now and then somebody records the same act once more under another key. */
export async function recordMove(ground: Ground, act: Act, move: Move): Promise<Tried> {
  const tried = await attempt(ground, act);
  const entry = tried.recorded?.entries[0]?.number;
  if (entry === undefined) return tried;
  ground.world.papers.set(entry, { entry, said: move.said, moved: move.moved });
  if (ground.ledger.happens('act booked twice')) await bookAgain(ground, act, { ...move, entry });
  return tried;
}

async function bookAgain(ground: Ground, act: Act, first: Move & { entry: number }): Promise<void> {
  const { said, places, pieceStandard, seenAt = [] } = first;
  const twice = await attempt(ground, act);
  const entry = twice.recorded?.entries[0]?.number;
  const words = `${act.command} of ${said} pieces, entry ${first.entry}, recorded again under another key`;
  if (entry === undefined) {
    const fault = ground.ledger.plant('act booked twice', { words, seenAt: [] });
    ground.ledger.settle(fault, 'rule that refuses');
    return;
  }
  ground.world.papers.set(entry, { entry, said, moved: 0 });
  ground.ledger.plant('act booked twice', {
    words: `${words}, entry ${entry}`,
    seenAt: [`entry ${first.entry}`, `entry ${entry}`, ...seenAt],
    places,
    pieceStandard,
  });
}

/** The number with two neighbouring digits exchanged; nothing where that changes nothing. */
export function transposed(number: number): number | undefined {
  const digits = [...String(number)];
  for (let at = digits.length - 1; at > 0; at -= 1) {
    const [left, right] = [digits[at - 1] ?? '', digits[at] ?? ''];
    if (left === right || (at === 1 && right === '0')) continue;
    digits.splice(at - 1, 2, right, left);
    return Number(digits.join(''));
  }
  return undefined;
}
