import {
  CheckField,
  ChoiceField,
  Empty,
  Facts,
  MainAct,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printInstant,
  printNumber,
  type ScreenProps,
  State,
  Table,
  TextField,
  ThingLink,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../../workbench/index.ts';
import type { HoldAnswerRow, UseRow } from '../books.ts';
import type { Use } from '../held-uses.ts';

interface HoldShown {
  readonly hold: string;
  readonly thing: UseRow['thing'];
  readonly id: string;
  readonly words: string;
  readonly since: string;
  readonly held: readonly (Use & { readonly stage: string | null })[];
  readonly answers: readonly HoldAnswerRow[];
}

/** What a condemned lot or a failed check puts in doubt, and the chief assayer's word on it. */
export function HoldPage({ params }: ScreenProps) {
  const hold = params['hold'] ?? '';
  const { answer, problem } = useQuestion<HoldShown | null>('results-hold', { hold });
  if (!answer) {
    return (
      <Page title="Results in doubt">
        {answer === null ? (
          <Empty
            what={`There is no hold ${hold}.`}
            how={<PathLink to="/laboratory/holds">The list names every hold.</PathLink>}
          />
        ) : (
          <Pending problem={problem} />
        )}
      </Page>
    );
  }
  return <OneHold key={answer.answers.length} answer={answer} />;
}

interface AnswerDraft {
  /** Entries that the answer leaves out. */
  readonly left: readonly number[];
  readonly finding: '' | 'stands' | 'set aside';
  readonly reason: string;
}

function OneHold({ answer }: { readonly answer: HoldShown }) {
  const [draft, change, clear] = useDraft<AnswerDraft>(
    `answer-hold ${answer.hold} ${answer.answers.length}`,
    { left: [], finding: '', reason: '' },
  );
  const command = useCommand('answer-hold', { onRecorded: clear });
  const entries = answer.held.map((one) => one.entry).filter((one) => !draft.left.includes(one));
  const isOpen = answer.held.length > 0 && command.description?.allowed;
  return (
    <Page
      title="Results in doubt"
      about={<State word={answer.words} tone={answer.held.length > 0 ? 'stopped' : 'plain'} />}
      known={
        <Facts
          facts={[
            ['Cause', <ThingLink key="cause" thing={answer.thing} id={answer.id} />],
            ['Since', printInstant(answer.since)],
            ['Still in doubt', printNumber(answer.held.length)],
            [
              'All holds',
              <PathLink key="all" to="/laboratory/holds">
                Results in doubt
              </PathLink>,
            ],
          ]}
        />
      }
      act={
        isOpen ? (
          <MainAct
            label={draft.finding === 'set aside' ? 'Set aside' : 'State that they stand'}
            command={command}
            notYet={
              entries.length === 0
                ? 'Choose at least one line.'
                : draft.finding === ''
                  ? 'Say whether they stand or are set aside.'
                  : draft.reason.trim().length < 3
                    ? 'Say what was looked at and found.'
                    : undefined
            }
            input={() => ({
              hold: answer.hold,
              entries,
              finding: draft.finding,
              reason: draft.reason,
            })}
          />
        ) : undefined
      }
    >
      {isOpen && answer.held.length > 1 ? (
        <p>
          {printNumber(entries.length)} of {printNumber(answer.held.length)} are chosen.{' '}
          <button
            type="button"
            className="link-button"
            onClick={() =>
              change({ left: entries.length > 0 ? answer.held.map(({ entry }) => entry) : [] })
            }
          >
            {entries.length > 0 ? 'Choose none' : 'Choose all'}
          </button>
        </p>
      ) : null}
      {answer.held.length > 0 && !isOpen ? (
        <p className="faint">The chief assayer says of each whether it stands.</p>
      ) : null}
      <Held
        held={answer.held}
        left={draft.left}
        onLeave={isOpen ? (left) => change({ left }) : undefined}
      />
      {isOpen ? (
        <>
          <ChoiceField
            label="Finding"
            value={draft.finding}
            choices={[
              { value: 'stands', label: 'They stand' },
              { value: 'set aside', label: 'Set aside: they count no longer' },
            ]}
            hint="A measurement of blanks is not set aside: measure the blanks again as a correction. A weighing set aside is weighed anew where it was made."
            onChange={(finding) => change({ finding })}
            refusal={command.refusalAt('finding')}
          />
          <TextField
            label="Reason"
            kind="long"
            hint="What was looked at and found."
            value={draft.reason}
            onChange={(reason) => change({ reason })}
            refusal={command.refusalAt('reason')}
          />
        </>
      ) : null}
      <Answered answers={answer.answers} />
    </Page>
  );
}

/** What was done: a run by its name, anything else by what it was. */
const wordsOfUse = ({ what, act, assayRun }: Use): string => {
  if (what === 'run') return `run ${assayRun}`;
  return what === 'titrant factor' ? `titrant factor ${assayRun}` : (act ?? what);
};

function Held(props: {
  readonly held: HoldShown['held'];
  readonly left: readonly number[];
  readonly onLeave: ((left: readonly number[]) => void) | undefined;
}) {
  const { held, left, onLeave } = props;
  if (held.length === 0) return <p>Nothing is in doubt any more.</p>;
  return (
    <Table
      caption="In doubt"
      rows={held}
      keyOf={(row) => String(row.entry)}
      columns={[
        {
          key: 'what',
          title: 'What',
          value: wordsOfUse,
          cell: (row) =>
            onLeave ? (
              <CheckField
                label={wordsOfUse(row)}
                checked={!left.includes(row.entry)}
                onChange={(checked) =>
                  onLeave(checked ? left.filter((one) => one !== row.entry) : [...left, row.entry])
                }
              />
            ) : (
              wordsOfUse(row)
            ),
        },
        {
          key: 'of',
          title: 'Of',
          value: (row) => row.of.id,
          cell: (row) => <ThingLink thing={row.of.thing} id={row.of.id} />,
        },
        {
          key: 'melt',
          title: 'Melt',
          value: (row) => row.melt,
          cell: (row) =>
            row.melt === '' ? (
              ''
            ) : (
              <PathLink to={pathTo('/laboratory/melts/$melt', { melt: row.melt })}>
                {row.melt}
              </PathLink>
            ),
        },
        { key: 'stage', title: 'Melt is', value: (row) => row.stage ?? '' },
        {
          key: 'recorded',
          title: 'Recorded',
          value: (row) => row.instant,
          cell: (row) => (
            <PathLink to={`/journal/${row.entry}`}>{printInstant(row.instant)}</PathLink>
          ),
        },
      ]}
    />
  );
}

function Answered({ answers }: { readonly answers: readonly HoldAnswerRow[] }) {
  if (answers.length === 0) return null;
  return (
    <Part title="Answered">
      <ul className="plain-list">
        {answers.map((row) => (
          <li key={row.entry}>
            <PathLink to={`/journal/${row.entry}`}>Entry {printNumber(row.entry)}</PathLink>{' '}
            {row.finding}, {printInstant(row.instant)}
            <p className="faint">{row.reason}</p>
          </li>
        ))}
      </ul>
    </Part>
  );
}
