import { useState } from 'react';
import {
  Empty,
  Facts,
  Figure,
  Mass,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printInstant,
  State,
  Table,
  TextField,
  useGo,
  useQuestion,
} from '../../../workbench/index.ts';
import type { DeskAnswer, ShownConsignment } from './desk-answer.ts';
import { exactlyOne } from './exactly-one.ts';
import { SeverityShown } from './severity-shown.tsx';

const consignmentPath = (consignment: string): string =>
  pathTo('/receiving/consignments/$consignment', { consignment });

/** The desk of receiving: what has been announced, where each stands, what is next. */
export function ReceivingDesk() {
  const { answer, problem } = useQuestion<DeskAnswer>('receiving-desk');
  if (!answer) {
    return (
      <Page title="Receiving">
        <Pending problem={problem} />
      </Page>
    );
  }
  const open = answer.consignments.filter(({ next }) => next.command !== null);
  const done = answer.consignments.filter(({ next }) => next.command === null);
  return (
    <Page
      title="Receiving"
      about="Consignments of blanks: sealed, weighed, counted, sampled by draw"
      act={
        <div className="main-act">
          <p className="act-message">A delivery begins with its packing list.</p>
          <PathLink to="/receiving/announce" className="act-link">
            Announce a consignment
          </PathLink>
        </div>
      }
    >
      {answer.lying ? <Lying rows={answer.lying} /> : null}
      {open.length > 0 ? <DrumInHand open={open} /> : null}
      <Part
        title="At work"
        aside={
          <>
            <PathLink to="/receiving/differences">differences with suppliers</PathLink>{' '}
            <PathLink to="/receiving/portions">portions</PathLink>
          </>
        }
      >
        {open.length === 0 ? (
          <Empty
            what="No consignment waits for anything here."
            how="One that is announced stands here until the last of its samples is drawn."
          />
        ) : (
          <Consignments caption="Consignments at work" rows={open} />
        )}
      </Part>
      {done.length > 0 ? (
        <Part title="Done here">
          <Consignments caption="Consignments that are done here" rows={done} />
        </Part>
      ) : null}
    </Page>
  );
}

/** What lies here now. */
function Lying({ rows }: { readonly rows: NonNullable<DeskAnswer['lying']> }) {
  const lying = rows.filter(({ pieces }) => pieces > 0);
  const sum = (of: (row: (typeof lying)[number]) => number) =>
    lying.reduce((total, row) => total + of(row), 0);
  return (
    <Facts
      facts={[
        [
          'Pieces lying here',
          <Figure key="pieces" value={sum(({ pieces }) => pieces)} size="result" />,
        ],
        [
          'Gross',
          <Mass
            key="gross"
            micrograms={sum(({ grossMicrograms }) => grossMicrograms)}
            unit="kg"
            size="result"
          />,
        ],
        ['Melts', <Figure key="melts" value={lying.length} size="result" />],
      ]}
    />
  );
}

/** A drum that is scanned at the desk leads to its consignment, with the drum in hand. */
function DrumInHand({ open }: { readonly open: readonly ShownConsignment[] }) {
  const go = useGo();
  const [drum, setDrum] = useState('');
  const known = open.flatMap(({ consignment, drums }) =>
    drums.map((row) => ({ id: row.drum, consignment })),
  );
  const take = (text: string) => {
    setDrum(text);
    const found = exactlyOne(known, text);
    if (!found) return;
    go(`${consignmentPath(found.consignment)}?drum=${encodeURIComponent(found.id)}`);
  };
  const isStrange = drum !== '' && !known.some(({ id }) => id.startsWith(drum));
  return (
    <TextField
      label="Drum in hand"
      kind="code"
      value={drum}
      onChange={take}
      hint="Its consignment opens with the act that comes next."
      refusal={isStrange ? `No drum ${drum} is at work here.` : undefined}
    />
  );
}

function stateOf({ next, drums, inspection }: ShownConsignment) {
  if (next.command === null) return <State word="done" tone="done" />;
  const isStopped = drums.some(({ state }) => state === 'stopped');
  const isDiscontinued = inspection.severity === 'discontinued';
  return (
    <State
      word={isStopped || isDiscontinued ? 'stopped' : 'waits'}
      tone={isStopped || isDiscontinued ? 'stopped' : 'waits'}
    />
  );
}

function Consignments(props: {
  readonly caption: string;
  readonly rows: readonly ShownConsignment[];
}) {
  return (
    <Table
      caption={props.caption}
      rows={props.rows}
      keyOf={(row) => row.consignment}
      columns={[
        {
          key: 'consignment',
          title: 'Consignment',
          value: (row) => row.consignment,
          cell: (row) => (
            <>
              <PathLink to={consignmentPath(row.consignment)}>{row.consignment}</PathLink>
              <br />
              <time className="faint" dateTime={row.announcedAt}>
                {printInstant(row.announcedAt)}
              </time>
            </>
          ),
        },
        {
          key: 'of',
          title: 'Of',
          value: (row) => row.supplierName,
          cell: (row) => (
            <>
              {row.supplierName}
              <br />
              <span className="faint">{row.pieceStandardTitle}</span>
            </>
          ),
        },
        {
          key: 'pieces',
          title: 'Pieces',
          value: (row) => row.pieces,
          decimals: 0,
        },
        {
          key: 'drums',
          title: 'Drums settled',
          value: (row) => row.settledDrums,
          cell: (row) =>
            `${row.settledDrums} of ${row.drums.filter(({ state }) => state !== 'returned').length}`,
          isNumber: true,
        },
        {
          key: 'severity',
          title: 'Inspection',
          value: (row) => row.inspection.severity,
          cell: (row) => <SeverityShown severity={row.inspection.severity} />,
        },
        {
          key: 'next',
          title: 'What is next',
          value: (row) => row.next.words,
          cell: (row) => (
            <>
              {stateOf(row)}
              {row.next.command === null ? null : (
                <>
                  <br />
                  {row.next.words}
                </>
              )}
            </>
          ),
        },
      ]}
    />
  );
}
