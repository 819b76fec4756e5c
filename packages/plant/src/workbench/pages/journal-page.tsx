import { useState } from 'react';
import { placeTitle } from '../../journal/place.ts';
import { inWords, printInstant, printMicrograms, printNumber } from '../number-text.ts';
import { Empty, Page, Pending } from '../page.tsx';
import { PathLink } from '../path-link.tsx';
import { Table } from '../table.tsx';
import { useNames } from '../use-names.ts';
import { useQuestion } from '../use-question.ts';
import type { EntriesAnswer, ShownEntry } from './entry-page.tsx';

const entriesPerPage = 100;

/** The journal: every entry in order of its number, the newest page first. */
export function JournalPage() {
  const [from, setFrom] = useState<number | undefined>(undefined);
  const { namesOf } = useNames();
  const input = from === undefined ? { limit: entriesPerPage } : { from, limit: entriesPerPage };
  const { answer, problem } = useQuestion<EntriesAnswer>('entries', input);
  if (!answer) {
    return (
      <Page title="Journal">
        <Pending problem={problem} />
      </Page>
    );
  }
  if (answer.last === 0) {
    return (
      <Page title="Journal">
        <Empty what="The journal is empty." how="Its first entry founds the plant." />
      </Page>
    );
  }
  const first = answer.entries[0]?.number ?? 1;
  const last = answer.entries.at(-1)?.number ?? 0;
  return (
    <Page
      title="Journal"
      about={`Entries ${printNumber(first)} to ${printNumber(last)} of ${printNumber(answer.last)}; nothing is ever changed, a correction is a new entry`}
    >
      <Table
        caption="Entries of the journal"
        rows={answer.entries}
        keyOf={(row) => String(row.number)}
        order={{ column: 'number', descending: true }}
        filter
        columns={[
          {
            key: 'number',
            title: 'Entry',
            value: (row) => row.number,
            decimals: 0,
            cell: (row) => (
              <PathLink to={`/journal/${row.number}`}>{printNumber(row.number)}</PathLink>
            ),
          },
          {
            key: 'instant',
            title: 'When',
            value: (row) => row.instant,
            cell: (row) => <time dateTime={row.instant}>{printInstant(row.instant)}</time>,
          },
          { key: 'kind', title: 'What', value: (row) => inWords(row.kind) },
          { key: 'things', title: 'Speaks of', value: (row) => thingsOf(row) },
          { key: 'people', title: 'Who', value: (row) => namesOf(row.author, row.witness) },
          { key: 'moved', title: 'Moved', value: (row) => movedOf(row) },
        ]}
      />
      <div className="pages">
        <button
          type="button"
          className="quiet-button"
          disabled={first <= 1}
          onClick={() => setFrom(Math.max(1, first - entriesPerPage))}
        >
          Earlier entries
        </button>
        <button
          type="button"
          className="quiet-button"
          disabled={last >= answer.last}
          onClick={() => {
            const next = last + 1;
            setFrom(next + entriesPerPage > answer.last ? undefined : next);
          }}
        >
          Later entries
        </button>
      </div>
    </Page>
  );
}

function thingsOf(entry: ShownEntry): string {
  const [first, second, ...others] = entry.things.map(
    ({ thing, id }) => `${thing} ${thing === 'place' ? placeTitle(id).toLowerCase() : id}`,
  );
  return [first, second, others.length > 0 ? `and ${others.length} more` : undefined]
    .filter(Boolean)
    .join(', ');
}

function movedOf(entry: ShownEntry): string {
  const [posting] = entry.postings;
  if (!posting) return '';
  const pieces = entry.postings.reduce((sum, each) => sum + each.pieces, 0);
  const gross = entry.postings.reduce((sum, each) => sum + BigInt(each.grossMicrograms), 0n);
  const way = `${placeTitle(posting.from)} → ${placeTitle(posting.to).toLowerCase()}`;
  const counted = pieces === 1 ? '1 piece' : `${printNumber(pieces)} pieces`;
  return `${way}: ${counted}, ${printMicrograms(gross, 'kg', 3)} kg`;
}
