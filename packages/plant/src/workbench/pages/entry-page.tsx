import type { Posting } from '../../journal/posting.ts';
import type { Reading } from '../../journal/reading.ts';
import type { Json, JsonObject } from '../../ports/json.ts';
import { Figure, Mass, ReadingFigure } from '../figure.tsx';
import { inWords, printInstant, printNumber } from '../number-text.ts';
import { Empty, Facts, Page, Part, Pending } from '../page.tsx';
import { PathLink, ThingLink } from '../path-link.tsx';
import type { ScreenProps } from '../screen.ts';
import { Metal } from '../state.tsx';
import { Table } from '../table.tsx';
import { useQuestion } from '../use-question.ts';

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
          <Body body={entry.body} />
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
  return (
    <>
      <Facts
        facts={[
          ['When', printInstant(entry.instant)],
          ['Shift', entry.shift],
          ['Who', entry.author],
          ['Second person', entry.witness ?? 'none'],
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
          { key: 'from', title: 'From', value: (row) => inWords(row.from) },
          { key: 'to', title: 'To', value: (row) => inWords(row.to) },
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
            cell: (row) => <Mass micrograms={row.grossMicrograms} decimals={3} />,
          },
          {
            key: 'fine',
            title: 'Fine',
            unit: 'g',
            value: (row) => row.fineMicrograms,
            isNumber: true,
            cell: (row) => <Mass micrograms={row.fineMicrograms} decimals={3} />,
          },
        ]}
      />
    </Part>
  );
}

function isReading(value: Json): value is Reading {
  return (
    typeof value === 'object' &&
    value !== null &&
    'text' in value &&
    'unit' in value &&
    'typed' in value
  );
}

/** Whether a value is an object of single values and readings, so that it fits a row. */
function isFlat(value: Json): value is JsonObject {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return false;
  const parts = Object.values(value as JsonObject);
  return (
    parts.length <= 8 &&
    parts.every((part) => typeof part !== 'object' || part === null || isReading(part))
  );
}

function SaidTable({ rows }: { readonly rows: readonly JsonObject[] }) {
  const names = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  const keyed = rows.map((row, index) => ({ row, key: String(index) }));
  return (
    <Table<{ row: JsonObject; key: string }>
      caption="Said in this list"
      rows={keyed}
      keyOf={({ key }) => key}
      columns={names.map((name) => ({
        key: name,
        title: inWords(name),
        isNumber: rows.some((row) => typeof row[name] === 'number' || isReading(row[name] ?? null)),
        value: ({ row }) => orderValue(row[name] ?? null),
        cell: ({ row }) => <Said value={row[name] ?? null} />,
      }))}
    />
  );
}

function orderValue(value: Json): string | number | null {
  if (isReading(value)) return Number(value.text);
  return typeof value === 'string' || typeof value === 'number' ? value : null;
}

/** What the entry says; a body that is not for whoever asks comes empty. */
function Body({ body }: { readonly body: JsonObject }) {
  if (Object.keys(body).length > 0) return <Said value={body} />;
  return <p className="faint">What it says is not shown to your role.</p>;
}

/** A value of an entry's body, laid out by its names. */
function Said({ value }: { readonly value: Json }) {
  if (value === null) return <span className="faint">nothing</span>;
  if (typeof value === 'number') return <Figure value={value} />;
  if (typeof value === 'boolean') return <>{value ? 'yes' : 'no'}</>;
  if (typeof value === 'string') return <span className="said-text">{value}</span>;
  if (isReading(value)) return <ReadingFigure reading={value} />;
  if (Array.isArray(value)) {
    if (value.length === 0) return <span className="faint">none</span>;
    if (value.length > 1 && value.every(isFlat)) return <SaidTable rows={value} />;
    return (
      <ol className="said-list">
        {(value as readonly Json[]).map((item, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: an entry's list never changes
          <li key={index}>
            <Said value={item} />
          </li>
        ))}
      </ol>
    );
  }
  return (
    <dl className="said">
      {Object.entries(value as JsonObject).map(([name, part]) => (
        <div key={name}>
          <dt>{inWords(name)}</dt>
          <dd>
            <Said value={part} />
          </dd>
        </div>
      ))}
    </dl>
  );
}
