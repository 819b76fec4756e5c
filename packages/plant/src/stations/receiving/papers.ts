import type { Paper } from '../../journal/station.ts';
import { pieceStandardOf, plantOf, supplierOf } from '../registers/index.ts';
import { melts, samplingOrders } from './books.ts';
import { pickListPage } from './pick-list-content.ts';
import { pickListPdf } from './pick-list-pdf.ts';
import { pickWalk } from './pick-walk.ts';
import { askedFor } from './tray-mark.ts';

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
