import { defineKind } from '../../journal/station.ts';
import { seesBook } from '../account/index.ts';
import {
  type CausesForetold as CausesForetoldBody,
  causesForetold,
  type LookTaken as LookTakenBody,
  lookTaken,
  type SearchEnded as SearchEndedBody,
  type SearchOpened as SearchOpenedBody,
  searchEnded,
  searchOpened,
} from './bodies.ts';
import {
  applyCausesForetold,
  applyLookTaken,
  applySearchEnded,
  applySearchOpened,
} from './read-model.ts';

export const SearchOpened = defineKind<SearchOpenedBody>({
  kind: 'SearchOpened',
  version: 1,
  station: 'search',
  meaning:
    'Somebody begins to search for pieces that the tallies show as missing or too many. It says nothing about where they are.',
  body: searchOpened,
  postings: 'moves nothing',
  things: ({ search }) => [{ thing: 'search', id: search }],
  // Whoever counts again must not know what is missing.
  readableBy: seesBook,
  apply: applySearchOpened,
});

export const CausesForetold = defineKind<CausesForetoldBody>({
  kind: 'CausesForetold',
  version: 1,
  station: 'search',
  meaning:
    'What a search held to be wrong, each with its probability, before anybody looked. It says nothing that was found, and is kept to be compared with what is.',
  body: causesForetold,
  postings: 'moves nothing',
  things: ({ search }) => [{ thing: 'search', id: search }],
  readableBy: seesBook,
  apply: applyCausesForetold,
});

export const LookTaken = defineKind<LookTakenBody>({
  kind: 'LookTaken',
  version: 1,
  station: 'search',
  meaning:
    'A person looked for the pieces at one place or thing and says what was seen. It never changes a book.',
  body: lookTaken,
  postings: 'moves nothing',
  things: ({ search }) => [{ thing: 'search', id: search }],
  // What one person counted is nothing for the next who counts; the search shows what may be seen.
  readableBy: seesBook,
  apply: applyLookTaken,
});

export const SearchEnded = defineKind<SearchEndedBody>({
  kind: 'SearchEnded',
  version: 1,
  station: 'search',
  meaning:
    'The chief assayer or the metal accountant and a witness say what the cause was and how it is proved, or that the search is left unresolved. The correcting entry is one of its own.',
  body: searchEnded,
  postings: 'moves nothing',
  things: ({ search }) => [{ thing: 'search', id: search }],
  apply: applySearchEnded,
});

export const searchKinds = [SearchOpened, CausesForetold, LookTaken, SearchEnded] as const;
