import {
  Empty,
  Page,
  Part,
  PathLink,
  Pending,
  PeopleNamed,
  pathTo,
  printInstant,
  printNumber,
  type ScreenProps,
  State,
  Table,
  useQuestion,
} from '../../../../workbench/index.ts';

/** A hold as the question `holds` answers it, the newest first. */
interface HoldLine {
  readonly hold: string;
  readonly words: string;
  readonly since: string;
  /** Results and weighings that wait for an answer. */
  readonly inDoubt: number;
  /** The same in words: `2 runs and 4 weighings`. */
  readonly doubt: string;
  readonly answered: number;
  readonly newestAnswer: {
    readonly entry: number;
    readonly instant: string;
    readonly author: string;
  } | null;
}

/** Every condemned lot, failed check and wrong calibration, with what each still keeps in doubt. */
export function HoldsPage(_props: ScreenProps) {
  const { answer, problem } = useQuestion<readonly HoldLine[]>('holds');
  const title = 'Results in doubt';
  if (!answer) {
    return (
      <Page title={title}>
        <Pending problem={problem} />
      </Page>
    );
  }
  const open = answer.filter(({ inDoubt }) => inDoubt > 0);
  const others = answer.filter(({ inDoubt }) => inDoubt === 0);
  return (
    <Page
      title={title}
      about="What a condemned lot, a failed check or a wrong calibration holds; the chief assayer answers"
    >
      <Part title="Open">
        {open.length === 0 ? (
          <Empty
            what="Nothing is in doubt."
            how="A hold comes here by itself when a lot is condemned or an instrument fails its check."
          />
        ) : (
          <OpenHolds rows={open} />
        )}
      </Part>
      {others.length > 0 ? (
        <Part title="Answered, or holding nothing">
          <AnsweredHolds rows={others} />
        </Part>
      ) : null}
    </Page>
  );
}

const why = {
  key: 'why',
  title: 'Why',
  value: (row: HoldLine) => row.words,
  cell: (row: HoldLine) => (
    <PathLink to={pathTo('/laboratory/holds/$hold', { hold: row.hold })}>{row.words}</PathLink>
  ),
};

const since = {
  key: 'since',
  title: 'Since',
  value: (row: HoldLine) => row.since,
  cell: (row: HoldLine) => printInstant(row.since),
};

function OpenHolds({ rows }: { readonly rows: readonly HoldLine[] }) {
  return (
    <Table
      caption="Open holds, newest first"
      rows={rows}
      keyOf={(row) => row.hold}
      columns={[
        why,
        since,
        {
          key: 'doubt',
          title: 'In doubt',
          value: (row) => row.inDoubt,
          cell: (row) => <State word={row.doubt} tone="stopped" />,
        },
        { key: 'answered', title: 'Answered', value: (row) => row.answered, isNumber: true },
      ]}
    />
  );
}

function AnsweredHolds({ rows }: { readonly rows: readonly HoldLine[] }) {
  return (
    <Table
      caption="Holds that keep nothing in doubt, newest first"
      rows={rows}
      keyOf={(row) => row.hold}
      columns={[
        why,
        since,
        { key: 'answered', title: 'Answered', value: (row) => row.answered, isNumber: true },
        {
          key: 'by',
          title: 'Last answer',
          value: (row) => row.newestAnswer?.instant ?? '',
          cell: ({ newestAnswer }) =>
            newestAnswer ? (
              <>
                <PathLink to={`/journal/${newestAnswer.entry}`}>
                  Entry {printNumber(newestAnswer.entry)}
                </PathLink>
                , <PeopleNamed author={newestAnswer.author} />, {printInstant(newestAnswer.instant)}
              </>
            ) : (
              'none; it held nothing'
            ),
        },
      ]}
    />
  );
}
