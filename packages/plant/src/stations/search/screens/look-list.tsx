import { useState } from 'react';
import { Empty, PathLink, Probability, pathTo, useMay } from '../../../workbench/index.ts';
import type { LookRow } from '../books.ts';
import { standsAsFound } from '../look-evidence.ts';
import type { RankedLook } from '../ranked-looks.ts';
import { RecordLook } from './record-look.tsx';

/** The looks in the order in which they find most per minute; the first stands out. */
export function LookList(props: {
  readonly search: string;
  readonly looks: readonly RankedLook[];
  readonly taken: readonly LookRow[];
}) {
  if (props.looks.length === 0) {
    return (
      <Empty what="No look is left to take." how="End the search, or tally the places again." />
    );
  }
  return (
    <ol className="search-looks">
      {props.looks.slice(0, 8).map((look) => (
        <OneLook
          key={look.look}
          search={props.search}
          look={look}
          found={props.taken.filter((one) => one.look === look.look && standsAsFound(one))}
        />
      ))}
    </ol>
  );
}

/** Looking again at what tells less than that is not spoken of. */
const leastBits = 0.005;

const minutesWords = (minutes: number): string =>
  minutes < 1 ? `${Math.round(minutes * 60)} s` : `${minutes} min`;

const timesWords = (times: number): string => (times === 1 ? 'once' : `${times} times`);

function OneLook(props: {
  readonly search: string;
  readonly look: RankedLook;
  readonly found: readonly LookRow[];
}) {
  const { search, look, found } = props;
  const [isHere, setHere] = useState(false);
  const may = useMay('record-look');
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
          {look.looks > 0 ? `; looked at ${timesWords(look.looks)} in vain` : ''}
        </span>
        {look.sightings > 0 ? <strong>found {timesWords(look.sightings)}</strong> : null}
        {look.evidence.map((line) => (
          <span className="search-evidence" key={line}>
            {line}
          </span>
        ))}
        {look.again && look.again.informationBits >= leastBits ? (
          <span className="search-again">{look.again.words}</span>
        ) : null}
        {isHere ? <RecordLook search={search} look={look} found={found} /> : null}
      </span>
      {isHere || !may ? null : (
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
