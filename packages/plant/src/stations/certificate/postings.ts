import type { Posting } from '../../journal/posting.ts';
import type { BoxesDispatched } from './bodies.ts';

/** Boxes go to the purchaser with the masses that brought them into the strong room. */
export function postingsOfDispatch(body: BoxesDispatched): readonly Posting[] {
  return body.boxes.flatMap(({ box, metal, pieceStandard, parts }) =>
    parts.map(({ melt, pieces, grossMicrograms, fineMicrograms }) => ({
      metal,
      pieceStandard,
      melt,
      container: box,
      from: 'strong-room' as const,
      to: 'with-purchaser' as const,
      pieces,
      grossMicrograms,
      fineMicrograms,
      estimated: false,
    })),
  );
}
