import { defineKind } from '../../../journal/station.ts';
import { noteFurtherAsked } from '../../receiving/index.ts';
import { type FurtherBlanksAsked as FurtherBlanksAskedBody, furtherBlanksAsked } from './bodies.ts';

export const FurtherBlanksAsked = defineKind<FurtherBlanksAskedBody>({
  kind: 'FurtherBlanksAsked',
  version: 1,
  station: 'laboratory',
  meaning:
    'An assayer asks for further blanks of a melt whose trial those drawn first do not decide. Which ones they are follows from the hash of this entry: he cannot choose them.',
  body: furtherBlanksAsked,
  postings: 'moves nothing',
  things: (body) => [
    { thing: 'melt', id: body.melt },
    { thing: 'consignment', id: body.consignment },
  ],
  apply: async (books, entry) => {
    const { melt, round, consignment, pieces, reason } = entry.body;
    await noteFurtherAsked(books, entry, { melt, round, consignment, pieces, reason });
  },
});

export const furtherKinds = [FurtherBlanksAsked] as const;
