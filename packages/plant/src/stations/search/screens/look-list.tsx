import { useState } from 'react';
import {
  Empty,
  PathLink,
  Probability,
  pathTo,
  SideAct,
  TextField,
  useCommand,
} from '../../../workbench/index.ts';
import type { RankedLook } from '../ranking.ts';

/** The looks in the order in which they find most per minute; the first stands out. */
export function LookList(props: {
  readonly search: string;
  readonly looks: readonly RankedLook[];
}) {
  if (props.looks.length === 0) {
    return (
      <Empty what="No look is left to take." how="End the search, or tally the places again." />
    );
  }
  return (
    <ol className="search-looks">
      {props.looks.slice(0, 8).map((look) => (
        <OneLook key={look.look} search={props.search} look={look} />
      ))}
    </ol>
  );
}

const minutesWords = (minutes: number): string =>
  minutes < 1 ? `${Math.round(minutes * 60)} s` : `${minutes} min`;

function OneLook({ search, look }: { readonly search: string; readonly look: RankedLook }) {
  const [isHere, setHere] = useState(false);
  return (
    <li>
      <span className="search-probability">
        <Probability value={look.probability} />
      </span>
      <span className="search-look">
        <strong>{look.title}</strong>
        <LookPlace look={look.look} />
        <span className="faint">
          {minutesWords(look.minutes)}; seen there with <Probability value={look.seenIfThere} />
          {look.looks > 0
            ? `; looked at ${look.looks === 1 ? 'once' : `${look.looks} times`} in vain`
            : ''}
        </span>
        {look.evidence.map((line) => (
          <span className="search-evidence" key={line}>
            {line}
          </span>
        ))}
        {look.again ? <span className="search-again">{look.again.words}</span> : null}
        {isHere ? <RecordLook search={search} look={look} /> : null}
      </span>
      {isHere ? null : (
        <button
          type="button"
          className="quiet-button"
          aria-label={`Record: ${look.title}`}
          onClick={() => setHere(true)}
        >
          Record
        </button>
      )}
    </li>
  );
}

/** Pages on which what is looked at is counted, weighed or read, by the kind of look. */
const pagesOfLooks: readonly (readonly [kind: RegExp, path: string, words: string])[] = [
  [/^count\/(.+)$/, '/account/places/$thing', 'Count it'],
  [/^tube\/(.+)$/, '/put-up/tubes/$thing', 'To the tube'],
  [/^box\/(.+)$/, '/put-up/boxes/$thing', 'To the box'],
  [/^(?:entry |time\/|delivery\/|blanks\/|accept\/)(\d+)/, '/journal/$thing', 'To the entry'],
];

function LookPlace({ look }: { readonly look: string }) {
  for (const [kind, path, words] of pagesOfLooks) {
    const thing = kind.exec(look)?.[1];
    if (thing) return <PathLink to={pathTo(path, { thing })}>{words}</PathLink>;
  }
  return null;
}

function RecordLook({ search, look }: { readonly search: string; readonly look: RankedLook }) {
  const [words, setWords] = useState('');
  const command = useCommand('record-look', { onRecorded: () => setWords('') });
  const input = (outcome: string) => () => ({ search, look: look.look, outcome, words });
  return (
    <span className="search-record">
      <TextField label="What was seen" value={words} onChange={setWords} optional />
      <span className="search-acts">
        <SideAct label="Nothing found" command={command} input={input('nothing found')} />
        <SideAct label="Found" command={command} input={input('found')} />
      </span>
    </span>
  );
}
