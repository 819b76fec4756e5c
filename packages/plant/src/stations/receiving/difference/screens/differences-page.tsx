import {
  Empty,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printAge,
  Table,
  useQuestion,
} from '../../../../workbench/index.ts';
import type { DifferencesAnswer, ShownDifference } from './answer-shapes.ts';
import { DifferenceState } from './difference-state.tsx';
import { plus } from './signed.ts';

const raisePath = (consignment: string): string =>
  pathTo('/receiving/consignments/$consignment/difference', { consignment });

/** Every difference with a supplier: open ones first, then the documents. */
export function DifferencesPage() {
  const { answer, problem } = useQuestion<DifferencesAnswer>('supplier-differences');
  const title = 'Differences with suppliers';
  if (!answer) {
    return (
      <Page title={title}>
        <Pending problem={problem} />
      </Page>
    );
  }
  const [first] = answer.open.filter(({ isReady }) => isReady);
  return (
    <Page
      title={title}
      about="What was found against what was announced, until both sides agree"
      act={
        first ? (
          <div className="main-act">
            <p className="act-message">Open since {printAge(first.since)}.</p>
            <PathLink to={raisePath(first.consignment)} className="act-link">
              Raise the difference of {first.consignment}
            </PathLink>
          </div>
        ) : undefined
      }
    >
      <Part title="Not raised yet">
        {answer.open.length === 0 ? (
          <Empty
            what="Everything that came is as announced, or was raised."
            how="A drum with another count, mass or seal, and a melt that is refused, stands here by itself."
          />
        ) : (
          <OpenTable open={answer.open} />
        )}
      </Part>
      {answer.documents.length > 0 ? (
        <Part title="Raised">
          <DocumentsTable documents={answer.documents} />
        </Part>
      ) : null}
    </Page>
  );
}

function OpenTable({ open }: { readonly open: DifferencesAnswer['open'] }) {
  type Row = (typeof open)[number];
  const pieces = (row: Row) => row.lines.reduce((sum, line) => sum + line.differencePieces, 0);
  const grams = (row: Row) =>
    row.lines.reduce((sum, line) => sum + (line.differenceMicrograms ?? 0), 0) / 1e6;
  return (
    <Table
      caption="Differences that stand in no document"
      rows={open}
      keyOf={(row) => row.consignment}
      columns={[
        {
          key: 'consignment',
          title: 'Consignment',
          value: (row) => row.consignment,
          cell: (row) => <PathLink to={raisePath(row.consignment)}>{row.consignment}</PathLink>,
        },
        { key: 'supplier', title: 'Of', value: (row) => row.supplierName },
        { key: 'lines', title: 'Drums, melts', value: (row) => row.lines.length, decimals: 0 },
        {
          key: 'pieces',
          title: 'Pieces',
          value: pieces,
          cell: (row) => plus(pieces(row), 0),
          isNumber: true,
        },
        {
          key: 'grams',
          title: 'Net',
          unit: 'g',
          value: grams,
          cell: (row) => plus(grams(row), 1),
          isNumber: true,
        },
        {
          key: 'since',
          title: 'Open since',
          value: (row) => row.since,
          cell: (row) => (
            <>
              {printAge(row.since)}
              {row.isReady ? null : <span className="faint"> drums still to be settled</span>}
            </>
          ),
        },
      ]}
    />
  );
}

/** Documents with their state; what was agreed stands beside what was claimed. */
export function DocumentsTable({ documents }: { readonly documents: readonly ShownDifference[] }) {
  return (
    <Table
      caption="Differences that were raised"
      rows={documents}
      keyOf={(row) => row.difference}
      columns={[
        {
          key: 'difference',
          title: 'Difference',
          value: (row) => row.difference,
          cell: (row) => (
            <PathLink
              to={pathTo('/receiving/differences/$difference', { difference: row.difference })}
            >
              {row.difference}
            </PathLink>
          ),
        },
        { key: 'consignment', title: 'Consignment', value: (row) => row.consignment },
        { key: 'supplier', title: 'Of', value: (row) => row.supplierName },
        {
          key: 'pieces',
          title: 'Pieces',
          value: (row) => row.differencePieces,
          cell: (row) => plus(row.differencePieces, 0),
          isNumber: true,
        },
        {
          key: 'grams',
          title: 'Net',
          unit: 'g',
          value: (row) => row.differenceMicrograms,
          cell: (row) => plus(row.differenceMicrograms / 1e6, 1),
          isNumber: true,
        },
        {
          key: 'state',
          title: 'State',
          value: (row) => row.state,
          cell: (row) => <DifferenceState state={row.state} isOverdue={row.isOverdue} />,
        },
        {
          key: 'since',
          title: 'For',
          value: (row) => row.since,
          cell: (row) => (row.state === 'settled' ? '' : printAge(row.since)),
        },
        {
          key: 'agreed',
          title: 'Agreed',
          value: (row) => row.agreedPieces,
          cell: (row) =>
            row.agreedPieces === null
              ? row.state === 'raised'
                ? `due ${row.answerDue}`
                : (row.answer ?? '')
              : `${plus(row.agreedPieces, 0)} pcs, ${plus((row.agreedMicrograms ?? 0) / 1e6, 1)} g`,
        },
      ]}
    />
  );
}
