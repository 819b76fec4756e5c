import { useState } from 'react';
import { Empty, PathLink, Probability, pathTo, useMay } from '../../../workbench/index.ts';
import type { LookRow } from '../books.ts';
import type { RankedLook } from '../ranked-looks.ts';
import { RecordLook } from './record-look.tsx';

const mostShown = 8;

/**
 * The looks in the order in which they find most per minute; the first stands out. One that is in
 * hand stays, wherever the ranking moves it, so that what was recorded of it can be read.
 */
export function LookList(props: {
  readonly search: string;
  readonly looks: readonly RankedLook[];
  readonly taken: readonly LookRow[];
}) {
  const { search, looks, taken } = props;
  const [inHand, take] = useState<readonly RankedLook[]>([]);
  const shown = looks.slice(0, mostShown);
  const kept = inHand
    .filter(({ look }) => !shown.some((one) => one.look === look))
    .map((one) => looks.find(({ look }) => look === one.look) ?? one);
  if (shown.length + kept.length === 0) {
    return (
      <Empty what="No look is left to take." how="End the search, or tally the places again." />
    );
  }
  return (
    <ol className="search-looks">
      {[...shown, ...kept].map((look) => (
        <OneLook
          key={look.look}
          search={search}
          look={look}
          found={taken.filter((one) => one.look === look.look && one.outcome === 'found')}
          isInHand={inHand.some((one) => one.look === look.look)}
          onTake={() => take([...inHand, look])}
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
  readonly isInHand: boolean;
  readonly onTake: () => void;
}) {
  const { search, look, found, isInHand } = props;
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
        {isInHand ? <RecordLook search={search} look={look} found={found} /> : null}
      </span>
      {isInHand || !may ? null : (
        <button
          type="button"
          className="quiet-button"
          aria-label={`Record: ${look.title}`}
          onClick={props.onTake}
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
