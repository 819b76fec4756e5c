import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { movements } from '../../journal/core-books.ts';
import { newestLeaf } from '../../journal/merkle.ts';
import type { InsidePlace } from '../../journal/place.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import {
  type Calculate,
  type Circumstances,
  type Decision,
  defineCommand,
  draft,
} from '../../journal/station.ts';
import { shiftInHand } from '../account/index.ts';
import { boxesPackedAfter } from '../put-up/index.ts';
import { idSchema, peopleOf } from '../registers/index.ts';
import type { CausesForetold as Foretold, SearchOpened as Opened } from './bodies.ts';
import type { SearchRow } from './books.ts';
import { CausesForetold, SearchOpened } from './entries.ts';
import { foretoldOf } from './foretold.ts';
import { opportunitiesIn } from './opportunities.ts';
import { countedTo, learnedRates, openSearches } from './read-model.ts';
import { searchRefusals } from './refusals.ts';
import { type SearchFacts, searchFacts } from './search-facts.ts';

const openInput = z.strictObject({
  pieceStandard: idSchema.meta({
    title: 'Piece standard',
    description: 'What is missing or too many.',
  }),
});

type OpenInput = z.infer<typeof openInput>;

/** What a search of the piece standard begins from and foretells, as of one state of the journal. */
interface Beginning {
  readonly leaf: string;
  readonly search: SearchFacts | undefined;
  readonly causes: Foretold['causes'];
}

async function beginningOf(
  books: BookReader,
  { pieceStandard }: OpenInput,
  calculate?: Calculate,
): Promise<Beginning> {
  const leaf = (await newestLeaf(books))?.hash ?? '';
  const search = await searchFacts(books, pieceStandard);
  const rates = await learnedRates(books);
  const isLeaf = (await newestLeaf(books))?.hash === leaf;
  const causes = search ? await foretoldOf(search, rates, calculate) : [];
  // Entries that came while this was read belong to no one state of the journal.
  return { leaf: isLeaf ? leaf : '', search, causes };
}

interface OpenFacts {
  readonly search: SearchFacts | undefined;
  readonly causes: Foretold['causes'];
  readonly open: readonly SearchRow[];
  /** Who opened each of them, by full name. */
  readonly nameOf: (person: string) => string;
  readonly shift: string | undefined;
  readonly opportunities: Opened['opportunities'];
}

async function namesIn(books: BookReader): Promise<OpenFacts['nameOf']> {
  const names = new Map((await peopleOf(books)).map(({ person, name }) => [person, name]));
  return (person) => names.get(person) ?? person;
}

async function openFacts(
  books: BookReader,
  input: OpenInput,
  prepared: Beginning | undefined,
): Promise<OpenFacts> {
  const from = (await countedTo(books)) + 1;
  const moved = await books.select(movements, { from });
  const packed = await boxesPackedAfter(books, from - 1);
  const tubes = packed.reduce((sum, box) => sum + box.tubes.length, 0);
  // What was foretold is to be of the very figures that are recorded with it.
  const isPresent = prepared && prepared.leaf === (await newestLeaf(books))?.hash;
  const { search, causes } = isPresent ? prepared : await beginningOf(books, input);
  return {
    search,
    causes,
    open: await openSearches(books),
    nameOf: await namesIn(books),
    shift: await shiftInHand(books),
    opportunities: [...opportunitiesIn(moved, tubes)],
  };
}

function openRefusal(input: OpenInput, facts: OpenFacts): Refusal | undefined {
  const { pieceStandard } = input;
  const field = 'pieceStandard';
  if (!facts.search) {
    return refuse(searchRefusals, 'PieceStandardUnknown', {
      message: `${pieceStandard} is not in the register of piece standards.`,
      field,
      figures: { pieceStandard },
    });
  }
  if (facts.search.cells.length === 0) {
    return refuse(searchRefusals, 'NothingTallied', {
      message: `No tally since the last close names ${pieceStandard}.`,
      field,
      figures: { pieceStandard },
    });
  }
  const open = facts.open.find((row) => row.pieceStandard === pieceStandard);
  if (!open) return undefined;
  return refuse(searchRefusals, 'SearchAlreadyOpen', {
    message: `${facts.nameOf(open.openedBy)} has opened search ${open.search} for ${pieceStandard} in entry ${open.openedEntry}.`,
    field,
    figures: { pieceStandard, search: open.search, entry: open.openedEntry },
  });
}

function decideOpen(input: OpenInput, facts: OpenFacts, circumstances: Circumstances): Decision {
  const refusal = openRefusal(input, facts);
  if (refusal) return { refusals: [refusal] };
  const search = `S-${circumstances.nextNumber}`;
  const isOwn = facts.shift === undefined || facts.shift === circumstances.shift;
  const residuals = (facts.search as SearchFacts).cells.map((cell) => ({
    place: cell.place as InsidePlace,
    tally: cell.tally,
    pieces: cell.residualPieces,
  }));
  const body = {
    search,
    pieceStandard: input.pieceStandard,
    residuals,
    opportunities: facts.opportunities,
    countedTo: circumstances.nextNumber - 1,
    ...(isOwn ? {} : { forShift: facts.shift }),
  };
  return {
    entries: [
      draft(SearchOpened, body),
      draft(CausesForetold, { search, causes: [...facts.causes] }),
    ],
    answer: { search },
  };
}

/** Begins a search from the present tallies. */
export const openSearch = defineCommand({
  command: 'open-search',
  station: 'search',
  title: 'Open search',
  input: openInput,
  roles: ['metal accountant', 'chief assayer'],
  signature: 'none',
  prepare: beginningOf,
  facts: (books, input, _circumstances, prepared) => openFacts(books, input, prepared),
  decide: decideOpen,
});
