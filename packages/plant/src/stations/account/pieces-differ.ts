import { type Refusal, refuse } from '../../journal/refusal.ts';
import type { TallyRow } from './books.ts';
import { compareTally } from './comparison.ts';
import type { Period } from './period.ts';
import { placeName } from './place-name.ts';
import { accountRefusals } from './refusals.ts';

/** A refusal for every piece standard whose pieces a tally did not find as the postings say. */
export function piecesRefusals(tally: TallyRow, period: Period): readonly Refusal[] {
  return compareTally(tally, period.signed)
    .filter((line) => line.piecesDifference !== 0)
    .map((line) => {
      const { pieceStandard, piecesBook, piecesTally, piecesSigned, piecesDifference } = line;
      const count = Math.abs(piecesDifference);
      const way = piecesDifference < 0 ? 'missing' : 'too many';
      const signed = piecesSigned === 0 ? '' : `, ${piecesSigned} signed for`;
      return refuse(accountRefusals, 'PiecesDiffer', {
        message: `${count} ${count === 1 ? 'piece' : 'pieces'} of ${pieceStandard} ${way} in ${placeName(tally.place)}: tally ${piecesTally}, book ${piecesBook}${signed}.`,
        figures: {
          place: tally.place,
          pieceStandard,
          piecesBook,
          piecesTally,
          piecesSigned,
          piecesDifference,
          tally: tally.tally,
        },
      });
    });
}
