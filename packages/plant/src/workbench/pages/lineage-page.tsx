import type { Lineage, Relative } from '../lineage-strip.tsx';
import { inWords, printInstant, printNumber } from '../number-text.ts';
import { Empty, Page, Part, Pending } from '../page.tsx';
import { PathLink, pathTo } from '../path-link.tsx';
import type { ScreenProps } from '../screen.ts';
import { Table } from '../table.tsx';
import { useNames } from '../use-names.ts';
import { useQuestion } from '../use-question.ts';

/** One thing's story, both ways: what it came out of, what happened to it, what came out of it. */
export function LineagePage({ params }: ScreenProps) {
  const { thing = '', id = '' } = params;
  const { answer, problem } = useQuestion<Lineage>('lineage', { thing, id });
  const title = `${inWords(thing)} ${id}`;
  if (!answer) {
    return (
      <Page title={title}>
        <Pending problem={problem} />
      </Page>
    );
  }
  if (!answer.isKnown) {
    return (
      <Page title={title}>
        <Empty
          what={`No entry speaks of ${thing} ${id}.`}
          how="Its story starts here with the first entry that names it."
        />
      </Page>
    );
  }
  return (
    <Page
      title={title}
      about={`${printNumber(answer.entries.length)} entries, ${printNumber(answer.ancestors.length)} things before it, ${printNumber(answer.descendants.length)} after it`}
      known={
        <>
          <Side
            title="It came out of"
            relatives={answer.ancestors}
            none="Nothing before it is recorded."
          />
          <Side
            title="Out of it came"
            relatives={answer.descendants}
            none="Nothing has come out of it yet."
          />
          {answer.isCut ? <p className="faint">Only the nearest things are listed.</p> : null}
        </>
      }
    >
      <Part title="What happened">
        <ol className="story">
          {answer.entries.map((entry) => (
            <StoryLine key={entry.number} entry={entry} />
          ))}
        </ol>
      </Part>
      {answer.descents.length > 0 ? <Descents answer={answer} /> : null}
    </Page>
  );
}

function StoryLine({ entry }: { readonly entry: Lineage['entries'][number] }) {
  const { namesOf } = useNames();
  return (
    <li>
      <time className="faint" dateTime={entry.instant}>
        {printInstant(entry.instant)}
      </time>
      <div>
        <PathLink to={`/journal/${entry.number}`}>{inWords(entry.kind)}</PathLink>
        <p className="story-people">
          {namesOf(entry.author, entry.witness)}
          <span className="faint">
            {' '}
            · {inWords(entry.station)} · entry {printNumber(entry.number)}
          </span>
        </p>
        {entry.corrects === null ? null : (
          <p className="story-correction">
            Corrects entry {printNumber(entry.corrects)}: {entry.reason}
          </p>
        )}
      </div>
    </li>
  );
}

function groupByThing(
  relatives: readonly Relative[],
): readonly (readonly [string, readonly Relative[]])[] {
  const groups = Map.groupBy(relatives, (relative) => relative.thing);
  const order = new Intl.Collator(undefined, { numeric: true });
  return [...groups].map(([thing, own]) => [
    thing,
    own.toSorted((left, right) => order.compare(left.id, right.id)),
  ]);
}

function Side(props: {
  readonly title: string;
  readonly relatives: readonly Relative[];
  readonly none: string;
}) {
  const shown = 24;
  return (
    <section className="side">
      <h3>{props.title}</h3>
      {props.relatives.length === 0 ? <p className="faint">{props.none}</p> : null}
      {groupByThing(props.relatives).map(([thing, relatives]) => (
        <div className="side-group" key={thing}>
          <p className="side-thing">
            {thing} <span className="faint">{printNumber(relatives.length)}</span>
          </p>
          <p className="side-ids">
            {relatives.slice(0, shown).map(({ id }) => (
              <PathLink key={id} to={pathTo('/lineage/$thing/$id', { thing, id })}>
                {id}
              </PathLink>
            ))}
            {relatives.length > shown ? (
              <span className="faint">and more, in the table</span>
            ) : null}
          </p>
        </div>
      ))}
    </section>
  );
}

function Descents({ answer }: { readonly answer: Lineage }) {
  const link = ({ thing, id }: { thing: string; id: string }) => (
    <PathLink to={pathTo('/lineage/$thing/$id', { thing, id })}>
      {thing} {id}
    </PathLink>
  );
  return (
    <Part title="What came out of what">
      <Table
        caption="What came out of what"
        rows={answer.descents}
        keyOf={(row) => `${row.parent.thing} ${row.parent.id} ${row.child.thing} ${row.child.id}`}
        columns={[
          {
            key: 'from',
            title: 'Out of',
            value: (row) => `${row.parent.thing} ${row.parent.id}`,
            cell: (row) => link(row.parent),
          },
          {
            key: 'to',
            title: 'Came',
            value: (row) => `${row.child.thing} ${row.child.id}`,
            cell: (row) => link(row.child),
          },
          {
            key: 'entry',
            title: 'By entry',
            value: (row) => row.entry,
            decimals: 0,
            cell: (row) => (
              <PathLink to={`/journal/${row.entry}`}>{printNumber(row.entry)}</PathLink>
            ),
          },
        ]}
      />
    </Part>
  );
}
