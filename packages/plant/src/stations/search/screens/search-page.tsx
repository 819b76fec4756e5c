import { useState } from 'react';
import { placeTitle } from '../../../journal/place.ts';
import {
  Empty,
  Facts,
  Page,
  Part,
  PathLink,
  Pending,
  Probability,
  printAgo,
  printInstant,
  printNumber,
  type ScreenProps,
  State,
  useMay,
  useNames,
  useQuestion,
} from '../../../workbench/index.ts';
import type { LookRow, SearchRow } from '../books.ts';
import { type FaultKind, faultKinds } from '../fault-kinds.ts';
import { standsAsFound } from '../look-evidence.ts';
import type { Ranking, ToldStory } from '../ranking.ts';
import { residualWords, type SearchAnswer } from './desk-answer.ts';
import { EndSearch } from './end-search.tsx';
import { LookList } from './look-list.tsx';

/** One search: where to look next, what explains it, and what was looked at so far. */
export function SearchPage({ params }: ScreenProps) {
  const name = params['search'] ?? '';
  const { answer, problem } = useQuestion<SearchAnswer>('search', { search: name });
  const title = `Search ${name}`;
  if (answer === undefined) {
    return (
      <Page title={title}>
        <Pending problem={problem} />
      </Page>
    );
  }
  if (answer === null) {
    return (
      <Page title={title}>
        <Empty
          what="There is no search of this name."
          how={<PathLink to="/search">All of them stand on the desk of the search.</PathLink>}
        />
      </Page>
    );
  }
  return <OneSearch key={name} answer={answer} />;
}

function OneSearch({ answer }: { readonly answer: NonNullable<SearchAnswer> }) {
  const { search, ranking, looks, seesBook } = answer;
  const [isEnding, setEnding] = useState(false);
  const mayEnd = useMay('end-search');
  return (
    <Page
      title={`Search ${search.search}`}
      about={
        <>
          {search.state === 'open' ? (
            <State word="open" tone="look" />
          ) : (
            <State
              word={search.state}
              tone={search.state === 'cause confirmed' ? 'done' : 'look'}
            />
          )}{' '}
          · {search.pieceStandard} · shift {search.shift}
        </>
      }
      known={<Known answer={answer} />}
    >
      {ranking && seesBook ? <p className="search-words">{ranking.words}</p> : null}
      {search.ended ? (
        <Part title="How it ended">
          <p className="search-words">{causeWords(search.ended)}</p>
          <p>{search.ended.proof}</p>
        </Part>
      ) : null}
      {ranking ? (
        <Part title="Where to look">
          <LookList search={search.search} looks={ranking.looks} taken={looks} />
        </Part>
      ) : null}
      {ranking && seesBook ? <Stories ranking={ranking} /> : null}
      <Taken looks={looks} />
      {ranking && seesBook && mayEnd ? (
        isEnding ? (
          <EndSearch search={search.search} ranking={ranking} />
        ) : (
          <button type="button" className="quiet-button" onClick={() => setEnding(true)}>
            End this search
          </button>
        )
      ) : null}
    </Page>
  );
}

/** The cause that was proved, by its kind and by what it was; of a search left open, that it was. */
function causeWords({ kind, cause }: NonNullable<SearchRow['ended']>): string {
  const title = faultKinds[kind as FaultKind]?.title;
  return [title, cause].filter(Boolean).join(': ') || 'No cause was found.';
}

function Stories({ ranking }: { readonly ranking: Ranking }) {
  return (
    <Part title="What would explain it">
      {ranking.unexplained ? (
        <Empty
          what="Nothing that is known to go wrong explains these figures."
          how="Let another person tally the places again before anything else."
        />
      ) : (
        <ol className="search-stories">
          {ranking.stories.slice(0, 6).map((story) => (
            <Story key={story.words} story={story} />
          ))}
        </ol>
      )}
      {ranking.noFaultProbability > 0 ? (
        <p className="faint">
          Nothing is wrong: <Probability value={ranking.noFaultProbability} />
        </p>
      ) : null}
    </Part>
  );
}

function Story({ story }: { readonly story: ToldStory }) {
  return (
    <li>
      <span className="search-probability">
        <Probability value={story.probability} />
      </span>
      <span>
        {story.words}
        {story.evidence.map((line) => (
          <span className="search-evidence" key={line}>
            {line}
          </span>
        ))}
      </span>
    </li>
  );
}

function Taken({ looks }: { readonly looks: readonly LookRow[] }) {
  const { nameOf } = useNames();
  if (looks.length === 0) return null;
  return (
    <Part title="Looked at so far">
      <ul className="search-taken">
        {looks.toReversed().map((look) => (
          <li key={look.entry}>
            <State
              word={look.outcome === 'found' && !standsAsFound(look) ? 'mistaken' : look.outcome}
              tone={standsAsFound(look) ? 'done' : 'plain'}
            />{' '}
            · {look.title}
            {look.finding ? `, ${look.finding}` : ''}
            {look.words ? `: ${look.words}` : ''}{' '}
            <span className="faint">
              {nameOf(look.author)}, {printAgo(look.instant)}
            </span>
          </li>
        ))}
      </ul>
    </Part>
  );
}

function Known({ answer }: { readonly answer: NonNullable<SearchAnswer> }) {
  const { nameOf, namesOf } = useNames();
  const { search, ranking } = answer;
  const residuals = (ranking?.residuals ?? search.residuals).filter(({ pieces }) => pieces !== 0);
  return (
    <Facts
      facts={[
        ...residuals.map(
          ({ place, pieces }) =>
            [
              placeTitle(place),
              <PathLink key={place} to={`/account/places/${place}`}>
                {residualWords(pieces)}
              </PathLink>,
            ] as const,
        ),
        ['Opened', `${nameOf(search.openedBy)}, ${printInstant(search.openedInstant)}`],
        ...(search.ended
          ? ([
              [
                'Ended',
                `${namesOf(search.ended.author, search.ended.witness)}, ${printInstant(search.ended.instant)}`,
              ],
            ] as const)
          : []),
        [
          'Entry',
          <PathLink key="entry" to={`/journal/${search.openedEntry}`}>
            {printNumber(search.openedEntry)}
          </PathLink>,
        ],
        ['Looked so far', `${printNumber(search.minutesLooked)} min`],
        [
          'Account',
          <PathLink key="account" to="/account">
            {answer.seesBook ? 'Balance desk' : 'Places to count'}
          </PathLink>,
        ],
      ]}
    />
  );
}
