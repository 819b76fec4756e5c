import type { ReactNode } from 'react';
import {
  Empty,
  Metal,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printInstant,
  printMicrograms,
  printNumber,
  State,
  Table,
  useMay,
  useNames,
  useQuestion,
} from '../../../workbench/index.ts';
import { type DeskAnswer, type MetalSum, sumsByMetal } from './desk-answer.ts';

/** The strong room: sealed boxes, their certificates, and what has left. */
export function CertificateDesk() {
  const { answer, problem } = useQuestion<DeskAnswer>('certificate-desk');
  if (!answer) {
    return (
      <Page title="Strong room">
        <Pending problem={problem} />
      </Page>
    );
  }
  return (
    <Page
      title="Strong room"
      about="Sealed boxes, what the plant certifies of them, and to whom they go"
    >
      <Boxes answer={answer} />
      <Certificates answer={answer} />
      <Dispatches answer={answer} />
    </Page>
  );
}

const certificatePath = (certificate: string): string =>
  pathTo('/certificate/certificates/$certificate', { certificate });

/** Sums under a column, one for each metal, for those who see the book: whoever counts the room adds up for himself. */
const sumFor = (answer: DeskAnswer, of: (sum: MetalSum) => ReactNode) =>
  answer.seesBook
    ? {
        sum: (rows: readonly DeskAnswer['boxes'][number][]) =>
          sumsByMetal(rows).map((sum) => <div key={sum.metal}>{of(sum)}</div>),
      }
    : {};

function Boxes({ answer }: { readonly answer: DeskAnswer }) {
  const mayIssue = useMay('issue-certificate');
  const mayDispatch = useMay('dispatch-boxes');
  const acts = (
    <>
      {mayIssue ? <PathLink to="/certificate/issue">Issue a certificate</PathLink> : null}{' '}
      {mayDispatch ? <PathLink to="/certificate/dispatch">Dispatch boxes</PathLink> : null}
    </>
  );
  return (
    <Part title="Boxes here" aside={acts}>
      {answer.boxes.length === 0 ? (
        <Empty
          what="No box lies in the strong room."
          how="Boxes come here when put-up seals them."
        />
      ) : (
        <Table
          caption="Boxes in the strong room"
          rows={answer.boxes}
          keyOf={(row) => row.box}
          filter
          columns={[
            {
              key: 'box',
              title: 'Box',
              value: (row) => row.box,
              cell: (row) => (
                <PathLink to={pathTo('/put-up/boxes/$box', { box: row.box })}>{row.box}</PathLink>
              ),
            },
            {
              key: 'title',
              title: 'Pieces of',
              value: (row) => row.title,
              cell: (row) => (
                <>
                  <Metal metal={row.metal} /> {row.title}
                </>
              ),
              ...sumFor(answer, ({ metal }) => <Metal metal={metal} />),
            },
            {
              key: 'pieces',
              title: 'Pieces',
              value: (row) => row.pieces,
              decimals: 0,
              ...sumFor(answer, ({ pieces }) => printNumber(pieces)),
            },
            {
              key: 'fine',
              title: 'Fine',
              unit: 'g',
              value: (row) => row.fineMicrograms / 1e6,
              decimals: 2,
              ...sumFor(answer, ({ fineMicrograms }) => printMicrograms(fineMicrograms, 'g', 2)),
            },
            {
              key: 'certificate',
              title: 'Certificate',
              value: (row) => row.certificate ?? '',
              cell: (row) =>
                row.certificate ? (
                  <PathLink to={certificatePath(row.certificate)}>{row.certificate}</PathLink>
                ) : (
                  <State word="none yet" tone="waits" />
                ),
            },
          ]}
        />
      )}
    </Part>
  );
}

function Certificates({ answer }: { readonly answer: DeskAnswer }) {
  return (
    <Part title="Certificates" aside={<PathLink to="/certificate/verify">Verify a file</PathLink>}>
      {answer.certificates.length === 0 ? (
        <Empty
          what="No certificate has been issued."
          how="The chief assayer issues one over sealed boxes."
        />
      ) : (
        <Table
          caption="Certificates"
          rows={answer.certificates}
          keyOf={(row) => row.certificate}
          columns={[
            {
              key: 'certificate',
              title: 'Certificate',
              value: (row) => row.certificate,
              cell: (row) => (
                <PathLink to={certificatePath(row.certificate)}>{row.certificate}</PathLink>
              ),
            },
            {
              key: 'when',
              title: 'Issued',
              value: (row) => row.instant,
              cell: (row) => printInstant(row.instant),
            },
            {
              key: 'metal',
              title: 'Metal',
              value: (row) => row.metal,
              cell: (row) => <Metal metal={row.metal} />,
            },
            { key: 'boxes', title: 'Boxes', value: (row) => row.boxes.length, decimals: 0 },
            { key: 'pieces', title: 'Pieces', value: (row) => row.pieces, decimals: 0 },
            {
              key: 'fine',
              title: 'Fine',
              unit: 'g',
              value: (row) => row.fineMicrograms / 1e6,
              decimals: 2,
            },
            {
              key: 'state',
              title: 'State',
              value: (row) => row.state,
              cell: (row) => (
                <State word={row.state} tone={row.state === 'valid' ? 'plain' : 'stopped'} />
              ),
            },
          ]}
        />
      )}
    </Part>
  );
}

function Dispatches({ answer }: { readonly answer: DeskAnswer }) {
  const { namesOf } = useNames();
  return (
    <Part title="Dispatched">
      {answer.dispatches.length === 0 ? (
        <Empty what="Nothing has left yet." how="Certified boxes go to approved purchasers only." />
      ) : (
        <Table
          caption="Dispatches"
          rows={answer.dispatches}
          keyOf={(row) => row.dispatch}
          columns={[
            { key: 'dispatch', title: 'Dispatch', value: (row) => row.dispatch },
            {
              key: 'when',
              title: 'When',
              value: (row) => row.instant,
              cell: (row) => printInstant(row.instant),
            },
            { key: 'purchaser', title: 'To', value: (row) => row.purchaserName },
            { key: 'boxes', title: 'Boxes', value: (row) => row.boxes.join(', ') },
            { key: 'pieces', title: 'Pieces', value: (row) => row.pieces, decimals: 0 },
            { key: 'by', title: 'By', value: (row) => namesOf(row.author, row.witness) },
          ]}
        />
      )}
    </Part>
  );
}
