import { placeTitle } from '../../journal/place.ts';
import type { Posting } from '../../journal/posting.ts';
import type { JsonObject } from '../../ports/json.ts';
import { inWords, printInstant, printMicrograms, printNumber } from '../number-text.ts';
import { Empty, Facts, Page, Part, Pending } from '../page.tsx';
import { PathLink, ThingLink } from '../path-link.tsx';
import type { ScreenProps } from '../screen.ts';
import { Metal } from '../state.tsx';
import { Table } from '../table.tsx';
import { useNames } from '../use-names.ts';
import { useQuestion } from '../use-question.ts';
import { SaidBody } from './said-body.tsx';

/** An entry as the question `entries` answers it. */
export interface ShownEntry {
  readonly number: number;
  readonly kind: string;
  readonly kindVersion: number;
  readonly meaning: string;
  readonly instant: string;
  readonly shift: string;
  readonly author: string;
  readonly witness: string | null;
  readonly station: string;
  readonly instrument: string | null;
  readonly body: JsonObject;
  readonly postings: readonly Posting[];
  /** Whether its figures are kept from a person who counts. */
  readonly isBlind: boolean;
  readonly things: readonly { readonly thing: string; readonly id: string }[];
  readonly corrects: number | null;
  readonly reason: string | null;
  readonly hash: string;
  readonly previousHash: string;
}

/** What the question `entries` answers. */
export interface EntriesAnswer {
  readonly entries: readonly ShownEntry[];
  /** Number of the last entry of the journal. */
  readonly last: number;
}

/** One entry of the journal with everything it says. */
export function EntryPage({ params }: ScreenProps) {
  const number = Number(params.number);
  const { answer, problem } = useQuestion<EntriesAnswer>('entries', { from: number, limit: 1 });
  const title = `Entry ${printNumber(number)}`;
  const entry = answer?.entries[0];
  if (!answer) {
    return (
      <Page title={title}>
        <Pending problem={problem} />
      </Page>
    );
  }
  if (!entry) {
    return (
      <Page title={title}>
        <Empty
          what={`The journal has no entry ${printNumber(number)}.`}
          how={<>Its last entry is {printNumber(answer.last)}.</>}
        />
      </Page>
    );
  }
  return (
    <Page
      title={`${title}: ${inWords(entry.kind)}`}
      about={entry.meaning}
      known={<EntryKnown entry={entry} />}
    >
      {entry.corrects === null ? null : (
        <p className="story-correction">
          Corrects{' '}
          <PathLink to={`/journal/${entry.corrects}`}>entry {printNumber(entry.corrects)}</PathLink>
          : {entry.reason}
        </p>
      )}
      {entry.postings.length > 0 ? <Postings postings={entry.postings} /> : null}
      <Part title="What it says">
        {entry.isBlind ? (
          <p className="faint">
            Its figures are kept from those who count: they would tell what should lie at a place.
          </p>
        ) : (
          <SaidBody body={entry.body} />
        )}
      </Part>
      <p className="pages">
        {number > 1 ? <PathLink to={`/journal/${number - 1}`}>Entry before</PathLink> : null}
        {number < answer.last ? (
          <PathLink to={`/journal/${number + 1}`}>Entry after</PathLink>
        ) : null}
      </p>
    </Page>
  );
}

function EntryKnown({ entry }: { readonly entry: ShownEntry }) {
  const { nameOf } = useNames();
  return (
    <>
      <Facts
        facts={[
          ['When', printInstant(entry.instant)],
          ['Shift', entry.shift],
          ['Who', nameOf(entry.author)],
          ['Second person', entry.witness ? nameOf(entry.witness) : 'none'],
          ['Station', inWords(entry.station)],
          ['Instrument', entry.instrument ?? 'none'],
        ]}
      />
      {entry.things.length > 0 ? (
        <section className="side">
          <h3>It speaks of</h3>
          <p className="side-ids">
            {entry.things.slice(0, 40).map(({ thing, id }) => (
              <span key={`${thing} ${id}`}>
                <span className="faint">{thing}</span> <ThingLink thing={thing} id={id} />
              </span>
            ))}
          </p>
        </section>
      ) : null}
      <Facts
        facts={[
          ['Hash', <code key="hash">{entry.hash}</code>],
          ['Hash of the entry before', <code key="previous">{entry.previousHash}</code>],
        ]}
      />
    </>
  );
}

function Postings({ postings }: { readonly postings: readonly Posting[] }) {
  const keyed = postings.map((posting, index) => ({ ...posting, key: String(index) }));
  return (
    <Part title="Metal it moved">
      <Table
        caption="Metal that the entry moved"
        rows={keyed}
        keyOf={(row) => row.key}
        columns={[
          { key: 'from', title: 'From', value: (row) => placeTitle(row.from) },
          { key: 'to', title: 'To', value: (row) => placeTitle(row.to) },
          {
            key: 'metal',
            title: 'Metal',
            value: (row) => row.metal,
            cell: (row) => <Metal metal={row.metal} />,
          },
          { key: 'melt', title: 'Melt', value: (row) => row.melt },
          { key: 'pieces', title: 'Pieces', value: (row) => row.pieces, decimals: 0 },
          {
            key: 'gross',
            title: 'Gross',
            unit: 'g',
            value: (row) => row.grossMicrograms,
            isNumber: true,
            cell: (row) => printMicrograms(row.grossMicrograms, 'g', 3),
          },
          {
            key: 'fine',
            title: 'Fine',
            unit: 'g',
            value: (row) => row.fineMicrograms,
            isNumber: true,
            cell: (row) => printMicrograms(row.fineMicrograms, 'g', 3),
          },
        ]}
      />
    </Part>
  );
}
