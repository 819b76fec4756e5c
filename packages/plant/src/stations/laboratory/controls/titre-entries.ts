import type { BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import { defineKind } from '../../../journal/station.ts';
import { chartValues } from '../chart-read-model.ts';
import { valuesOfTitrant } from '../chart-subjects.ts';
import { titres } from './books.ts';
import { noteUses } from './note-uses.ts';
import { type TitreDetermined as TitreBody, titreDetermined } from './titre-bodies.ts';

async function applyTitre(books: BookWriter, entry: RecordedEntry<TitreBody>): Promise<void> {
  const { assayRun, instrument, titrant } = entry.body;
  const { number, instant, author } = entry;
  const { lot } = titrant;
  const row = { assayRun, lot, entry: number, instant, author, setAside: null, body: entry.body };
  await books.put(titres, row);
  await noteUses(books, entry, {
    what: 'titrant factor',
    melt: '',
    assayRun,
    of: { thing: 'reagent-lot', id: lot },
    instruments: [instrument],
    reagentLots: [lot],
  });
  const run = { assayRun, instrument, melt: '', pieceStandard: '' };
  const state = { state: 'valid' as const, voidReason: null };
  await chartValues(books, entry, { ...run, ...state }, valuesOfTitrant(titrant));
}

export const TitreDetermined = defineKind<TitreBody>({
  kind: 'TitreDetermined',
  version: 1,
  station: 'laboratory',
  meaning:
    'An assayer titrated certified silver with a lot of titrant, with every reading, and found the factor of the lot. It judges no melt.',
  body: titreDetermined,
  postings: 'moves nothing',
  things: (body) => [
    { thing: 'assay-run', id: body.assayRun },
    { thing: 'reagent-lot', id: body.titrant.lot },
    { thing: 'reference-material', id: body.referenceMaterial },
    { thing: 'instrument', id: body.instrument },
  ],
  apply: applyTitre,
});
