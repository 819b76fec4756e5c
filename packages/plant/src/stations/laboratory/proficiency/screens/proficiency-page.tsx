import {
  Drawings,
  Empty,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printNumber,
  State,
  Table,
  useQuestion,
} from '../../../../workbench/index.ts';
import type { HistoryAnswer, RoundLine } from './round-answer.ts';

/** How the laboratory stands among others: the rounds it took part in, and their history. */
export function ProficiencyPage() {
  const { answer, problem } = useQuestion<readonly HistoryAnswer[]>('proficiency-rounds');
  return (
    <Page
      title="Laboratory comparisons"
      about="How the own results stand among those of others"
      known={<PathLink to="/laboratory/proficiency/record">Record a round</PathLink>}
    >
      {answer ? <Histories answer={answer} /> : <Pending problem={problem} />}
    </Page>
  );
}

function Histories({ answer }: { readonly answer: readonly HistoryAnswer[] }) {
  if (answer.length === 0) {
    return (
      <Empty
        what="Here stand the rounds of comparisons of laboratories, each judged, and their history."
        how={<PathLink to="/laboratory/proficiency/record">Record the first round.</PathLink>}
      />
    );
  }
  return answer.map((history) => <History key={history.characteristic} history={history} />);
}

const printScore = (score: number | null) => (score === null ? '–' : printNumber(score, 2));

function RoundState({ line }: { readonly line: RoundLine }) {
  if (line.open.length > 0) {
    return (
      <p className="still-missing">
        <State word={line.open.join('; ')} tone="look" />
      </p>
    );
  }
  return <>{line.finding ? `answered: ${line.finding}` : line.verdict}</>;
}

function History({ history }: { readonly history: HistoryAnswer }) {
  const { rounds } = history;
  return (
    <Part title={history.characteristic}>
      <Drawings drawings={history.drawings} />
      <p>{history.words}</p>
      <Table
        caption={`Rounds of ${history.characteristic}`}
        rows={rounds.toReversed()}
        keyOf={(row) => row.round}
        isMarked={(row) => row.open.length > 0}
        columns={[
          {
            key: 'round',
            title: 'Round',
            value: (row) => row.round,
            cell: (row) => (
              <PathLink to={pathTo('/laboratory/proficiency/$round', { round: row.round })}>
                {row.round}
              </PathLink>
            ),
          },
          { key: 'scheme', title: 'Scheme', value: (row) => row.scheme },
          { key: 'day', title: 'Day', value: (row) => row.day },
          { key: 'z', title: 'Score', value: (row) => row.score, decimals: 2 },
          {
            key: 'zeta',
            title: 'ζ',
            value: (row) => row.zeta ?? undefined,
            cell: (row) => printScore(row.zeta),
            isNumber: true,
          },
          {
            key: 'en',
            title: 'En',
            value: (row) => row.en ?? undefined,
            cell: (row) => printScore(row.en),
            isNumber: true,
          },
          {
            key: 'state',
            title: 'Verdict',
            value: (row) => row.verdict,
            cell: (row) => <RoundState line={row} />,
          },
        ]}
      />
    </Part>
  );
}
