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

interface HoldShown {
  readonly hold: string;
  readonly thing: UseRow['thing'];
  readonly id: string;
  readonly words: string;
  readonly since: string;
  readonly held: readonly (UseRow & { readonly stage: string | null })[];
  readonly answers: readonly HoldAnswerRow[];
}

/** What a condemned lot or a failed check puts in doubt, and the chief assayer's word on it. */
export function HoldPage({ params }: ScreenProps) {
  const hold = params['hold'] ?? '';
  const { answer, problem } = useQuestion<HoldShown | null>('results-hold', { hold });
  if (!answer) {
    return (
      <Page title="Runs in doubt">
        {answer === null ? (
          <Empty what={`There is no hold ${hold}.`} how="The docket names every hold." />
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
  readonly finding: 'stands' | 'set aside';
  readonly reason: string;
}

function OneHold({ answer }: { readonly answer: HoldShown }) {
  const [draft, change, clear] = useDraft<AnswerDraft>(
    `answer-hold ${answer.hold} ${answer.answers.length}`,
    { left: [], finding: 'stands', reason: '' },
  );
  const command = useCommand('answer-hold', { onRecorded: clear });
  const entries = answer.held.map((one) => one.entry).filter((one) => !draft.left.includes(one));
  const isOpen = answer.held.length > 0 && command.description?.allowed;
  return (
    <Page
      title="Runs in doubt"
      about={<State word={answer.words} tone={answer.held.length > 0 ? 'stopped' : 'plain'} />}
      known={
        <Facts
          facts={[
            ['Cause', <ThingLink key="cause" thing={answer.thing} id={answer.id} />],
            ['Since', printInstant(answer.since)],
            ['Still in doubt', printNumber(answer.held.length)],
          ]}
        />
      }
      act={
        isOpen ? (
          <MainAct
            label={draft.finding === 'stands' ? 'State that they stand' : 'Set runs aside'}
            command={command}
            notYet={entries.length === 0 ? 'Choose at least one run.' : undefined}
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
              { value: 'set aside', label: 'Set aside: the runs count no longer' },
            ]}
            hint="A measurement of blanks is not set aside: measure the blanks again as a correction."
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
          title: 'Run or measurement',
          value: (row) => row.assayRun ?? 'blanks measured',
          cell: (row) =>
            onLeave ? (
              <CheckField
                label={row.assayRun ?? 'blanks measured'}
                checked={!left.includes(row.entry)}
                onChange={(checked) =>
                  onLeave(checked ? left.filter((one) => one !== row.entry) : [...left, row.entry])
                }
              />
            ) : (
              (row.assayRun ?? 'blanks measured')
            ),
        },
        {
          key: 'melt',
          title: 'Melt',
          value: (row) => row.melt,
          cell: (row) => (
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
