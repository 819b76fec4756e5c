import { State } from '../../../workbench/index.ts';
import { type DeskPlace, differenceWords } from './desk-answer.ts';

/** Where the count of a place stands, as everybody may know it. */
export function PlaceState({ place }: { readonly place: DeskPlace }) {
  const { tally, needsTally } = place;
  if (tally?.movedSince) return <State word="metal moved since" tone="look" />;
  if (tally) return <State word="counted" tone="done" />;
  return needsTally ? (
    <State word="to be counted" tone="waits" />
  ) : (
    <State word="nothing to count" />
  );
}

/** The difference of one line in pieces, coloured where it needs a hand. */
export function PiecesDifference({ pieces }: { readonly pieces: number | null }) {
  if (pieces === null) return '–';
  return pieces === 0 ? '0' : <State word={differenceWords(pieces)} tone="stopped" />;
}
