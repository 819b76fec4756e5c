import { placeName } from '../../../journal/place.ts';
import {
  Empty,
  Page,
  Part,
  PathLink,
  Pending,
  Probability,
  pathTo,
  printAge,
  SideAct,
  State,
  Table,
  useCommand,
  useGo,
  useMay,
  useQuestion,
} from '../../../workbench/index.ts';
import type { SearchRow } from '../books.ts';
import { CalibrationPart } from './calibration-part.tsx';
import { type KindAnswer, residualWords, type SearchesAnswer } from './desk-answer.ts';

/** Searches that are open, what could be searched, and what confirmed causes have taught. */
export function SearchDesk() {
  const { answer, problem } = useQuestion<SearchesAnswer>('searches');
  if (!answer) {
    return (
      <Page title="Search">
        <Pending problem={problem} />
      </Page>
    );
  }
  const open = answer.searches.filter(({ state }) => state === 'open');
  const ended = answer.searches.filter(({ state }) => state !== 'open');
  return (
    <Page
      title="Search"
      about="Where a missing piece lies, or which record is wrong: every look brings the next one nearer."
    >
      <Part title="Open">
        {open.length === 0 ? (
          <Empty
            what="Nothing is being searched for."
            how="When a tally differs from the book, the metal accountant or the chief assayer opens a search."
          />
        ) : (
          <Searches rows={open} />
        )}
      </Part>
      <Searchable answer={answer} />
      {ended.length > 0 ? (
        <Part title="Ended: foretold and found">
          <Ended rows={ended} />
        </Part>
      ) : null}
      {answer.seesBook ? <CalibrationPart /> : null}
      {answer.kinds.length > 0 ? (
        <Part title="How often things go wrong">
          <Kinds rows={answer.kinds} />
        </Part>
      ) : null}
    </Page>
  );
}

function Searchable({ answer }: { readonly answer: SearchesAnswer }) {
  const may = useMay('open-search');
  const openFor = new Set(
    answer.searches.filter(({ state }) => state === 'open').map((row) => row.pieceStandard),
  );
  const rows = answer.searchable.filter(
    ({ pieceStandard, differing }) => differing.length > 0 && !openFor.has(pieceStandard),
  );
  if (!may || rows.length === 0) return null;
  return (
    <Part title="Tallies that differ">
      {rows.map((row) => (
        <OpenOne key={row.pieceStandard} {...row} />
      ))}
    </Part>
  );
}

function OpenOne(props: SearchesAnswer['searchable'][number]) {
  const go = useGo();
  const open = useCommand('open-search', {
    onRecorded: (answer) =>
      go(pathTo('/search/$search', { search: String(answer['search'] ?? '') })),
  });
  const { pieceStandard, differing } = props;
  return (
    <div className="search-offer">
      <p>
        {pieceStandard}:{' '}
        {differing
          .map(({ place, pieces }) => `${residualWords(pieces)} in ${placeName(place)}`)
          .join(', ')}
      </p>
      <SideAct label="Open search" command={open} input={() => ({ pieceStandard })} />
    </div>
  );
}

function SearchLink({ row }: { readonly row: SearchRow }) {
  return (
    <PathLink to={pathTo('/search/$search', { search: row.search })}>
      <span className="nowrap">{row.search}</span>
    </PathLink>
  );
}

function Searches({ rows }: { readonly rows: readonly SearchRow[] }) {
  return (
    <Table
      caption="Open searches"
      rows={rows}
      keyOf={(row) => row.search}
      columns={[
        {
          key: 'search',
          title: 'Search',
          value: (row) => row.search,
          cell: (row) => <SearchLink row={row} />,
        },
        { key: 'standard', title: 'Pieces of', value: (row) => row.pieceStandard },
        { key: 'shift', title: 'Shift', value: (row) => row.shift },
        {
          key: 'since',
          title: 'Since',
          value: (row) => row.openedInstant,
          cell: (row) => <span className="nowrap">{printAge(row.openedInstant)}</span>,
        },
        {
          key: 'minutes',
          title: 'Looked so far',
          unit: 'min',
          value: (row) => row.minutesLooked,
          isNumber: true,
        },
      ]}
    />
  );
}

function Ended({ rows }: { readonly rows: readonly SearchRow[] }) {
  return (
    <Table
      caption="Searches that have ended, with what was foretold of the cause"
      rows={rows}
      keyOf={(row) => row.search}
      columns={[
        {
          key: 'search',
          title: 'Search',
          value: (row) => row.search,
          cell: (row) => <SearchLink row={row} />,
        },
        {
          key: 'cause',
          title: 'Cause',
          value: (row) => row.ended?.cause ?? row.ended?.kind ?? '',
          cell: (row) =>
            row.state === 'left unresolved' ? (
              <State word="left unresolved" tone="look" />
            ) : (
              (row.ended?.cause ?? row.ended?.kind ?? '')
            ),
        },
        {
          key: 'foretold',
          title: 'Foretold with',
          value: (row) => row.ended?.probabilityPredicted ?? null,
          cell: (row) =>
            row.ended?.probabilityPredicted == null ? (
              'not foretold'
            ) : (
              <Probability value={row.ended.probabilityPredicted} />
            ),
          isNumber: true,
        },
        {
          key: 'rank',
          title: 'Place in the ranking',
          value: (row) => row.ended?.rankPredicted ?? null,
          isNumber: true,
        },
        {
          key: 'minutes',
          title: 'Looked',
          unit: 'min',
          value: (row) => row.minutesLooked,
          isNumber: true,
        },
      ]}
    />
  );
}

function Kinds({ rows }: { readonly rows: readonly KindAnswer[] }) {
  return (
    <Table
      caption="Kinds of fault: what was assumed, and what confirmed causes have made of it"
      rows={rows}
      keyOf={(row) => row.kind}
      columns={[
        { key: 'title', title: 'Kind', value: (row) => row.title },
        { key: 'per', title: 'Per', value: (row) => row.opportunity },
        {
          key: 'assumed',
          title: 'Assumed',
          unit: '%',
          value: (row) => row.assumedRate * 100,
          isNumber: true,
        },
        {
          key: 'opportunities',
          title: 'Could have happened',
          value: (row) => row.opportunities,
          isNumber: true,
        },
        { key: 'confirmed', title: 'Confirmed', value: (row) => row.confirmed, isNumber: true },
        { key: 'rate', title: 'Now', unit: '%', value: (row) => row.rate * 100, isNumber: true },
      ]}
    />
  );
}
