import { useRef, useState } from 'react';
import {
  ChoiceField,
  printAgo,
  SideAct,
  TextField,
  useCommand,
  useNames,
  useSession,
} from '../../../workbench/index.ts';
import type { LookRow } from '../books.ts';
import { standsAsFound } from '../look-evidence.ts';
import type { RankedLook } from '../ranked-looks.ts';

const open = '';

/** What was seen at a look, and whether somebody before saw what is not there. */
export function RecordLook(props: {
  readonly search: string;
  readonly look: RankedLook;
  /** Looks at this place that found something, those that were called mistaken among them. */
  readonly found: readonly LookRow[];
}) {
  const { search, look, found } = props;
  const [words, setWords] = useState('');
  const [finding, setFinding] = useState(open);
  // Each act its own: what could not be sent is sent again by the button that was pressed.
  const options = { onRecorded: () => setWords('') };
  const inVain = useCommand('record-look', options);
  const seen = useCommand('record-look', options);
  const person = useSession().session?.person.person;
  // One that was called mistaken here stays, so that its act can say that it is recorded.
  const seenStanding = useRef(new Set<number>());
  for (const one of found) if (standsAsFound(one)) seenStanding.current.add(one.entry);
  const nothing = { search, look: look.look, outcome: 'nothing found', words };
  const something = {
    ...nothing,
    outcome: 'found',
    ...(finding === open ? {} : { finding }),
  };
  return (
    <span className="search-record">
      <TextField
        label="What was seen"
        value={words}
        onChange={setWords}
        refusal={inVain.refusalAt('words') ?? seen.refusalAt('words')}
        optional
      />
      {look.findings.length > 1 ? (
        <ChoiceField
          label="If found, as what"
          value={finding}
          choices={[
            { value: open, label: 'open' },
            ...look.findings.map((one) => ({ value: one, label: one })),
          ]}
          onChange={setFinding}
          refusal={seen.refusalAt('finding')}
        />
      ) : null}
      <span className="search-acts">
        <SideAct label="Nothing found" command={inVain} input={() => nothing} />
        <SideAct label="Found" command={seen} input={() => something} />
      </span>
      {found
        .filter((one) => one.author !== person && seenStanding.current.has(one.entry))
        .map((one) => (
          <CallMistaken
            key={one.entry}
            look={one}
            input={{ ...nothing, mistaken: one.entry }}
            onRecorded={options.onRecorded}
          />
        ))}
    </span>
  );
}

/** Says that what somebody saw is not there. */
function CallMistaken(props: {
  readonly look: LookRow;
  readonly input: object;
  readonly onRecorded: () => void;
}) {
  const { author, instant } = props.look;
  const { nameOf } = useNames();
  const command = useCommand('record-look', { onRecorded: props.onRecorded });
  return (
    <span className="search-acts">
      <span className="faint">
        Found by {nameOf(author)}, {printAgo(instant)}
      </span>
      <SideAct label="Not there after all" command={command} input={() => props.input} />
    </span>
  );
}
