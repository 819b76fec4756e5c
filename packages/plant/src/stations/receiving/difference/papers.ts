import { readFileSync } from 'node:fs';
import type { Paper } from '../../../journal/station.ts';
import { peopleOf, pieceStandardOf, plantOf, supplierOf } from '../../registers/index.ts';
import { pdfOf } from '../typesetting.ts';
import { differences } from './books.ts';
import { differencePage } from './difference-page.ts';

const template = readFileSync(new URL('./difference.typ', import.meta.url), 'utf8');

/** A difference for the supplier, with the names of the two who raised it. */
const differencePaper: Paper = {
  paper: 'supplier-difference',
  station: 'receiving',
  title: 'Difference',
  render: async ({ books, proofOf }, id) => {
    const row = await books.get(differences, id);
    if (!row) return undefined;
    const names = new Map((await peopleOf(books)).map(({ person, name }) => [person, name]));
    const page = differencePage({
      row,
      plantTitle: (await plantOf(books))?.title ?? '',
      supplierName: (await supplierOf(books, row.supplier))?.name ?? row.supplier,
      standardTitle: (await pieceStandardOf(books, row.pieceStandard))?.title ?? row.pieceStandard,
      entryHash: (await proofOf(row.entry))?.entryHash,
      nameOf: (person) => names.get(person) ?? person,
    });
    return {
      mediaType: 'application/pdf',
      fileName: `${row.difference}.pdf`,
      bytes: pdfOf(template, page, 'difference'),
    };
  },
};

export const differencePapers = [differencePaper] as const;
