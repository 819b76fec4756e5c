import type { Paper } from '../../journal/station.ts';
import { pieceStandardOf, plantOf, supplierOf } from '../registers/index.ts';
import { melts, samplingOrders } from './books.ts';
import { pickListPage } from './pick-list-content.ts';
import { pickListPdf } from './pick-list-pdf.ts';
import { greatestTray, pickWalk } from './pick-walk.ts';

/** Names the paper of a melt whose blanks are laid out on trays of that size. */
const trayMark = '@';

/** A melt, or a melt and the size of the trays: M-1 or M-1@100. */
function askedFor(
  id: string,
): { readonly melt: string; readonly trayPieces: number | null } | undefined {
  const [melt = '', tray] = id.split(trayMark);
  if (tray === undefined) return { melt, trayPieces: null };
  const trayPieces = Number(tray);
  const isSize = /^\d{1,5}$/.test(tray) && trayPieces >= 1 && trayPieces <= greatestTray;
  return isSize ? { melt, trayPieces } : undefined;
}

/** The list to carry along the drums of a melt, with a code to scan for each drum and pick. */
export const pickListPaper: Paper = {
  paper: 'pick-list',
  station: 'receiving',
  title: 'Pick list',
  render: async ({ books }, id) => {
    const asked = askedFor(id);
    const order = asked && (await books.get(samplingOrders, asked.melt));
    const melt = asked && (await books.get(melts, asked.melt));
    if (!asked || !order || !melt) return undefined;
    const plant = await plantOf(books);
    const page = pickListPage({
      plantTitle: plant?.title ?? '',
      supplierName: (await supplierOf(books, melt.supplier))?.name ?? melt.supplier,
      standardTitle:
        (await pieceStandardOf(books, melt.pieceStandard))?.title ?? melt.pieceStandard,
      order,
      walk: await pickWalk(books, asked.melt, asked.trayPieces),
      trayPieces: asked.trayPieces,
    });
    return {
      mediaType: 'application/pdf',
      fileName: `pick-list-${asked.melt}.pdf`,
      bytes: pickListPdf(page),
    };
  },
};

export const receivingPapers = [pickListPaper] as const;
