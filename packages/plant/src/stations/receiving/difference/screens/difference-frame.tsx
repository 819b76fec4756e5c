import type { ReactNode } from 'react';
import {
  attachmentPath,
  Facts,
  Figure,
  LineageStrip,
  Page,
  PaperLink,
  Part,
  PathLink,
  pathTo,
  printInstant,
  printNumber,
  ThingLink,
} from '../../../../workbench/index.ts';
import type { DifferenceAnswer } from './answer-shapes.ts';
import { DifferenceState } from './difference-state.tsx';
import { DifferenceLines } from './lines-table.tsx';
import { plus } from './signed.ts';

/** What stands around the act that comes next with a difference. */
export function DifferenceFrame(props: {
  readonly answer: DifferenceAnswer;
  readonly act?: ReactNode;
  readonly children?: ReactNode;
}) {
  const { answer } = props;
  return (
    <Page
      title={`Difference ${answer.difference}`}
      about={
        <>
          {answer.supplierName} · {answer.document}{' '}
          <DifferenceState state={answer.state} isOverdue={answer.isOverdue} />
        </>
      }
      known={<Known answer={answer} />}
      act={props.act}
    >
      <Facts
        facts={[
          [
            'Pieces',
            <Figure key="pieces" value={answer.differencePieces} unit="pieces" size="result" />,
          ],
          [
            'Net',
            <Figure
              key="net"
              value={answer.differenceMicrograms / 1e6}
              unit="g"
              decimals={1}
              size="result"
            />,
          ],
          ['Answer due', answer.answerDue],
        ]}
      />
      <p>{answer.words}</p>
      <p>
        <PaperLink paper="supplier-difference" id={answer.difference}>
          Print for the supplier
        </PaperLink>
      </p>
      {props.children}
      <Part title="Announced and found">
        <DifferenceLines caption="What was raised" lines={answer.lines} />
      </Part>
      <Answers answer={answer} />
      <Settlement answer={answer} />
    </Page>
  );
}

function Known({ answer }: { readonly answer: DifferenceAnswer }) {
  const nameOf = (person: string) => answer.names[person] ?? person;
  return (
    <>
      <Facts
        facts={[
          ['Raised', printInstant(answer.raisedAt)],
          ['By', `${nameOf(answer.author)} with ${nameOf(answer.witness)}`],
          [
            'Consignment',
            <PathLink
              key="consignment"
              to={pathTo('/receiving/consignments/$consignment', {
                consignment: answer.consignment,
              })}
            >
              {answer.consignment}
            </PathLink>,
          ],
          ['Supplier', <ThingLink key="supplier" thing="supplier" id={answer.supplier} />],
          [
            'Entry',
            <PathLink key="entry" to={`/journal/${answer.entry}`}>
              {printNumber(answer.entry)}
            </PathLink>,
          ],
        ]}
      />
      <LineageStrip thing="supplier-difference" id={answer.difference} />
    </>
  );
}

function Answers({ answer }: { readonly answer: DifferenceAnswer }) {
  if (answer.answers.length === 0) return null;
  return (
    <Part title="What the supplier answered">
      <ul className="plain-list">
        {answer.answers.map((one) => (
          <li key={one.entry}>
            {one.answer}, {printInstant(one.instant)}:{' '}
            {one.file ? (
              <a className="link" href={attachmentPath(one.file.sha256)} download={one.file.name}>
                {one.document}
              </a>
            ) : (
              one.document
            )}
            <p>{one.words}</p>
          </li>
        ))}
      </ul>
    </Part>
  );
}

function Settlement({ answer }: { readonly answer: DifferenceAnswer }) {
  const { settlement } = answer;
  if (!settlement) return null;
  const nameOf = (person: string) => answer.names[person] ?? person;
  return (
    <Part title="Settled">
      <p>
        {plus(settlement.agreedPieces, 0)} pieces, {plus(settlement.agreedMicrograms / 1e6, 1)} g,{' '}
        {settlement.document}, {printInstant(settlement.instant)}, by {nameOf(settlement.author)}{' '}
        with {nameOf(settlement.witness)}. {settlement.words}
      </p>
      <ul className="plain-list">
        {settlement.lines.map((line) => (
          <li key={`${line.thing} ${line.id}`}>
            {line.thing} {line.id}: {line.how}, {plus(line.agreedPieces, 0)} pieces,{' '}
            {plus(line.agreedMicrograms / 1e6, 1)} g
          </li>
        ))}
      </ul>
    </Part>
  );
}
