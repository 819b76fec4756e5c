import { readFileSync } from 'node:fs';
import type { Paper } from '../../../journal/station.ts';
import { peopleOf, pieceStandardOf, plantOf, supplierOf } from '../../registers/index.ts';
import { melts } from '../books.ts';
import { pdfOf } from '../typesetting.ts';
import { portions, sendings } from './books.ts';
import { portionNotePage } from './note-page.ts';

const template = readFileSync(new URL('./portion-note.typ', import.meta.url), 'utf8');

/** The note that goes with a sealed portion to supplier or umpire. */
export const portionNotePaper: Paper = {
  paper: 'portion-note',
  station: 'receiving',
  title: 'Note of a portion',
  render: async ({ books, proofOf }, id) => {
    const portion = await books.get(portions, id);
    const [sending] = await books.select(sendings, { prefix: [id], descending: true, limit: 1 });
    const melt = portion && (await books.get(melts, portion.melt));
    const standard = portion && (await pieceStandardOf(books, portion.pieceStandard));
    if (!portion || !sending || !melt || !standard) return undefined;
    const names = new Map((await peopleOf(books)).map(({ person, name }) => [person, name]));
    const page = portionNotePage({
      plantTitle: (await plantOf(books))?.title ?? '',
      supplierName: (await supplierOf(books, melt.supplier))?.name ?? melt.supplier,
      standardTitle: standard.title,
      assayMethod: standard.assayMethod,
      portion,
      sending,
      entryHash: (await proofOf(sending.entry))?.entryHash,
      nameOf: (person) => names.get(person) ?? person,
    });
    return {
      mediaType: 'application/pdf',
      fileName: `portion-${id.replaceAll('/', '-')}.pdf`,
      bytes: pdfOf(template, page, 'note of a portion'),
    };
  },
};
