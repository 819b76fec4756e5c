import {
  Empty,
  Mass,
  Page,
  Part,
  PathLink,
  Pending,
  pathTo,
  printInstant,
  printNumber,
  State,
  useQuestion,
} from '../../../workbench/index.ts';
import type { DeskAnswer, ShownConsignment } from './desk-answer.ts';

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
    >
      <Part
        title="At work"
        aside={<PathLink to="/receiving/announce">Announce a consignment</PathLink>}
      >
        {open.length === 0 ? (
          <Empty
            what="No consignment waits for anything here."
            how={
              <PathLink to="/receiving/announce">A new one begins with its packing list.</PathLink>
            }
          />
        ) : (
          <ul className="plain-list">
            {open.map((row) => (
              <Consignment key={row.consignment} row={row} />
            ))}
          </ul>
        )}
      </Part>
      {done.length > 0 ? (
        <Part title="Done here">
          <ul className="plain-list">
            {done.map((row) => (
              <Consignment key={row.consignment} row={row} />
            ))}
          </ul>
        </Part>
      ) : null}
    </Page>
  );
}

function Consignment({ row }: { readonly row: ShownConsignment }) {
  const isDone = row.next.command === null;
  const isStopped = row.drums.some(({ state }) => state === 'stopped');
  return (
    <li>
      <PathLink to={consignmentPath(row.consignment)}>Consignment {row.consignment}</PathLink>{' '}
      {isDone ? null : <State word={row.next.words} tone={isStopped ? 'stopped' : 'waits'} />}
      <p>
        {printNumber(row.pieces)} blanks for {row.pieceStandardTitle} from {row.supplierName},{' '}
        <Mass micrograms={row.netMicrograms} unit="kg" />
      </p>
      <p className="faint">
        {row.document}, announced {printInstant(row.announcedAt)}; {row.settledDrums} of{' '}
        {row.drums.length} drums settled; melts {row.melts.map(({ melt }) => melt).join(', ')}
      </p>
    </li>
  );
}
