import type { BookReader } from '../../journal/books.ts';
import { seesBook } from '../../journal/sees-book.ts';
import type { DocketPaper } from '../../journal/station.ts';
import { boxesInStrongRoom } from './questions.ts';

/** Sealed boxes that wait for a certificate, by piece standard. */
export async function certificateDocket(books: BookReader): Promise<readonly DocketPaper[]> {
  const waiting = (await boxesInStrongRoom(books)).filter(
    ({ certified }) => !certified?.certificate,
  );
  const standards = [...new Set(waiting.map(({ row }) => row.pieceStandard))].sort();
  return standards.map((pieceStandard) => {
    const rows = waiting.map(({ row }) => row).filter((row) => row.pieceStandard === pieceStandard);
    const pieces = rows.reduce((total, row) => total + row.pieces, 0);
    const count = `${rows.length} sealed ${rows.length === 1 ? 'box' : 'boxes'}`;
    const why = `Packed since entry ${rows[0]?.entry}.`;
    const holdsUp = 'Their dispatch.';
    return {
      paper: `certificate/uncertified/${pieceStandard}`,
      station: 'certificate',
      what: `${count} of ${pieceStandard}, ${pieces} pieces, lie in the strong room without a certificate.`,
      why,
      holdsUp,
      act: 'Issue certificate',
      path: '/certificate',
      since: rows[0]?.instant ?? '',
      weight: 'look' as const,
      readableBy: seesBook,
      // Whoever counts the strong room counts the pieces himself.
      toOthers: {
        what: `${count} of ${pieceStandard} lie in the strong room without a certificate.`,
        why,
        holdsUp,
        weight: 'look' as const,
      },
    };
  });
}
