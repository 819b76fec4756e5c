import type { ReactNode } from 'react';
import {
  Empty,
  Facts,
  LimitRule,
  MainAct,
  Page,
  Part,
  PathLink,
  Pending,
  printInstant,
  type ScreenProps,
  State,
  Table,
  TextField,
  ThingLink,
  useCommand,
  useDraft,
  useQuestion,
} from '../../../workbench/index.ts';
import type { SeriesRow } from '../books.ts';
import { HistoryDrawn, type ShownHistory } from './severity-history.tsx';
import { SeverityShown } from './severity-shown.tsx';

interface SeriesAnswer {
  readonly supplier: string;
  readonly supplierName: string;
  readonly pieceStandard: string;
  readonly pieceStandardTitle: string;
  readonly severity: 'normal' | 'tightened' | 'discontinued';
  readonly reason: string;
  readonly decidedBy: readonly string[];
  readonly rows: readonly SeriesRow[];
  readonly history: ShownHistory | null;
}

/** The lots of one supplier and piece standard, and the severity that they have earned. */
export function SeriesPage({ params }: ScreenProps) {
  const supplier = params['supplier'] ?? '';
  const pieceStandard = params['pieceStandard'] ?? '';
  const asked = { supplier, pieceStandard };
  const { answer, problem } = useQuestion<SeriesAnswer | null>('inspection-series', asked);
  const title = `Inspection of ${pieceStandard} from ${supplier}`;
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
          what="There is no such supplier or piece standard."
          how={<PathLink to="/registers">Look in the registers.</PathLink>}
        />
      </Page>
    );
  }
  return answer.severity === 'discontinued' ? (
    <Discontinued answer={answer} />
  ) : (
    <Series answer={answer} />
  );
}

function Discontinued({ answer }: { readonly answer: SeriesAnswer }) {
  const { supplier, pieceStandard } = answer;
  const [draft, change, clear] = useDraft(`resume inspection ${supplier} ${pieceStandard}`, {
    reason: '',
  });
  const resume = useCommand('resume-inspection', { onRecorded: clear });
  return (
    <Series
      answer={answer}
      act={
        <MainAct
          label="Resume inspection"
          command={resume}
          input={() => ({ supplier, pieceStandard, reason: draft.reason })}
          notYet={draft.reason === '' ? 'Say what the supplier corrected.' : undefined}
        />
      }
    >
      <TextField
        label="What was corrected, and how the plant knows"
        kind="long"
        value={draft.reason}
        onChange={(reason) => change({ reason })}
        refusal={resume.refusalAt('reason')}
      />
    </Series>
  );
}

function Series(props: {
  readonly answer: SeriesAnswer;
  readonly act?: ReactNode;
  readonly children?: ReactNode;
}) {
  const { answer } = props;
  return (
    <Page
      title={`${answer.pieceStandardTitle} from ${answer.supplierName}`}
      about="How severely the next lots are inspected, and which lots earned it"
      act={props.act}
      known={
        <Facts
          facts={[
            ['Supplier', <ThingLink key="supplier" thing="supplier" id={answer.supplier} />],
            [
              'Piece standard',
              <ThingLink key="standard" thing="piece-standard" id={answer.pieceStandard} />,
            ],
            ['Rules', 'MIL-STD-105E, clauses 4.7.1 to 4.8'],
          ]}
        />
      }
    >
      <Part title="Next lots" aside={<SeverityShown severity={answer.severity} />}>
        {answer.history ? <HistoryDrawn history={answer.history} /> : <p>{answer.reason}</p>}
      </Part>
      {props.children}
      <Lots answer={answer} />
    </Page>
  );
}

function Lots({ answer }: { readonly answer: SeriesAnswer }) {
  if (answer.rows.length === 0) {
    return (
      <Empty
        what="No lot of this series has been judged."
        how="A lot is judged when the last blank of its sample has been measured in the laboratory."
      />
    );
  }
  return (
    <Part title="Lots, newest first">
      <Table
        caption="Judged lots"
        rows={answer.rows.toReversed()}
        keyOf={(row) => String(row.entry)}
        isMarked={(row) => answer.decidedBy.includes(row.melt)}
        columns={[
          {
            key: 'melt',
            title: 'Melt',
            value: (row) => row.melt,
            cell: (row) =>
              row.event === 'lot judged' ? (
                <ThingLink thing="melt" id={row.melt} />
              ) : (
                `resumed: ${row.reason}`
              ),
          },
          {
            key: 'instant',
            title: 'Judged',
            value: (row) => row.instant,
            cell: (row) => (
              <PathLink
                to={`/journal/${row.event === 'lot judged' ? row.standingEntry : row.entry}`}
              >
                {printInstant(row.instant)}
              </PathLink>
            ),
          },
          {
            key: 'severity',
            title: 'Inspected',
            value: (row) => (row.event === 'lot judged' ? row.severity : ''),
          },
          {
            key: 'measured',
            title: 'Blanks',
            value: (row) => (row.event === 'lot judged' ? row.blanksMeasured : null),
            decimals: 0,
          },
          {
            key: 'nonconforming',
            title: 'At fault',
            value: (row) => (row.event === 'lot judged' ? row.blanksNonconforming : null),
            cell: (row) =>
              row.event === 'lot judged' ? (
                <LimitRule
                  value={row.blanksNonconforming}
                  upperLimit={row.acceptanceNumber}
                  unit="blanks"
                  decimals={0}
                  words={`${row.blanksNonconforming}, accept up to ${row.acceptanceNumber}`}
                  size="row"
                />
              ) : (
                ''
              ),
          },
          {
            key: 'outcome',
            title: 'Lot',
            value: (row) => (row.event === 'lot judged' ? row.outcome : ''),
            cell: (row) =>
              row.event === 'lot judged' ? (
                <State word={row.outcome} tone={row.outcome === 'accepted' ? 'plain' : 'look'} />
              ) : (
                ''
              ),
          },
        ]}
      />
    </Part>
  );
}
