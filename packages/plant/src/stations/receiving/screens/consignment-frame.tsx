import type { ReactNode } from 'react';
import {
  attachmentPath,
  Facts,
  Figure,
  LineageStrip,
  Mass,
  Page,
  Part,
  PathLink,
  pathTo,
  printInstant,
  printNumber,
  State,
  Table,
  ThingLink,
} from '../../../workbench/index.ts';
import { ConsignmentDifferences } from '../difference/screens/consignment-differences.tsx';
import { CountChances, type CountFigures, CountRule } from './count-shown.tsx';
import type { ConsignmentAnswer, DrumInDetail } from './desk-answer.ts';
import { DrumStateShown } from './drum-state.tsx';
import { DrumsTable } from './drums-table.tsx';
import { SeverityHistory } from './severity-history.tsx';
import { SeverityShown } from './severity-shown.tsx';

/** What stands around the act that comes next with a consignment: its figures, drums and samples. */
export function ConsignmentFrame(props: {
  readonly answer: ConsignmentAnswer;
  readonly act?: ReactNode;
  /** The fields of the act that comes next. */
  readonly children?: ReactNode;
  /** True where the hands are at the balance: their figures then stand above those of the whole. */
  readonly isWorkFirst?: boolean;
  /** Acts that may be needed besides. */
  readonly others?: ReactNode;
}) {
  const { answer } = props;
  return (
    <Page
      title={`Consignment ${answer.consignment}`}
      about={`${answer.pieceStandardTitle} from ${answer.supplierName} · ${answer.document}`}
      known={<Known answer={answer} />}
      act={props.act}
    >
      {props.isWorkFirst ? null : <Figures answer={answer} />}
      {props.children}
      {props.isWorkFirst ? <Figures answer={answer} /> : null}
      <DrumsTable drums={answer.drums} />
      <ConsignmentDifferences consignment={answer.consignment} />
      <Samples answer={answer} />
      <SeverityHistory supplier={answer.supplier} pieceStandard={answer.pieceStandard} />
      {props.others}
    </Page>
  );
}

function Figures({ answer }: { readonly answer: ConsignmentAnswer }) {
  const here = answer.drums.filter(({ state }) => state !== 'returned').length;
  return (
    <Facts
      facts={[
        ['Pieces', <Figure key="pieces" value={answer.pieces} size="result" />],
        [
          'Weighed net',
          <Mass key="net" micrograms={answer.netMicrograms} unit="kg" decimals={3} size="result" />,
        ],
        [
          `Drums settled of ${here}`,
          <Figure key="drums" value={answer.settledDrums} size="result" />,
        ],
      ]}
    />
  );
}

function Known({ answer }: { readonly answer: ConsignmentAnswer }) {
  return (
    <>
      <LastWeighed drums={answer.drums} />
      <Facts
        facts={[
          ['Documented', <Figure key="doc" value={answer.piecesDocumented} unit="pieces" />],
          ['Announced', printInstant(answer.announcedAt)],
          ['Supplier', <ThingLink key="supplier" thing="supplier" id={answer.supplier} />],
          [
            'Inspection',
            <PathLink
              key="inspection"
              to={pathTo('/receiving/series/$supplier/$pieceStandard', {
                supplier: answer.supplier,
                pieceStandard: answer.pieceStandard,
              })}
            >
              <SeverityShown severity={answer.inspection.severity} />
            </PathLink>,
          ],
        ]}
      />
      <p>
        <PathLink
          to={pathTo('/receiving/consignments/$consignment/certificate', {
            consignment: answer.consignment,
          })}
        >
          material certificates
        </PathLink>
      </p>
      <ListKept list={answer.packingList} />
      <LineageStrip thing="consignment" id={answer.consignment} />
    </>
  );
}

/** The file by which the consignment was announced, and the lines of it that were not taken. */
function ListKept({ list }: { readonly list: ConsignmentAnswer['packingList'] }) {
  if (!list) return null;
  return (
    <>
      <Facts
        facts={[
          [
            list.kept === 'as sent' ? 'Packing list as sent' : 'Packing list, its cells',
            list.sha256 === null ? (
              list.name
            ) : (
              <a
                key="file"
                className="link"
                href={attachmentPath(list.sha256)}
                download={list.name}
              >
                {list.name}
              </a>
            ),
          ],
          [
            'Taken in',
            <PathLink key="entry" to={`/journal/${list.entry}`}>
              entry {printNumber(list.entry)}
            </PathLink>,
          ],
        ]}
      />
      {list.setAside.map(({ line, reason }) => (
        <p key={line} className="faint">
          Line {line} was set aside: {reason}
        </p>
      ))}
    </>
  );
}

/** The newest count by weight: what became of the drum that was on the balance. */
function LastWeighed({ drums }: { readonly drums: readonly DrumInDetail[] }) {
  const [last] = drums
    .filter(({ count, state }) => count !== null && state !== 'returned')
    .toSorted((a, b) => b.changedAt.localeCompare(a.changedAt));
  if (!last?.count) return null;
  const count = last.count.output as unknown as CountFigures;
  return (
    <div role="status" className="weighed-last">
      <h3>Weighed last</h3>
      <p>
        <ThingLink thing="drum" id={last.drum} /> <DrumStateShown state={last.state} />
      </p>
      <CountRule count={count} netMicrograms={last.netReadingsMicrograms.at(-1) ?? 0} />
      <CountChances count={count} />
    </div>
  );
}

function Samples({ answer }: { readonly answer: ConsignmentAnswer }) {
  if (answer.orders.length === 0) return null;
  return (
    <Part title="Samples">
      <Table
        caption="Sampling orders"
        rows={answer.orders}
        keyOf={(row) => row.melt}
        columns={[
          {
            key: 'melt',
            title: 'Melt',
            value: (row) => row.melt,
            cell: (row) => (
              <PathLink to={pathTo('/receiving/melts/$melt', { melt: row.melt })}>
                {row.melt}
              </PathLink>
            ),
          },
          { key: 'sample', title: 'Blanks', value: (row) => row.samplePieces, decimals: 0 },
          { key: 'assay', title: 'For assay', value: (row) => row.assayPieces, decimals: 0 },
          {
            key: 'physical',
            title: 'For size and mass',
            value: (row) => row.physicalPieces,
            decimals: 0,
          },
          {
            key: 'accept',
            title: 'Accept up to',
            value: (row) => row.acceptanceNumber,
            cell: (row) =>
              row.variablesPieces === null
                ? row.acceptanceNumber
                : `by variables, ${printNumber(row.variablesPieces)} first`,
            isNumber: true,
          },
          { key: 'severity', title: 'Severity', value: (row) => row.severity },
          {
            key: 'drawn',
            title: 'State',
            value: (row) => (row.drawnEntry === null ? 'to be drawn' : 'drawn'),
            cell: (row) =>
              row.drawnEntry === null ? (
                <State word="to be drawn" tone="waits" />
              ) : (
                <State word="drawn" tone="done" />
              ),
          },
        ]}
      />
    </Part>
  );
}
