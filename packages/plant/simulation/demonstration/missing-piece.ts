import type { BookReader } from '../../src/journal/books.ts';
import type { Chance } from '../chance.ts';
import { endShift, tallyPlaces } from './account-work.ts';
import { lantern } from './cast.ts';
import { bodyOf } from './hand.ts';
import type { Scene } from './state.ts';

/** The night in which a gold piece is not found; it turns up on the next morning. */
export const missingPieceDay = 8;

/** Closes a shift in which a piece is missing: the chief assayer and a custodian sign for it. */
export async function closeWithMissingPiece(
  scene: Scene,
  books: BookReader,
  of: { readonly shift: string; readonly chance: Chance },
): Promise<void> {
  const { pieceStandard, massDeclaredMilligrams } = lantern;
  const melt = scene.melts.find(
    ({ truth, loose }) => truth.standard.pieceStandard === pieceStandard && loose.length > 0,
  );
  if (!melt) throw new Error('no gold piece lies loose in put-up');
  const missing = [{ place: 'put-up', pieceStandard, pieces: 1 }] as const;
  await tallyPlaces(scene, books, { chance: of.chance, missing });
  const signed = await scene.hand.do({
    by: 'orla',
    with: 'jonas',
    command: 'sign-difference',
    input: {
      place: 'put-up',
      pieceStandard,
      melt: melt.truth.melt,
      direction: 'missing',
      pieces: 1,
      gross: { text: (massDeclaredMilligrams / 1000).toFixed(2), unit: 'g', typed: true },
      explanation: 'Counted twice by two people; benches, chutes and floor were searched.',
    },
    seconds: 1800,
  });
  scene.equipment?.missing.push(String(bodyOf(signed, 'DifferenceSigned')['difference']));
  await endShift(scene, of.shift);
}

/** The piece is found, and goes back into the book. */
export async function findMissingPiece({ hand, equipment }: Scene): Promise<void> {
  for (const difference of equipment?.missing.splice(0) ?? []) {
    await hand.do({
      by: 'orla',
      with: 'jonas',
      command: 'explain-difference',
      input: {
        difference,
        outcome: 'found',
        explanation: 'It lay in a fold of the counting cloth, which was shaken out this morning.',
      },
      seconds: 120,
    });
  }
}
